package cause

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"pinphase.org/pinphase/timing"
)

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
	case s.Wrong.any(PlugsSwapped):
		p = [...]float64{0.02, 0.05, 0.83, 0.10}
	case s.Wrong.any(SupplyLost) && e.HallKnown && !e.Hall:
		p = [...]float64{0.45, 0.30, 0.05, 0.20}
	case s.Wrong.any(SupplyLost):
		p = [...]float64{0.04, 0.09, 0.02, 0.85}
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
	p := [...]float64{0.955, 0.03, 0.005, 0.01}
	switch {
	case s.Wrong.any(CamDead):
		p = [...]float64{0.01, 0.03, 0.005, 0.955}
	case s.Wrong.any(PlugsSwapped):
		p = [...]float64{0.03, 0.07, 0.80, 0.10}
	case s.Wrong.any(SupplyLost):
		p = [...]float64{0.04, 0.10, 0.01, 0.85}
	case s.Wrong.any(CamWeak):
		p = [...]float64{0.15, 0.72, 0.03, 0.10}
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
	switch {
	case s.Wrong.any(NoPressure):
		set[codeRail] = 0.65
	case s.Wrong.any(NoFlow | LeakMuch):
		set[codeRail] = 0.55
	case s.Wrong.any(SlowCranking | RailCut):
		set[codeRail] = 0.25
	}
	if s.Wrong.any(ControllerOff) { // it tells little then
		floats.Scale(0.3, set[1:])
	}
	none := 1.0
	for _, p := range set[1:] {
		none *= 1 - p
	}
	if word == codeNone {
		return none
	}
	return (1 - none) * set[word] / floats.Sum(set[1:])
}

// found is a look at a part that shows whether one thing is wrong with it: seen
// in 93 of 100, and taken for wrong in 1 of 500 that are right. Common practice,
// no source.
func found(of Wrong) func(*Engine, *State, int) float64 {
	return func(_ *Engine, s *State, word int) float64 {
		p := 0.002
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
	p := [...]float64{0.99, 0.004, 0.006}
	switch {
	case s.Wrong.any(CamWheelHalf):
		p = [...]float64{0.05, 0.92, 0.03}
	case s.Wrong.any(CamWheelMoved):
		p = [...]float64{0.07, 0.02, 0.91}
	}
	return p[word]
}

// testedSensor is a sensor tested by itself: good, open or shorted, gap wrong.
func testedSensor(dead, weak Wrong) func(*Engine, *State, int) float64 {
	return func(_ *Engine, s *State, word int) float64 {
		p := [...]float64{0.99, 0.004, 0.006}
		switch {
		case s.Wrong.any(dead):
			p = [...]float64{0.08, 0.88, 0.04}
		case s.Wrong.any(weak):
			p = [...]float64{0.12, 0.08, 0.80}
		}
		return p[word]
	}
}

// shownSpeed is the speed that the controller shows while cranking: as cranked,
// erratic, none.
func shownSpeed(e *Engine, s *State, word int) float64 {
	p := [...]float64{0.96, 0.03, 0.01}
	switch {
	case s.Wrong.any(ControllerOff):
		p = [...]float64{0.04, 0.03, 0.93}
	case s.Wrong.any(CrankDead):
		p = [...]float64{0.25, 0.05, 0.70} // some show the cam's
	case s.Wrong.any(PlugsSwapped):
		p = [...]float64{0.08, 0.52, 0.40}
	case s.Wrong.any(SupplyLost):
		p = [...]float64{0.05 + 0.4*onCrank(e, s), 0.12, 0.83 - 0.4*onCrank(e, s)}
	case s.Wrong.any(CrankWeak | ToothBent | WiresReversed):
		p = [...]float64{0.45, 0.50, 0.05}
	case s.Wrong.any(WheelTurned) && !e.OneGap:
		p = [...]float64{0.30, 0.60, 0.10}
	}
	return p[word]
}

// leakDown is where the air of a leak-down test goes: nowhere, past the rings, past
// the valves.
func leakDown(_ *Engine, s *State, word int) float64 {
	p := [...]float64{0.98, 0.012, 0.008}
	switch {
	case s.Wrong.any(ValvesBent):
		p = [...]float64{0.04, 0.05, 0.91}
	case s.Wrong.any(PoorCompression):
		p = [...]float64{0.12, 0.60, 0.28}
	case s.Wrong.any(Elsewhere):
		p = [...]float64{0.85, 0.09, 0.06}
	}
	return p[word]
}

// crankingVolts is the battery while cranking: good or low.
func crankingVolts(_ *Engine, s *State, word int) float64 {
	p := [...]float64{0.95, 0.05}
	switch {
	case s.Wrong.any(SlowCranking):
		p = [...]float64{0.3, 0.7}
	case s.Wrong.any(ControllerOff):
		p = [...]float64{0.85, 0.15}
	}
	return p[word]
}

// codeActive is how probable it is that a code is set anew at once, and is not left
// from before.
func codeActive(e *Engine, s *State) float64 {
	apart := offBy(s.wheelError() - s.camError(e))
	switch {
	case s.Wrong.any(CrankDead | CamDead | CrankWeak | CamWeak | SupplyLost | PlugsSwapped | NoPressure | NoFlow | LeakMuch), apart > 9:
		return 0.88
	case s.Wrong.any(Elsewhere):
		return 0.45
	}
	return 0.35
}

// began is when the trouble began: after work on the engine, suddenly, slowly, in
// the cold, after filling up.
func began(_ *Engine, s *State, word int) float64 {
	p := [...]float64{0.4, 0.25, 0.2, 0.1, 0.05}
	switch {
	case s.Wrong.any(BadFuel) && s.Wrong.any(NoFlow):
		p = [...]float64{0.05, 0.15, 0.05, 0.60, 0.15}
	case s.Wrong.any(BadFuel):
		p = [...]float64{0.10, 0.25, 0.05, 0.10, 0.50}
	case s.Wrong.any(SlowCranking):
		p = [...]float64{0.20, 0.25, 0.25, 0.25, 0.05}
	case s.Wrong.any(KeyBroken | WheelMoved | CamWheelMoved | CamGearMoved | CrankDead | CamDead | SupplyLost | ToothBent | ValvesBent | ControllerOff | Locked | DamperMoved | NoPressure):
		p = [...]float64{0.30, 0.55, 0.08, 0.04, 0.03}
	case s.Wrong.any(PoorCompression | InjectorLeak | CrankWeak | CamWeak | FuelStarved):
		p = [...]float64{0.25, 0.12, 0.50, 0.08, 0.05}
	case !s.Wrong.any(Elsewhere): // made or fitted wrong
		p = [...]float64{0.86, 0.06, 0.04, 0.02, 0.02}
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
