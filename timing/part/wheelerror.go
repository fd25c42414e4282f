package part

import "pinphase.org/pinphase/timing"

// Comparison is a feature's angle as the drawing has it and as it was measured.
type Comparison struct {
	Drawing, Measured timing.Measured
	DOF               float64 // effective degrees of freedom of the measurement; 0: no limit
}

// Error returns measured minus drawing, the short way round.
func (c Comparison) Error() timing.Measured {
	e := c.Measured.Minus(c.Drawing)
	e.Value = tidy(timing.WrapSigned(e.Value, timing.Turn))
	return e
}

// GearError returns how far the crank gear, and with it the camshaft and the
// valves, is ahead of where it belongs: the error of the keyway from the No. 1
// throw. A keyway that was not measured counts as right.
func GearError(keyway *Comparison) timing.Measured {
	if keyway == nil {
		return timing.Measured{}
	}
	return keyway.Error()
}

// WheelError returns how far the sensor wheel is ahead of where it belongs: the
// gear error and the error of the dowel from the keyway together, the short way
// round. Their uncertainties add in quadrature.
func WheelError(keyway *Comparison, dowel Comparison) timing.Measured {
	e := GearError(keyway).Plus(dowel.Error())
	e.Value = tidy(timing.WrapSigned(e.Value, timing.Turn))
	return e
}

// tidy takes away the rounding of a difference of equal angles, so that a part
// made to the drawing has an error of 0 and not of 1e-15.
func tidy(d timing.Deg) timing.Deg {
	if d > -1e-9 && d < 1e-9 {
		return 0
	}
	return d
}
