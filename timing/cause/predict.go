package cause

import (
	"math"

	"pinphase/timing"
)

// expected is what a number should read in a state, not wrapped, and how far the
// state itself leaves it open, as a standard deviation; can is how probable it is
// that it can be read at all.
type expected struct{ at, sd, can float64 }

// How far a right part still misses, as standard deviations. Common practice, no
// source.
const (
	signalSD = 0.5 // sensors, backlash and a drive's slack, crank degrees
	makingSD = 0.3 // fits and marking out, at the radii of a crankshaft's nose
	valveSD  = 1.0
	teethSD  = 0.22 // a tooth miscounted is a misreading, not a spread
)

// readable is how probable it is that a recording shows both sensors well enough
// for angles to be taken from it.
func readable(s *State) float64 {
	switch {
	case s.Wrong.any(CrankDead | CamDead):
		return 0.01
	case s.Wrong.any(CrankWeak | CamWeak):
		return 0.6
	case s.Wrong.any(ToothBent):
		return 0.8
	}
	return 0.98
}

func correlation(e *Engine, s *State) expected {
	return expected{float64(s.wheelError() - s.camError(e)), signalSD, readable(s)}
}

func tdcOffset(_ *Engine, s *State) expected {
	can := 0.95
	switch {
	case s.Wrong.any(CrankDead):
		can = 0.01
	case s.Wrong.any(CrankWeak):
		can = 0.6
	}
	return expected{float64(s.wheelError()), signalSD, can}
}

func dowelError(_ *Engine, s *State) expected { return expected{float64(s.Dowel), makingSD, 1} }

func keywayError(_ *Engine, s *State) expected { return expected{float64(s.Keyway), makingSD, 1} }

func valveTiming(e *Engine, s *State) expected { return expected{float64(s.valveError(e)), valveSD, 1} }

// crankMarks and camMarks: without idlers there is one mesh only, and it is out by
// both.
func crankMarks(e *Engine, s *State) expected {
	if e.Idlers {
		return expected{float64(s.CrankOut), teethSD, 1}
	}
	return expected{float64(s.CrankOut + s.CamOut), teethSD, 1}
}

func camMarks(e *Engine, s *State) expected {
	if e.Idlers {
		return expected{float64(s.CamOut), teethSD, 1}
	}
	return expected{float64(s.CrankOut + s.CamOut), teethSD, 1}
}

// compression falls with the camshaft away from where it belongs, early or late,
// with leaks and with slow cranking.
func compression(e *Engine, s *State) expected {
	at, sd := e.CompressionBar, math.Hypot(e.CompressionUBar, 0.04*e.CompressionBar)
	v := math.Abs(float64(timing.WrapSigned(s.valveError(e), e.cycle())))
	at *= max(1-0.006*max(v-4, 0), 0.25)
	switch {
	case s.Wrong.any(PoorCompression):
		at, sd = 0.58*at, 0.13*e.CompressionBar
	case s.Wrong.any(SlowCranking):
		at, sd = 0.85*at, 0.09*e.CompressionBar
	case s.Wrong.any(Elsewhere):
		sd = 0.15 * e.CompressionBar
	}
	return expected{at, sd, 1}
}

func railPressure(e *Engine, s *State) expected {
	at, sd := e.RailBar, 0.22*e.RailBar
	switch {
	case s.Wrong.any(NoPressure):
		at, sd = 0.18*e.RailBar, 0.14*e.RailBar
	case s.Wrong.any(SlowCranking):
		at *= 0.8
	case s.Wrong.any(BadFuel):
		at, sd = 0.85*e.RailBar, 0.3*e.RailBar
	case s.Wrong.any(Elsewhere):
		sd = 0.35 * e.RailBar
	}
	return expected{at, sd, 1}
}

func crankingSpeed(e *Engine, s *State) expected {
	switch {
	case s.Wrong.any(SlowCranking):
		return expected{0.48 * e.CrankingRPM, 0.13 * e.CrankingRPM, 1}
	case s.Wrong.any(PoorCompression):
		return expected{1.1 * e.CrankingRPM, 0.13 * e.CrankingRPM, 1}
	}
	return expected{e.CrankingRPM, 0.12 * e.CrankingRPM, 1}
}

// step goes from 0 to 1 round 0, with a slope of a quarter a width. Ten widths out
// it is taken as there.
func step(x, width float64) float64 {
	switch z := x / width; {
	case z > 10:
		return 1
	case z < -10:
		return 0
	default:
		return 1 / (1 + math.Exp(-z))
	}
}

