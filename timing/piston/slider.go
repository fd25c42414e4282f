package piston

import (
	"errors"
	"math"

	"pinphase.org/pinphase/timing"
)

// SliderCrank is the linkage of one cylinder. OffsetMM is how far the wrist
// pin's path passes beside the crankshaft's axis, positive towards the side the
// crankpin swings to just after top dead centre.
type SliderCrank struct {
	ThrowMM  float64 // crank radius, half of "twice the throw"; above 0
	RodMM    float64 // between centres; longer than throw and offset together
	OffsetMM float64
}

// ErrCannotTurn is returned for a rod that jams the linkage.
var ErrCannotTurn = errors.New("piston: the rod must be longer than half the stroke and the pin offset together")

// Check tells whether the linkage can turn all the way round.
func (s SliderCrank) Check() error {
	if !(s.ThrowMM > 0) || !(s.RodMM > s.ThrowMM+math.Abs(s.OffsetMM)) {
		return ErrCannotTurn
	}
	return nil
}

// TDC returns the crank angle of the real top dead centre, measured from where
// the throw points along the cylinder: sin = offset/(rod+throw).
func (s SliderCrank) TDC() timing.Deg {
	return timing.FromRadians(math.Asin(s.OffsetMM / (s.RodMM + s.ThrowMM)))
}

// BDC returns a cylinder's own angle at its real bottom dead centre: exactly 180
// without an offset, a fraction of a degree away with one.
func (s SliderCrank) BDC() timing.Deg {
	return 180 + timing.FromRadians(math.Asin(s.OffsetMM/(s.RodMM-s.ThrowMM))) - s.TDC()
}

// TravelMM returns how far the piston moves between its dead centres: twice the
// throw without an offset, a little more with one.
func (s SliderCrank) TravelMM() float64 { return s.DropMM(s.BDC()) }

// DropMM returns how far the piston stands below its top dead centre when the
// cylinder's own angle is alpha. The linkage must pass [SliderCrank.Check].
func (s SliderCrank) DropMM(alpha timing.Deg) float64 {
	top := math.Sqrt((s.RodMM+s.ThrowMM)*(s.RodMM+s.ThrowMM) - s.OffsetMM*s.OffsetMM)
	th := (alpha + s.TDC()).Radians()
	side := s.ThrowMM*math.Sin(th) - s.OffsetMM
	drop := top - s.ThrowMM*math.Cos(th) - math.Sqrt(s.RodMM*s.RodMM-side*side)
	return math.Max(0, drop) // rounding may leave a hair below 0 at top dead centre
}
