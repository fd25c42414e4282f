package simulate

import "math"

// Edges are when the teeth of a crank wheel pass, without the samples of a recording:
// what a reader that makes no mistake would find. They cost a hundredth of samples, so
// that many engines can be tried.
type Edges struct {
	Jitter  float64 // seconds, standard deviation of one passing
	Quantum float64 // seconds; passings are rounded down to multiples of it: 0 none
	Bent    int     // position of a bent tooth; 0: none
	BentBy  float64 // degrees in the direction of rotation
	Oval    float64 // degrees by which teeth are out of place twice a turn
}

// Pass returns when each tooth passes and its place: position less 1, and the wheel's
// positions more with every turn.
func (g Edges) Pass(c Course, w Wheels, noise func() float64) (seconds []float64, place []int) {
	gone := map[int]bool{}
	for _, m := range w.Missing {
		gone[m] = true
	}
	n := w.Positions
	out := make([]float64, n)
	for p := range n {
		turn := 2 * math.Pi * float64(p) / float64(n)
		out[p] = w.RunOut*math.Sin(turn) + g.Oval*math.Cos(2*turn) + w.ToothError*noise()
		if p+1 == g.Bent {
			out[p] -= g.BentBy
		}
	}
	at := func(k int) float64 { // radians at which the tooth at a place passes
		p := ((k % n) + n) % n
		return (-w.CrankFirst + float64(k)*360/float64(n) - w.Delta + out[p]) * math.Pi / 180
	}
	k := int(math.Floor((c.Theta[0]*180/math.Pi+w.CrankFirst+w.Delta)*float64(n)/360)) - 1
	for at(k) < c.Theta[0] {
		k++
	}
	for i := 0; i+1 < len(c.Theta); i++ {
		for c.Theta[i+1] > c.Theta[i] && at(k) <= c.Theta[i+1] {
			if !gone[((k%n)+n)%n+1] {
				t := (float64(i) + (at(k)-c.Theta[i])/(c.Theta[i+1]-c.Theta[i])) * c.Step
				t += g.Jitter * noise()
				if g.Quantum > 0 {
					t = math.Floor(t/g.Quantum) * g.Quantum
				}
				if len(seconds) == 0 || t > seconds[len(seconds)-1] {
					seconds, place = append(seconds, t), append(place, k)
				}
			}
			k++
		}
	}
	return seconds, place
}
