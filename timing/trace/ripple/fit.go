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
	Teeth               []Tooth // of the wheel that were seen
	Strange             float64 // how probable it is that the ripple is not compression's: see [fit.judge]
	Cycles              int
	Swing               float64 // of the speed, over its mean
	Inertia             float64 // kg m2
	Exponent            float64
	Leak                float64
	Damping             float64 // share of a change of energy that a radian takes off
}

// Tooth is where a tooth of the wheel is.
type Tooth struct {
	Position int             // of the wheel, from 1
	Late     timing.Measured // how far it passes after its place, degrees
	Bent     bool            // out of place beyond what the others are
}

// Reason is why top dead centre cannot be told.
type Reason string

// The reasons.
const (
	FewCycles Reason = "few cycles" // N that turn at a steady mean speed
	Running   Reason = "running"    // Value rpm
	NoRipple  Reason = "no ripple"  // too little of it, or not like compression's
	TwoPlaces Reason = "two places" // it fits in two, Value degrees apart
	Coarse    Reason = "coarse"     // too few teeth pass between two firings: Value
	Unlikely  Reason = "unlikely"   // it fits only with what no engine of the displacement has
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
	mostTension    = 30.0 // see [fit.tensionOf]: beyond it nothing of the model holds
	leastGain      = 60.0 // in chi-squared, by which gas must explain the passings better than a wheel alone
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
	repeat := float64(in.Modulo)
	if between := repeat / float64(in.Wheel.Pitch()); between < leastBetween && in.evenly() {
		return nil, &Refusal{Reason: Coarse, Value: between}
	}
	cycles, speed := in.steady(in.spans())
	if len(cycles) < leastCycles {
		return nil, &Refusal{Reason: FewCycles, N: len(cycles)}
	}
	if rpm := speed * 30 / math.Pi; rpm > RunningRPM {
		return nil, &Refusal{Reason: Running, Value: rpm}
	}
	f := newFit(in, cycles, speed)
	swing := f.swing()
	total := dot(f.y, f.y)
	if !(total > 0) || swing < leastSwing {
		return nil, &Refusal{Reason: NoRipple, Value: swing}
	}
	if swing > mostSwing {
		return nil, &Refusal{Reason: Unlikely, Value: swing}
	}
	rough := f.scan(repeat)
	s, other := f.search(rough, repeat)
	explained := 0.0
	if s.ok {
		explained = f.explained(s)
	}
	if !s.ok || explained < leastExplained || s.tension > mostTension {
		if r := f.fallBack(rough, swing); r != nil {
			return r, nil
		}
		return nil, &Refusal{Reason: NoRipple, Value: explained}
	}
	if !(s.gain > leastGain) {
		return nil, &Refusal{Reason: NoRipple, Value: explained}
	}
	if other != nil {
		return nil, &Refusal{Reason: TwoPlaces, Value: math.Abs(signed(other.tdc-s.tdc, repeat))}
	}
	tdc, strange := f.judge(s)
	share, _ := s.strengths()
	if slices.Min(share) < leastStrength || f.leaking(s, strange) || strange < 0.5 && f.unlikely(s) { // of a strange ripple the fit is not what counts
		return nil, &Refusal{Reason: Unlikely}
	}
	if strange >= 0.5 && (!f.nearSlowest(s) || slices.Contains(f.frame.bent, true)) {
		return nil, &Refusal{Reason: NoRipple, Value: explained}
	}
	tdc.Value = timing.Deg(signed(float64(tdc.Value), repeat))
	r := &Result{
		TDC: tdc, Strange: strange,
		BoundU: timing.Deg(s.bound), NoiseU: timing.Deg(s.alone),
		Explained: explained, Cycles: len(cycles), Swing: swing, Inertia: 1 / s.inverse, Exponent: s.exponent, Leak: median(s.leak), Damping: s.damping,
	}
	r.Strength, r.StrengthU = s.strengths()
	if lack := 1 - slices.Min(r.Strength); lack > 1-WeakShare {
		r.TDC.U = timing.Deg(math.Hypot(float64(r.TDC.U), weakU*lack))
	}
	for i, p := range f.frame.positions {
		r.Teeth = append(r.Teeth, Tooth{p + 1, timing.Measured{Value: timing.Deg(s.places[i]), U: timing.Deg(s.placesU[i])}, f.frame.bent[i] && math.Abs(s.places[i]) >= bentLeast})
	}
	return r, nil
}

// evenly tells whether the engine fires evenly.
func (in Input) evenly() bool {
	e := in.Engine.Scheme
	return math.Abs(float64(e.Cycle()/timing.Deg(e.Cylinders())-in.Modulo)) < 0.5
}

// unlikely tells whether a fit comes to what no engine of the displacement has: with
// compression released, or a cylinder dead, the rest of the model takes odd values to
// make up for it.
func (f *fit) unlikely(s solution) bool {
	return f.heavy(s.inverse) || median(s.leak) > mostLeak ||
		s.exponent <= leastExponent || s.damping > mostDamping || s.damping < -mostDamping/4
}

// Limits of what an engine is. Common practice, no source: stationary singles have the
// heaviest flywheels.
const (
	mostSwing     = 1.0  // of the speed over its mean: beyond it the crank all but stops at each compression
	leastBetween  = 4.5  // pitches from firing to firing
	leastInertia  = 0.08 // kg m2 a litre
	mostInertia   = 4.2  // of a single; falls as the root of the number of cylinders
	mostLeak      = 0.7
	freer         = 1.5 // by which it may be heavier where nothing of the model holds
	leastStrength = 0.5
	leastExponent = 1.15
	mostDamping   = 2.5
)