// edge is how sharp the limits of light-off are, in degrees.
const edge = 2.5

// fires is how probable fuel lights well enough for the engine to run when
// injection comes early by err, were all else right.
func fires(e *Engine, err timing.Deg) float64 {
	d := timing.WrapSigned(err, timing.Turn)
	return 0.97 * step(float64(d-e.LightsFrom), edge) * step(float64(e.LightsTo-d), edge)
}

// fit is how probable it is that nothing but injection timing keeps the engine
// from running.
func fit(e *Engine, s *State) float64 {
	p := 1.0
	if v := float64(timing.WrapSigned(s.valveError(e), e.cycle())) / 35; v != 0 {
		p = math.Exp(-v * v)
	}
	for _, f := range [...]struct {
		wrong Wrong
		by    float64
	}{{NoPressure, 0.02}, {PoorCompression, 0.12}, {BadFuel, 0.1}, {SlowCranking, 0.08}, {LeadsCrossed | OrderWrong, 0.08}} {
		if s.Wrong.any(f.wrong) {
			p *= f.by
		}
	}
	return p
}

// onCrank is how probable the crank signal serves.
func onCrank(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(CrankDead):
		return 0.01
	case s.Wrong.any(WheelTurned) && !e.OneGap:
		return 0.05
	case s.Wrong.any(CrankWeak | ToothBent):
		return 0.45
	case s.Wrong.any(WiresReversed):
		return 0.4
	}
	return 1
}

func onCam(s *State) float64 {
	switch {
	case s.Wrong.any(CamDead):
		return 0.01
	case s.Wrong.any(CamWeak):
		return 0.45
	}
	return 1
}

// Controllers differ in what they make of one missing sensor: of ten, six start
// on the crank sensor alone, five on the cam sensor alone. Common practice, no
// source.
const (
	crankAlone = 0.6
	camAlone   = 0.5
)

// starts is how probable it is that the engine starts with both sensors plugged
// in. A controller that meets no cam signal goes on with the crank's alone, and
// the other way round, if it can. One that sees the two more than half a cycle
// apart takes one turn for the other; one that sees them well apart may refuse.
func starts(e *Engine, s *State) float64 {
	if s.Wrong.any(Elsewhere) {
		return 0.4
	}
	crank, cam := onCrank(e, s), onCam(s)
	apart := math.Abs(float64(timing.WrapSigned(s.wheelError()-s.camError(e), e.cycle())))
	byCrank := fires(e, s.wheelError())
	both := byCrank * (1 - 0.4*step(apart-12, 2)) * (1 - 0.95*step(apart-float64(e.cycle()/4), 8))
	p := crank*cam*both + crank*(1-cam)*crankAlone*byCrank
	if crank < 1 {
		p += (1 - crank) * cam * 0.3 * camAlone * fires(e, s.camError(e))
	}
	return p*fit(e, s) + 0.005
}

func startsOnCrank(e *Engine, s *State) float64 {
	if s.Wrong.any(Elsewhere) {
		return 0.25
	}
	return crankAlone*onCrank(e, s)*fires(e, s.wheelError())*fit(e, s) + 0.005
}

func startsOnCam(e *Engine, s *State) float64 {
	if s.Wrong.any(Elsewhere) {
		return 0.2
	}
	return camAlone*onCam(s)*fires(e, s.camError(e))*fit(e, s) + 0.005
}

// kicks is how probable the engine kicks back against the starter: injection so
// early that it lights before top dead centre, or in the wrong cylinder.
func kicks(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(Elsewhere):
		return 0.1
	case s.Wrong.any(NoPressure | CrankDead | BadFuel):
		return 0.01
	}
	d := timing.WrapSigned(s.wheelError(), timing.Turn)
	p := 0.02 + 0.6*step(float64(d-e.LightsTo+4), 3)*step(float64(70-d), 5)
	if s.Wrong.any(LeadsCrossed | OrderWrong) {
		p = max(p, 0.25)
	}
	return p
}

