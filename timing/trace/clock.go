package trace

import (
	"math"
	"sort"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/follow"
	"pinphase.org/pinphase/timing/wheel"
)

// Run is a stretch of a recording over which every tooth is known.
type Run = follow.Run

// Slip is a tooth that was lost, or an edge too many.
type Slip = follow.Slip

// clock gives the controller's angle at any time of a run.
type clock struct {
	t     []float64
	angle []float64 // degrees, rising
	slope []float64 // degrees per second at each tooth
}

// clockOf returns the clock of a run: tooth by tooth as the wheel says, between
// teeth along a cubic whose slope at each tooth is that of the parabola through it
// and its neighbours. A straight line would be wrong by half a degree in a gap
// where the speed changes by a sixth.
func clockOf(r Run, c wheel.Crank) clock {
	k := clock{t: r.Time, angle: make([]float64, len(r.At)), slope: make([]float64, len(r.At))}
	for i, at := range r.At {
		k.angle[i] = float64(-c.FirstToothBTDC) + float64(timing.Turn)*float64(at)/float64(c.Positions)
	}
	n := len(k.t)
	speed := func(i int) float64 { return (k.angle[i+1] - k.angle[i]) / (k.t[i+1] - k.t[i]) }
	for i := range k.slope {
		switch {
		case i == 0:
			k.slope[i] = speed(0)
		case i == n-1:
			k.slope[i] = speed(n - 2)
		default:
			before, after := k.t[i]-k.t[i-1], k.t[i+1]-k.t[i]
			k.slope[i] = (speed(i-1)*after + speed(i)*before) / (before + after)
		}
	}
	return k
}

// at returns the controller's angle at a time, and false outside the run.
func (k clock) at(t float64) (angle float64, ok bool) {
	n := len(k.t)
	if n < 2 || !(t >= k.t[0] && t <= k.t[n-1]) { // nor at a time that is not known
		return math.NaN(), false
	}
	i := min(max(sort.SearchFloat64s(k.t, t)-1, 0), n-2)
	h := k.t[i+1] - k.t[i]
	x := (t - k.t[i]) / h
	y := 1 - x
	// Cubic Hermite form.
	return k.angle[i]*y*y*(1+2*x) + k.angle[i+1]*x*x*(3-2*x) + h*x*y*(k.slope[i]*y-k.slope[i+1]*x), true
}

// doubt is how far the angle between teeth is uncertain, as a root mean square in
// degrees: halfway between teeth, by what the cubic of the four teeth round it says
// otherwise. Of a wheel with few teeth it is degrees.
func (k clock) doubt() float64 {
	sum, n := 0.0, 0.0
	for i := 1; i+2 < len(k.t); i++ {
		t := (k.t[i] + k.t[i+1]) / 2
		angle, _ := k.at(t)
		other := 0.0
		for a := i - 1; a <= i+2; a++ { // Lagrange's form
			weight := 1.0
			for b := i - 1; b <= i+2; b++ {
				if b != a {
					weight *= (t - k.t[b]) / (k.t[a] - k.t[b])
				}
			}
			other += weight * k.angle[a]
		}
		sum += square(angle - other)
		n++
	}
	return math.Sqrt(sum / max(n, 1))
}

func square(x float64) float64 { return x * x }
