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
// in 93 of 100, and taken for wrong in 1 of 100 that are right. Common practice,
// no source.
func found(of Wrong) func(*Engine, *State, int) float64 {
	return func(_ *Engine, s *State, word int) float64 {
		p := 0.01
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