// smoke at the exhaust while cranking: none, white or black.
func smoke(e *Engine, s *State, word int) float64 {
	p := func(none, white, black float64) float64 { return [...]float64{none, white, black}[word] }
	if s.Wrong.any(Elsewhere) {
		return p(0.4, 0.4, 0.2)
	}
	run := min(starts(e, s), 1)
	fuel := onCrank(e, s) + (1-onCrank(e, s))*0.3*camAlone
	if s.Wrong.any(NoPressure) {
		fuel *= 0.06
	}
	unlit := p(0.16, 0.76, 0.08)
	switch {
	case s.Wrong.any(LeadsCrossed | OrderWrong):
		unlit = p(0.12, 0.6, 0.28)
	case s.Wrong.any(BadFuel):
		unlit = p(0.4, 0.55, 0.05)
	}
	return run*p(0.62, 0.2, 0.18) + (1-run)*(fuel*unlit+(1-fuel)*p(0.94, 0.05, 0.01))
}

// Words of a signal as a recording shows it.
const (
	signalGood = iota
	signalWeak
	signalPattern // teeth and gap are not those of the engine's wheel
	signalNone
)

func crankSignal(e *Engine, s *State, word int) float64 {
	p := [...]float64{0.95, 0.03, 0.01, 0.01}
	switch {
	case s.Wrong.any(CrankDead):
		p = [...]float64{0.01, 0.03, 0.01, 0.95}
	case s.Wrong.any(CrankWeak):
		p = [...]float64{0.15, 0.73, 0.04, 0.08}
	case s.Wrong.any(ToothBent):
		p = [...]float64{0.2, 0.5, 0.29, 0.01}
	case s.Wrong.any(WheelTurned) && !e.OneGap:
		p = [...]float64{0.1, 0.04, 0.85, 0.01}
	case s.Wrong.any(WheelTurned):
		p = [...]float64{0.86, 0.05, 0.08, 0.01}
	case s.Wrong.any(WheelOther):
		p = [...]float64{0.7, 0.04, 0.25, 0.01}
	case s.Wrong.any(WiresReversed):
		p = [...]float64{0.45, 0.2, 0.34, 0.01}
	}
	return p[word]
}

func camSignal(_ *Engine, s *State, word int) float64 {
	p := [...]float64{0.96, 0.03, 0.01}
	switch {
	case s.Wrong.any(CamDead):
		p = [...]float64{0.01, 0.03, 0.96}
	case s.Wrong.any(CamWeak):
		p = [...]float64{0.15, 0.75, 0.10}
	}
	return p[word]
}

// Words of a fault code's class.
const (
	codeNone = iota
	codeCorrelation
	codeCrank
	codeCam
	codeRail
	codes
)

// faultCode is how probable it is that the class of code is the one that was read
// first: the codes that a state sets, each by itself, share what is not none.
func faultCode(e *Engine, s *State, word int) float64 {
	var set [codes]float64
	apart := math.Abs(float64(timing.WrapSigned(s.wheelError()-s.camError(e), e.cycle())))
	set[codeCorrelation] = 0.02 + 0.6*step(apart-9, 1.5)*readable(s)
	crank, cam := onCrank(e, s), onCam(s)
	set[codeCrank] = 0.02 + 0.8*(1-crank)
	set[codeCam] = 0.02 + 0.8*(1-cam)
	set[codeRail] = 0.02
	if s.Wrong.any(NoPressure) {
		set[codeRail] = 0.65
	}
	none, sum := 1.0, 0.0
	for _, p := range set[1:] {
		none *= 1 - p
		sum += p
	}
	if word == codeNone {
		return none
	}
	return (1 - none) * set[word] / sum
}

// found is a look at a part that shows whether one thing is wrong with it: seen
// in 93 of 100, and taken for wrong in 2 of 100 that are right. Common practice,
// no source.
func found(of Wrong) func(*Engine, *State, int) float64 {
	return func(_ *Engine, s *State, word int) float64 {
		p := 0.02
		if s.Wrong.any(of) {
			p = 0.93
		}
		if word == 0 {
			return 1 - p
		}
		return p
	}
}

// camSeat is the cam wheel looked at on its shaft: right, half a turn out, moved.
func camSeat(_ *Engine, s *State, word int) float64 {
	p := [...]float64{0.97, 0.01, 0.02}
	switch {
	case s.Wrong.any(CamWheelHalf):
		p = [...]float64{0.05, 0.92, 0.03}
	case s.Wrong.any(CamWheelMoved):
		p = [...]float64{0.07, 0.02, 0.91}
	}
	return p[word]
}

// yes turns the probability of yes into that of a word of no and yes.
func yes(p func(*Engine, *State) float64) func(*Engine, *State, int) float64 {
	return func(e *Engine, s *State, word int) float64 {
		q := p(e, s)
		if word == 0 {
			return 1 - q
		}
		return q
	}
}
