package piston

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Motion is how a piston stands and moves at one crank angle. Down is positive.
// The derivatives are taken over the crank angle in radians, so that they hold at
// any speed.
type Motion struct {
	DropMM  float64 // below top dead centre
	SlopeMM float64 // mm per radian
	BendMM  float64 // mm per radian squared
}

// Motion returns drop, slope and bend when the cylinder's own angle is alpha.
// The linkage must pass [SliderCrank.Check].
//
// With th counted from where the throw points along the cylinder, a the throw,
// l the rod, e the offset and u = a sin th - e, the wrist pin stands
// a cos th + sqrt(l^2 - u^2) above the crankshaft (Heywood 1988, eq. 2.5, with
// the offset); the derivatives follow from that.
func (s SliderCrank) Motion(alpha timing.Deg) Motion {
	sin, cos := math.Sincos((alpha + s.TDC()).Radians())
	a := s.ThrowMM
	u := a*sin - s.OffsetMM
	root := math.Sqrt(s.RodMM*s.RodMM - u*u)
	du := a * cos
	return Motion{
		DropMM:  s.DropMM(alpha),
		SlopeMM: a*sin + u*du/root,
		BendMM:  a*cos + (du*du-u*a*sin)/root + u*u*du*du/(root*root*root),
	}
}

// radPerS is the speed of a crankshaft.
func radPerS(rpm float64) float64 { return rpm * math.Pi / 30 }

// VelocityMS returns the piston's velocity in m/s, positive on its way down, at
// a steady rpm.
func (s SliderCrank) VelocityMS(alpha timing.Deg, rpm float64) float64 {
	return s.Motion(alpha).SlopeMM / 1000 * radPerS(rpm)
}

// AccelerationMS2 returns the piston's acceleration in m/s^2, positive
// downwards, at a steady rpm.
func (s SliderCrank) AccelerationMS2(alpha timing.Deg, rpm float64) float64 {
	w := radPerS(rpm)
	return s.Motion(alpha).BendMM / 1000 * w * w
}

// MeanSpeedMS returns the mean piston speed in m/s: two travels a turn (Heywood
// 1988, eq. 2.9).
func (s SliderCrank) MeanSpeedMS(rpm float64) float64 {
	return 2 * s.TravelMM() / 1000 * rpm / 60
}
