package course

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
)

// Aim is what a step has the learner reach.
type Aim struct {
	Rule      string  `toml:"rule"`
	Cylinder  int     `toml:"cylinder"`  // that the rule is about
	Stroke    string  `toml:"stroke"`    // of "stroke"
	Value     float64 `toml:"value"`     // of "wheel_error", "cam_turned"
	Tolerance float64 `toml:"tolerance"` // degrees
	Answer    float64 `toml:"answer"`    // one that satisfies the rule, where "Show me" goes
}

// rule is how an aim is judged. at is what was moved to: crank degrees, a wheel error, a
// reading of the degree wheel, or the number of a cylinder.
type rule struct {
	moves   Moves
	reached func(s Step, e timing.Scheme, at float64) bool
}

var rules = map[string]rule{
	// A dead centre, whichever it is.
	"tdc":        {Crank, func(s Step, e timing.Scheme, at float64) bool { return s.near(s.angle(e, at), 0, timing.Turn) }},
	"firing_tdc": {Crank, func(s Step, e timing.Scheme, at float64) bool { return s.near(s.angle(e, at), 0, e.Cycle()) }},
	"overlap_tdc": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		return e.Strokes() == 4 && s.near(s.angle(e, at), timing.Turn, e.Cycle())
	}},
	"stroke": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		stroke, ok := timing.ParseStroke(s.Aim.Stroke)
		return ok && e.StrokeAt(s.angle(e, at)) == stroke
	}},
	// Intake and exhaust of the cylinder open at once, wherever in the cycle.
	"both_open": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		intake, exhaust := finding.ValveSpans(s.Job)
		alpha := s.angle(e, at)
		return intake != nil && exhaust != nil && intake.Holds(alpha, e.Cycle()) && exhaust.Holds(alpha, e.Cycle())
	}},
	// The injection of a cylinder as it happens.
	"injection": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		shift, err := finding.ShiftOf(s.Job)
		if err != nil {
			return false
		}
		return s.near(s.angle(e, at), -timing.Deg(shift.Injections[max(s.Aim.Cylinder, 1)-1].ActualBTDCDeg), e.Cycle())
	}},
	// The gap of the crank sensor wheel at the sensor.
	"gap": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		p, err := finding.PhaseAt(s.Job, timing.Deg(at))
		if err != nil || p.Wheel == nil {
			return false
		}
		tooth := p.Wheel.Right
		if p.Wheel.Actual != nil {
			tooth = *p.Wheel.Actual
		}
		return tooth.Missing
	}},
	// The camshaft turned on by so many of its own degrees from 0.
	"cam_turned": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		return s.near(timing.CamDeg(s.Aim.Value).Crank(e.Cycle()), timing.Deg(at), 1e9)
	}},
	// All marks of the gears together again, after at least one turn.
	"marks": {Crank, func(s Step, e timing.Scheme, at float64) bool {
		train, err := finding.TrainOf(s.Job)
		if err != nil || !train.TurnsUntilMarksMeet(0).IsInt64() {
			return false
		}
		period := timing.Turn * timing.Deg(train.TurnsUntilMarksMeet(0).Int64())
		return math.Abs(at) > float64(timing.Turn)/2 && s.near(timing.Deg(at), 0, period)
	}},
	"next": {Cylinder, func(s Step, e timing.Scheme, at float64) bool {
		order := e.Order()
		return at == float64(order[(slices.Index(order, s.Aim.Cylinder)+1)%len(order)])
	}},
	"paired": {Cylinder, func(s Step, e timing.Scheme, at float64) bool {
		return slices.Contains(e.Companions(s.Aim.Cylinder), int(at))
	}},
	"wheel_error": {Dowel, func(s Step, _ timing.Scheme, at float64) bool {
		return s.near(timing.Deg(at), timing.Deg(s.Aim.Value), timing.Turn)
	}},
	"dial_middle": {Mark, func(s Step, _ timing.Scheme, at float64) bool {
		return s.Dial != nil && s.near(timing.Deg(at), s.Dial.TDC, timing.Turn)
	}},
}

// angle is the own angle of the aim's cylinder, of cylinder 1 where it names none.
func (s Step) angle(e timing.Scheme, at float64) timing.Deg {
	return e.Angle(max(s.Aim.Cylinder, 1), timing.Deg(at))
}

// near tells whether two angles are as close as the aim asks.
func (s Step) near(a, b, cycle timing.Deg) bool {
	return math.Abs(float64(timing.Difference(a, b, cycle))) <= s.Aim.Tolerance+1e-9
}

// Reached tells whether what was moved, or chosen, is what the step asks for.
func (s Step) Reached(at float64) bool {
	e, err := finding.EngineOf(s.Job)
	return err == nil && rules[s.Aim.Rule].reached(s, e, at)
}