// strengths are the cylinders' pressures over that of the strongest.
func (s solution) strengths() (share, u []float64) {
	least := slices.Min(s.leak)
	for c, l := range s.leak {
		// p is as e^(-n leak) at top dead centre.
		v := math.Exp(-s.exponent * (l - least))
		share = append(share, v)
		u = append(u, v*s.exponent*math.Sqrt(s.cov.At(ofLeak+c, ofLeak+c)))
	}
	return share, u
}

// swing is that of the speed over its mean, cycle by cycle, less what the noise of
// single passings adds: the mean course counts.
func (f *fit) swing() float64 {
	lo, hi, mean := math.Inf(1), 0.0, 0.0
	n := f.begin[1]
	for i := range n {
		w := 0.0
		for k := range f.windows {
			w += math.Sqrt(2*f.rows[f.begin[k]+i].y) / float64(f.windows)
		}
		lo, hi = min(lo, w), max(hi, w)
		mean += w / float64(n)
	}
	return (hi - lo) / mean
}

// rough is what a fit with all cylinders alike and nothing unknown but the inertia and
// the brake says.
type rough struct {
	tdc, inverse, explained float64
	starts                  []float64 // places for top dead centre from which to refine
}

// scan looks at places all round the way after which the firings repeat.
func (f *fit) scan(repeat float64) (best rough) {
	table := f.engine.workOf(f.engine.prior(f.rpm).gas())
	total := dot(f.y, f.y)
	step := math.Min(2, repeat/40)
	n := int(repeat / step)
	cost := make([]float64, n)
	for i := range cost {
		left, inverse := f.misfit(table, -repeat/2+step*float64(i))
		if cost[i] = left; 1-left/total > best.explained {
			best.tdc, best.inverse, best.explained = -repeat/2+step*float64(i), inverse, 1-left/total
		}
	}
	for i := range cost {
		if cost[i] <= cost[(i+1)%n] && cost[i] < cost[(i+n-1)%n] && cost[i] < 0.98*total && total-cost[i] > 0.3*best.explained*total {
			best.starts = append(best.starts, -repeat/2+step*float64(i))
		}
	}
	return best
}

// fallBack is what is left where the model does not hold at all: where the crank is
// slowest. It is nil where the ripple is not even that of an engine of the displacement,
// where one or two cylinders make too long a wave, and where a bent tooth makes one too.
func (f *fit) fallBack(r rough, swing float64) *Result {
	if r.explained < leastExplained || f.heavy(r.inverse*freer) || f.in.Wheel.Pitch() > slowestPitch || len(f.fires) < 3 || slices.Contains(f.frame.bent, true) {
		return nil
	}
	slow := f.slowest(r.tdc)
	if slow != slow || math.Abs(slow-r.tdc) > slowestReach {
		return nil
	}
	way := float64(f.in.Modulo)
	return &Result{
		TDC:     timing.Measured{Value: timing.Deg(signed(slow+slowestLead, way)), U: slowestU},
		Strange: 1, Explained: r.explained, Cycles: f.windows, Swing: swing, Inertia: 1 / r.inverse,
	}
}

// heavy tells whether the inertia is none of an engine of the displacement.
func (f *fit) heavy(inverse float64) bool {
	perLitre := 1 / inverse / f.litres()
	return !(perLitre >= leastInertia && perLitre <= mostInertia/math.Sqrt(float64(len(f.fires))))
}

// search finds the best place for top dead centre, and another that fits as well.
func (f *fit) search(r rough, repeat float64) (best solution, other *solution) {
	var solutions []solution
	for _, start := range r.starts {
		if s := f.refine(start, -1); s.ok {
			solutions = append(solutions, s)
		}
	}
	for _, s := range solutions {
		if !best.ok || s.gain > best.gain {
			best = s
		}
	}
	for round := 0; round < 2 && best.ok && best.tension > strained; round++ {
		from := best.tdc
		for c := range f.fires {
			if s := f.refine(from, c); s.ok && s.gain > best.gain {
				best = s
				solutions = append(solutions, s)
			}
		}
	}
	for i, s := range solutions {
		if math.Abs(signed(s.tdc-best.tdc, repeat)) > 4 && best.gain-s.gain < sideMargin {
			other = &solutions[i]
		}
	}
	return best, other
}

// strained is the tension from which a weak cylinder is looked for by beginning with each,
// and weakLeak how weak one then is: it loses a third of its pressure. Tried on simulated engines.
const (
	strained = 2.0
	weakLeak = 0.3
)

// explained is the share of the speed's variance within a cycle that is the gas's, less
// what passings and the wheel's teeth scatter.
func (f *fit) explained(s solution) float64 {
	rest := f.projected(f.unbent(s))
	left, total, noise := dot(rest, rest), dot(f.y, f.y), 0.0
	for _, v := range s.noise {
		noise += v
	}
	noise = min(noise, left)
	return 1 - (left-noise)/max(total-noise, 1e-12*total)
}

// signed wraps into half a way to either side.
func signed(d, way float64) float64 {
	return float64(timing.WrapSigned(timing.Deg(d), timing.Deg(way)))
}
