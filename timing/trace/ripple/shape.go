package ripple

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// The fit believes that the speed ripples as compression makes it. How far the ripple
// has that shape is seen in its overtones: the fundamental follows almost any model
// once top dead centre is moved, the overtones do not. A ripple without them, or with
// others, is of something the model does not know, and then only this is left: the
// crank turns slowest near top dead centre.

// Limits of what a ripple of another shape still tells. Our assumptions, tried on
// speeds that are prescribed and not made by gas.
const (
	slowestLead      = 1.0  // degrees before top dead centre at which a crank turns slowest, where the model does not hold
	slowestU         = 3.5  // degrees, standard uncertainty of that
	slowestPitch     = 10.0 // degrees: a coarser wheel does not show where it is slowest
	slowestReach     = 10.0 // degrees from the fit within which it is believed
	leastFundamental = 0.3  // of the fundamental's power, over the ripple's variance, from which its phase says where the crank is slowest
	tensionFree      = 0.3  // of it chance makes up
	weakTension      = 2.0
	strangeTension   = 8.0   // see [fit.tensionOf], at which the model holds as probably as not
	waveOvertones    = 0.15  // what the overtones of a plain wave lack, over the fundamental,
	waveTension      = 15.0  // or how far a ripple of no engine's shape pulls,
	waveExplained    = 0.95  // and is followed all the same
	strangeness      = 0.085 // what the overtones lack or have too much, over the fundamental, at which the model holds as probably as not
)

// judge returns top dead centre by a fit, and how probable it is that the model does
// not hold. By that probability the fit's answer is mixed with what the slowest
// point tells, and the uncertainty is that of the mixture.
func (f *fit) judge(s solution) (tdc timing.Measured, strange float64) {
	lag := min(lagShare*float64(f.engine.Scheme.Cycle())/float64(len(f.fires)), lagMost)
	u := math.Sqrt(s.cov.At(ofTDC, ofTDC) + square(tdcFloorU) + square(lag) + square(pitchShare*max(float64(f.in.Wheel.Pitch())-finePitch, 0)))
	// Numbers that pull at what is known of engines are widened by it (Birge's ratio:
	// Birge, Phys. Rev. 40, 207, 1932; from memory).
	tension := s.tension
	if share, _ := s.strengths(); slices.Min(share) < WeakShare {
		tension = min(tension, weakTension) // how a weak cylinder loses its gas pulls too, and has an uncertainty of its own
	}
	u *= math.Sqrt(max(tension-tensionFree, 1))
	x := max(square(square(f.overtones(s)/strangeness)), square(tension/strangeTension))
	strange = x / (1 + x)
	away := f.slowest(s.tdc) + slowestLead - s.tdc
	if away != away || math.Abs(away) > slowestReach {
		away = 0
	}
	variance := (1-strange)*u*u + strange*square(slowestU) + strange*(1-strange)*away*away
	return timing.Measured{Value: timing.Deg(s.tdc + strange*away), U: timing.Deg(math.Sqrt(variance))}, strange
}

// nearSlowest tells whether a fit has found about where the crank is slowest.
func (f *fit) nearSlowest(s solution) bool {
	return math.Abs(f.slowest(s.tdc)+slowestLead-s.tdc) <= slowestReach
}

// leaking tells whether a strange ripple may be that of a compression that is released,
// or leaks far beyond what the model holds for: its overtones are weak and not away, as
// those of a plain wave are. It is slowest long before top dead centre, and how long,
// nothing tells.
func (f *fit) leaking(s solution, strange float64) bool {
	if strange < 0.5 {
		return false
	}
	wave := f.overtones(s) >= waveOvertones && !f.heavy(s.inverse*freer)
	other := s.tension > waveTension && f.explained(s) > waveExplained
	return !wave && !other
}

// unbent is what a fit leaves of the rows' energy without what bent teeth make of it.
func (f *fit) unbent(s solution) []float64 {
	rest := f.straight(s.rest)
	place := func(passing int) float64 {
		if t := f.frame.tooth[passing]; f.frame.bent[t] {
			return s.places[t]
		}
		return 0
	}
	for w := range f.windows {
		for i := f.begin[w]; i < f.begin[w+1]; i++ {
			k := i - f.begin[w]
			rest[i] -= (place(k+1) - place(k)) / f.lever[i]
		}
	}
	return rest
}

// overtones returns what the fit leaves of the second and third harmonic of the
// firing frequency, over the ripple's fundamental, both as root of the power. What
// higher harmonics are left on average is noise of the teeth and taken off.
func (f *fit) overtones(s solution) float64 {
	interval := float64(f.engine.Scheme.Cycle()) / float64(len(f.fires))
	coarsest := 0.0
	for _, r := range f.rows {
		coarsest = max(coarsest, r.to-r.from)
	}
	most := min(int(interval/coarsest/2), 8)
	noise, counted := 0.0, 0.0
	rest := f.projected(f.unbent(s))
	for h := 4; h <= most; h++ {
		noise += f.power(rest, interval/float64(h))
		counted++
	}
	left := 0.0
	for h := 2; h <= min(most, 3); h++ {
		left += f.power(rest, interval/float64(h))
		if counted > 0 {
			left -= noise / counted
		}
	}
	// Engines that fire unevenly have little of the fundamental.
	return math.Sqrt(max(left, 0) / max(f.power(f.y, interval), dot(f.y, f.y)/float64(len(f.y))))
}

// power is that of the wave of a column which repeats after so many degrees.
func (f *fit) power(v []float64, wave float64) float64 {
	c, s, n := 0.0, 0.0, float64(len(f.rows))
	for i, r := range f.rows {
		sin, cos := math.Sincos((r.from + r.to) * math.Pi / wave)
		c += v[i] * cos
		s += v[i] * sin
	}
	return 2 * (c*c + s*s) / (n * n)
}

// slowest is where the crank turns slowest before each dead centre, as that of
// cylinder 1 and near a given angle: where the fundamental of compression without
// any loss would have the phase of the ripple's. It is NaN for engines that fire so
// unevenly that there is hardly any.
func (f *fit) slowest(near float64) float64 {
	interval := float64(f.engine.Scheme.Cycle()) / float64(len(f.fires))
	if f.power(f.y, interval) < leastFundamental*dot(f.y, f.y)/float64(len(f.y)) {
		return math.NaN()
	}
	gas := f.gas(f.engine.workOf(f.engine.prior(f.rpm).tight()), -1, near)
	late := f.phase(f.y) - f.phase(gas)
	return near + math.Remainder(late, 2*math.Pi)/(2*math.Pi)*interval
}

// phase is that of a column's fundamental, in radians, least squares with its
// overtones: gaps in the wheel would mix them.
func (f *fit) phase(v []float64) float64 {
	interval := float64(f.engine.Scheme.Cycle()) / float64(len(f.fires))
	var waves [][]float64
	for h := 1; h <= 3; h++ {
		k := float64(h) * math.Pi / interval
		waves = append(waves,
			f.column(func(r row) float64 { return math.Cos((r.from + r.to) * k) }),
			f.column(func(r row) float64 { return math.Sin((r.from + r.to) * k) }))
	}
	x, ok := leastSquares(waves, v)
	if !ok {
		return math.NaN()
	}
	return math.Atan2(x[1], x[0])
}
