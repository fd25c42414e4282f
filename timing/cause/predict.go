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
	case s.Wrong.any(PlugsSwapped):
		return 0.05
	case s.Wrong.any(SupplyLost):
		return 0.12
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
	case s.Wrong.any(CrankDead | PlugsSwapped):
		can = 0.01
	case s.Wrong.any(SupplyLost):
		can = 0.12
	case s.Wrong.any(CrankWeak):
		can = 0.6
	}
	return expected{float64(s.wheelError() - s.falseTDC()), signalSD, can}
}

// falseTDC is how far before true top dead centre the crank stands where it is taken
// to be: a mark that is past its pointer there meets it that much earlier.
func (s *State) falseTDC() timing.Deg {
	if s.Wrong.any(ByMark) {
		return s.Damper
	}
	return 0
}

func damperMark(_ *Engine, s *State) expected { return expected{float64(s.Damper), makingSD, 1} }

func dowelError(_ *Engine, s *State) expected { return expected{float64(s.Dowel), makingSD, 1} }

func keywayError(_ *Engine, s *State) expected { return expected{float64(s.Keyway), makingSD, 1} }

func valveTiming(e *Engine, s *State) expected {
	return expected{float64(s.valveError(e) - s.falseTDC()), valveSD, 1}
}

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
	case s.Wrong.any(ValvesBent):
		at, sd = 0.7*at, 0.2*e.CompressionBar
	case s.Wrong.any(SlowCranking):
		at, sd = 0.85*at, 0.09*e.CompressionBar
	case s.Wrong.any(Elsewhere):
		sd = 0.15 * e.CompressionBar
	}
	return expected{at, sd, 1}
}

// railShare is how much of the pressure that the controller asks for is reached in a
// state, how far that may be off, and how probable it is that there is one to read.
// Common practice, no source.
func railShare(s *State) expected {
	switch {
	case s.Wrong.any(ControllerOff):
		return expected{0.06, 0.08, 0.4}
	case s.Wrong.any(RailCut):
		return expected{0.06, 0.07, 0.9}
	case s.Wrong.any(NoPressure):
		return expected{0.12, 0.13, 1}
	case s.Wrong.any(NoFlow):
		return expected{0.28, 0.14, 1}
	case s.Wrong.any(LeakMuch):
		return expected{0.42, 0.14, 1}
	case s.Wrong.any(FuelStarved | InjectorLeak):
		return expected{0.82, 0.1, 1}
	case s.Wrong.any(SlowCranking):
		return expected{0.8, 0.15, 1}
	case s.Wrong.any(BadFuel):
		return expected{0.9, 0.12, 1}
	case s.Wrong.any(Elsewhere):
		return expected{0.95, 0.2, 1}
	}
	return expected{0.98, 0.05, 1}
}

func railPressure(e *Engine, s *State) expected {
	x := railShare(s)
	return expected{x.at * e.RailBar, math.Hypot(x.sd, 0.22*x.at) * e.RailBar, 1}
}

func railReached(_ *Engine, s *State) expected {
	x := railShare(s)
	return expected{100 * x.at, 100 * x.sd, x.can}
}

// weakest is the compression of the weakest cylinder over that of the strongest, in
// per cent. Makers allow about a sixth between them (references in the kind).
func weakest(_ *Engine, s *State) expected {
	switch {
	case s.Wrong.any(ValvesBent):
		return expected{35, 25, 1}
	case s.Wrong.any(PoorCompression):
		return expected{76, 14, 1}
	case s.Wrong.any(Elsewhere):
		return expected{88, 9, 1}
	}
	return expected{93, 4, 1}
}

func crankingSpeed(e *Engine, s *State) expected {
	switch {
	case s.Wrong.any(SlowCranking):
		return expected{0.48 * e.CrankingRPM, 0.13 * e.CrankingRPM, 1}
	case s.Wrong.any(PoorCompression | ValvesBent):
		return expected{1.1 * e.CrankingRPM, 0.13 * e.CrankingRPM, 1}
	}
	return expected{e.CrankingRPM, 0.12 * e.CrankingRPM, 1}
}
