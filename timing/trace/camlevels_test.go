package trace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// speeding is a clock whose speed rises and falls by a share, twice in a turn and slower
// altogether in the beginning.
func speeding(seconds, share float64) clock {
	k := clock{}
	angle := 0.0
	for t := 0.0; t < seconds; t += 1e-3 {
		speed := 1100 * (1 + share*math.Sin(2*angle*math.Pi/180)) * (1 - share*math.Exp(-t))
		k.t, k.angle, k.slope = append(k.t, t), append(k.angle, angle), append(k.slope, speed)
		angle += speed * 1e-3
	}
	return k
}

// timeAt is when a clock passes an angle.
func (k clock) timeAt(angle float64) float64 {
	i := 1
	for i < len(k.angle)-1 && k.angle[i] < angle {
		i++
	}
	return k.t[i-1] + (angle-k.angle[i-1])/(k.angle[i]-k.angle[i-1])*(k.t[i]-k.t[i-1])
}

// Levels as wide as their tooth at any speed are a Hall sensor's; ones that begin where a
// bell-shaped pulse passes a fixed voltage, which is earlier at speed, are not. Where the speed
// is always the same, nothing tells.
func TestLevelsAndTheSpeed(t *testing.T) {
	for _, c := range []struct {
		name         string
		share, bell  float64
		most, leastO float64
	}{{"hall", 0.2, 0, mostWidens, 2}, {"comparator", 0.2, 3, -2, -2 * mostWidens}, {"steady", 0.001, 0, 0.1, -0.1}} {
		dice := rand.New(rand.NewPCG(4, 4))
		k := speeding(6, c.share)
		var begins, ends []float64
		for turn := 100.0; turn < k.angle[len(k.angle)-1]-60; turn += 240 {
			speed := 0.0
			if a, ok := k.at(k.timeAt(turn) + 1e-3); ok {
				b, _ := k.at(k.timeAt(turn) - 1e-3)
				speed = (a - b) / 2e-3 / 1100
			}
			width := 9.0
			if c.bell > 0 { // the derivative of a bell: V = speed*x*exp(-x²/2), at a twentieth of its height at the usual speed
				x := 3.5
				for range 50 {
					x = math.Sqrt(2 * math.Log(20*speed*x))
				}
				width = c.bell * x
			}
			begins, ends = append(begins, k.timeAt(turn-width)+2e-6*dice.NormFloat64()), append(ends, k.timeAt(turn)+2e-6*dice.NormFloat64())
		}
		if odds := levelOdds(k, begins, ends, 720); odds > c.most || odds < c.leastO {
			t.Errorf("%s: odds %.2f of %d levels", c.name, odds, len(begins))
		}
	}
}
