package cause

import (
	"math"

	"pinphase.org/pinphase/timing"
)

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
	}{{NoPressure, 0.02}, {PoorCompression, 0.12}, {BadFuel, 0.1}, {SlowCranking, 0.08}, {LeadsCrossed | OrderWrong, 0.08},
		{NoFlow, 0.03}, {LeakMuch, 0.08}, {FuelStarved | InjectorLeak, 0.6}, {ValvesBent, 0.2}, {ControllerOff | Locked, 0.01}, {RailCut, 0.02}} {
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
	case s.Wrong.any(PlugsSwapped):
		return 0.03
	case s.Wrong.any(SupplyLost) && e.HallKnown && !e.Hall: // an inductive sensor needs no supply
		return 0.5
	case s.Wrong.any(SupplyLost):
		return 0.1
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
	case s.Wrong.any(PlugsSwapped):
		return 0.03
	case s.Wrong.any(SupplyLost):
		return 0.1
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
	case s.Wrong.any(NoPressure | CrankDead | BadFuel | ControllerOff | Locked | SupplyLost | PlugsSwapped):
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
	switch {
	case s.Wrong.any(NoPressure | ControllerOff | Locked | RailCut):
		fuel *= 0.06
	case s.Wrong.any(NoFlow | LeakMuch):
		fuel *= 0.3
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

// startsBoosted is with a second battery: of engines that crank too slowly, six in
// ten have a weak battery and not a weak starter.
func startsBoosted(e *Engine, s *State) float64 {
	if !s.Wrong.any(SlowCranking) {
		return starts(e, s)
	}
	quick := s.without(SlowCranking)
	return 0.6*starts(e, &quick) + 0.4*starts(e, s)
}

// startsOnCleanFuel is with the pump fed from a can, past tank, lines and filter.
func startsOnCleanFuel(e *Engine, s *State) float64 {
	if !s.Wrong.any(BadFuel | NoFlow | FuelStarved) {
		return starts(e, s)
	}
	fed := s.without(BadFuel | NoFlow | FuelStarved)
	return 0.85*starts(e, &fed) + 0.15*starts(e, s)
}

// synchronised is how probable it is that the controller says it knows where the
// crank is: with both signals unless they lie well apart, and for half of the
// controllers with the crank's alone.
func synchronised(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(Elsewhere):
		return 0.75
	case s.Wrong.any(ControllerOff):
		return 0.03
	}
	crank, cam := onCrank(e, s), onCam(s)
	apart := math.Abs(float64(timing.WrapSigned(s.wheelError()-s.camError(e), e.cycle())))
	return 0.01 + 0.97*crank*(cam*(1-0.7*step(apart-15, 4))+(1-cam)*0.5)
}

// injectorsFire is how probable it is that current goes to the injectors.
func injectorsFire(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(Elsewhere):
		return 0.6
	case s.Wrong.any(ControllerOff | Locked):
		return 0.02
	case s.Wrong.any(RailCut): // nor does it ask for injection
		return 0.06
	}
	p := 0.02 + 0.95*synchronised(e, s)
	if s.Wrong.any(NoPressure | NoFlow | LeakMuch | SlowCranking) { // many wait for pressure
		p *= 0.6
	}
	return p
}

// How probable complaints of an engine that runs are; it need not start well.
// Common practice, no source.

func runsRough(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(ValvesBent | LeadsCrossed | OrderWrong):
		return 0.9
	case s.Wrong.any(InjectorLeak | PoorCompression | FuelStarved | BadFuel | CrankWeak | ToothBent | WiresReversed):
		return 0.55
	case s.Wrong.any(Elsewhere):
		return 0.4
	}
	return 0.06 + 0.5*step(offBy(s.wheelError())-8, 3) + 0.3*step(offBy(s.valveError(e))-12, 4)
}

func lacksPower(e *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(FuelStarved):
		return 0.85
	case s.Wrong.any(PoorCompression | ValvesBent | InjectorLeak | BadFuel | NoPressure):
		return 0.6
	case s.Wrong.any(Elsewhere):
		return 0.45
	}
	return 0.08 + 0.6*step(offBy(s.wheelError())-6, 2) + 0.28*step(offBy(s.valveError(e))-8, 3)
}

func deadCylinder(_ *Engine, s *State) float64 {
	switch {
	case s.Wrong.any(ValvesBent):
		return 0.85
	case s.Wrong.any(LeadsCrossed | OrderWrong):
		return 0.55
	case s.Wrong.any(InjectorLeak | PoorCompression):
		return 0.3
	case s.Wrong.any(Elsewhere):
		return 0.2
	}
	return 0.04
}

func offBy(x timing.Deg) float64 { return math.Abs(float64(timing.WrapSigned(x, timing.Turn))) }
