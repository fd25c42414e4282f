package piston

import (
	"math"
	"sort"

	"pinphase.org/pinphase/timing"
)

// Integral is how far ignition has come along a path, for every start of
// injection at once. Fuel injected at one angle lights where the sum of dt/delay
// since then reaches 1 (Livengood and Wu 1955); with the sum taken once from
// closing on, every start is a difference of two values in a table.
type Integral struct {
	from, to timing.Deg
	step     float64   // degrees between entries
	sum      []float64 // from closing up to each entry; never falls
	slope    []float64 // per degree, at each entry
}

// Integral adds a correlation up along the path. r.RPM must be above 0.
func (p Path) Integral(c Correlation, r Running) Integral {
	cells := (len(p.at) - 1) / 2
	t := Integral{
		from: p.at[0], to: p.at[len(p.at)-1],
		step:  2 * float64(p.at[1]-p.at[0]),
		sum:   make([]float64, cells+1),
		slope: make([]float64, cells+1),
	}
	lnBar, n := math.Log(p.charge.AtClosing.Bar), p.charge.Exponent
	steady := c.logPerDeg(r)
	rate := func(i int) float64 {
		return math.Exp(steady - c.state(math.Exp(-(n-1)*p.ln[i])/p.charge.AtClosing.K, lnBar+n*p.ln[i], r))
	}
	t.slope[0] = rate(0)
	for k := range cells {
		t.slope[k+1] = rate(2*k + 2)
		// Simpson's rule over the cell.
		t.sum[k+1] = t.sum[k] + t.step/6*(t.slope[k]+4*rate(2*k+1)+t.slope[k+1])
	}
	return t
}

// upTo is the sum from closing to an angle: a cubic through the entries on both
// sides and their slopes.
func (t Integral) upTo(alpha timing.Deg) float64 {
	x := float64(min(max(alpha, t.from), t.to)-t.from) / t.step
	k := min(int(x), len(t.sum)-2)
	return t.inCell(k, x-float64(k))
}

// inCell is the sum at part u of cell k.
func (t Integral) inCell(k int, u float64) float64 {
	a, b := t.sum[k], t.sum[k+1]
	da, db := t.slope[k]*t.step, t.slope[k+1]*t.step
	v := a + u*(da+u*(3*(b-a)-2*da-db+u*(2*(a-b)+da+db)))
	return min(max(v, a), b)
}

// where is the first angle at which the sum has come to a value, and false
// when it never does.
func (t Integral) where(sum float64) (timing.Deg, bool) {
	last := len(t.sum) - 1
	if !(sum <= t.sum[last]) {
		return 0, false
	}
	k := max(sort.SearchFloat64s(t.sum, sum)-1, 0)
	lo, hi := 0.0, 1.0
	for range 40 {
		if mid := (lo + hi) / 2; t.inCell(k, mid) < sum {
			lo = mid
		} else {
			hi = mid
		}
	}
	return t.from + timing.Deg((float64(k)+hi)*t.step), true
}

// Reached returns what the integral comes to from a start of injection to the
// opening of the exhaust; fuel lights when it is 1 or more. An injection before
// the cylinder closes counts from closing, one after it opens gives 0.
func (t Integral) Reached(start timing.Deg) float64 {
	return t.upTo(t.to) - t.upTo(start)
}

// Lights returns the angle at which fuel injected at start lights, and false
// when it does not before the exhaust opens.
func (t Integral) Lights(start timing.Deg) (timing.Deg, bool) {
	if start >= t.to {
		return 0, false
	}
	return t.where(t.upTo(start) + 1)
}

// Latest returns the latest start of injection that still lights, and false
// when none does.
func (t Integral) Latest() (timing.Deg, bool) {
	sum := t.upTo(t.to) - 1
	if sum < 0 {
		return 0, false
	}
	return t.lastWhere(sum)
}

// LightsBefore returns the latest start of injection whose fuel lights at or
// before an angle, and false when none does: any earlier start lights earlier
// still.
func (t Integral) LightsBefore(alpha timing.Deg) (timing.Deg, bool) {
	sum := t.upTo(alpha) - 1
	if sum < 0 {
		return 0, false
	}
	return t.lastWhere(sum)
}

// lastWhere is the last angle up to which the sum is no more than a value: where
// nothing is added for a while (a correlation that has no value in cold gas) it
// is the end of that stretch.
func (t Integral) lastWhere(sum float64) (timing.Deg, bool) {
	k := sort.Search(len(t.sum), func(i int) bool { return t.sum[i] > sum }) - 1
	if k < 0 {
		return 0, false
	}
	if k >= len(t.sum)-1 {
		return t.to, true
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		if mid := (lo + hi) / 2; t.inCell(k, mid) <= sum {
			lo = mid
		} else {
			hi = mid
		}
	}
	return t.from + timing.Deg((float64(k)+lo)*t.step), true
}
