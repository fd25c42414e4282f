package ripple

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// Input is what a fit is made of.
type Input struct {
	Engine Engine
	Wheel  wheel.Crank
	Runs   []Run      // their turns within the cycle known where that makes a difference to the firing pattern
	Modulo timing.Deg // the way after which the firing pattern comes again

	// Current is the starter's at a time, in any unit; nil where it is not known.
	Current func(seconds float64) float64
}

// Run is a stretch over which every tooth is known.
type Run struct {
	Time  []float64 // of each tooth, seconds, rising
	Place []int     // its place, rising; modulo the wheel's positions it is the position less 1
	Ahead float64   // degrees by which its angles are moved, so that they are those of the cycle
}

// Result is what the speed ripple comes to.
type Result struct {
	TDC    timing.Measured // the controller's angle at true top dead centre, in (-Modulo/2, Modulo/2]
	Modulo timing.Deg
	BoundU timing.Deg // the least uncertainty anyone can state who has the speed alone: see boundOf
	NoiseU timing.Deg // the least were all but top dead centre known
	// Strength is the pressure each cylinder comes to over that of the strongest, by
	// number from cylinder 1, with its standard uncertainty.
	Strength, StrengthU []float64
	Explained           float64 // share of the speed's variance within a cycle
	Strange             float64 // how probable it is that the ripple is not compression's: see [fit.judge]
	Cycles              int
	Swing               float64 // of the speed, over its mean
	Inertia             float64 // kg m2
	Exponent            float64
	Leak                float64
	Damping             float64 // share of a change of energy that a radian takes off
}

// Reason is why top dead centre cannot be told.
type Reason string

// The reasons.
const (
	FewCycles Reason = "few cycles" // N that turn at a steady mean speed
	Running   Reason = "running"    // Value rpm
	NoRipple  Reason = "no ripple"  // too little of it, or not like compression's
	TwoPlaces Reason = "two places" // it fits in two, Value degrees apart
)

// Refusal says why there is no result. Which fields count, its reason says.
type Refusal struct {
	Reason Reason
	N      int
	Value  float64
}

// Limits of what is taken for the ripple of compression.
const (
	leastCycles    = 2    // that turn at a steady mean speed
	leastExplained = 0.5  // share of the speed's variance within a cycle
	leastSwing     = 0.01 // of the speed over its mean
	sideMargin     = 12.0 // by how much in chi-squared another place must fit worse
)

// WeakShare of the strongest's pressure makes a cylinder weak. Common practice, no
// source.
const WeakShare = 0.85

// RunningRPM is faster than any starter turns an engine. Common practice, no source.
const RunningRPM = 450

// Fit fits cycles of the runs. Where it cannot tell top dead centre the result is nil
// and the refusal says why.
func Fit(in Input) (*Result, *Refusal) {
	e, repeat := in.Engine, float64(in.Modulo)
	list, windows, rpm := in.rows()
	if windows < leastCycles {
		return nil, &Refusal{Reason: FewCycles, N: windows}
	}
	if rpm > RunningRPM {
		return nil, &Refusal{Reason: Running, Value: rpm}
	}
	f := newFit(e, list, windows, rpm, in.Current != nil)
	lo, hi, mean := math.Inf(1), 0.0, 0.0
	for _, r := range list {
		w := math.Sqrt(2 * r.y)
		lo, hi = min(lo, w), max(hi, w)
		mean += w / float64(len(list))
	}
	before := e.prior(rpm)
	table := e.workOf(before.gas())
	step := math.Min(2, repeat/40)
	n := int(repeat / step)
	cost := make([]float64, n)
	for i := range cost {
		cost[i] = f.misfit(table, -repeat/2+step*float64(i))
	}
	total := dot(f.y, f.y)
	if !(total > 0) {
		return nil, &Refusal{Reason: NoRipple}
	}
	var solutions []solution
	for i := range cost {
		if cost[i] <= cost[(i+1)%n] && cost[i] < cost[(i+n-1)%n] && cost[i] < 0.98*total {
			if s := f.refine(-repeat/2 + step*float64(i)); s.ok {
				solutions = append(solutions, s)
			}
		}
	}
	best := -1
	for i, s := range solutions {
		if best < 0 || dot(s.rest, s.rest) < dot(solutions[best].rest, solutions[best].rest) {
			best = i
		}
	}
	swing := (hi - lo) / mean
	if best < 0 || swing < leastSwing {
		return nil, &Refusal{Reason: NoRipple, Value: swing}
	}
	s := solutions[best]
	left := dot(s.rest, s.rest)
	explained := 1 - left/total
	if explained < leastExplained {
		return nil, &Refusal{Reason: NoRipple, Value: explained}
	}
	for i, o := range solutions {
		away := math.Abs(signed(o.tdc-s.tdc, repeat))
		if i != best && away > 4 && (dot(o.rest, o.rest)-left)/s.sigma2 < sideMargin {
			return nil, &Refusal{Reason: TwoPlaces, Value: away}
		}
	}
	tdc, strange := f.judge(s)
	tdc.Value = timing.Deg(signed(float64(tdc.Value), repeat))
	r := &Result{
		TDC: tdc, Strange: strange,
		BoundU: timing.Deg(s.bound), NoiseU: timing.Deg(s.alone),
		Explained: explained, Cycles: windows, Swing: swing, Inertia: 1 / s.inverse, Exponent: s.exponent, Leak: median(s.leak), Damping: s.damping,
	}
	least := slices.Min(s.leak)
	for c, l := range s.leak {
		// p is as e^(-n leak) at top dead centre.
		share := math.Exp(-s.exponent * (l - least))
		r.Strength = append(r.Strength, share)
		r.StrengthU = append(r.StrengthU, share*s.exponent*math.Sqrt(s.cov.At(ofLeak+c, ofLeak+c)))
	}
	if lack := 1 - slices.Min(r.Strength); lack > 1-WeakShare {
		r.TDC.U = timing.Deg(math.Hypot(float64(r.TDC.U), weakU*lack))
	}
	return r, nil
}

// signed wraps into half a way to either side.
func signed(d, way float64) float64 {
	return float64(timing.WrapSigned(timing.Deg(d), timing.Deg(way)))
}
