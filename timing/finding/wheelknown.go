package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
)

// wheelErrorOf is what a job's crankshaft is off by and how that is known: the one
// place from which every answer takes it.
func wheelErrorOf(j job.Job) (errorsOf, error) {
	dowel, keyway, err := features(j)
	if err != nil {
		return errorsOf{}, err
	}
	e, err := compare(dowel, keyway)
	if j.Supposed.Has(supposedWheel) { // whatever was measured, and even where it cannot be compared
		e.dowel, e.keyway = dowel, keyway
		e.wheel, e.wheelDOF = timing.Measured{Value: timing.Deg(j.Supposed.WheelErrorDeg.Value)}, 0
		e.basis = known.Supposed
		return e, nil
	}
	return e, err
}

// told tells whether somebody has seen or said where the wheel is, so that it has an
// uncertainty.
func (e errorsOf) told() bool { return e.basis >= known.Stated }

// BasisOf returns how a job's wheel error is known; [known.Unknown] where it cannot be
// worked out.
func BasisOf(j job.Job) known.Basis {
	e, err := wheelErrorOf(j)
	if err != nil {
		return known.Unknown
	}
	return e.basis
}
