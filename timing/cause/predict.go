package cause

import (
	"math"

	"pinphase.org/pinphase/timing"
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
	teethSD  = 0.22 // a tooth miscounted is a slip, not a spread
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
