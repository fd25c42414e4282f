package piston

import (
	"errors"
	"math"

	"pinphase.org/pinphase/timing"
)

// Cylinder is a linkage with a bore and a compression ratio.
type Cylinder struct {
	SliderCrank
	BoreMM float64 // above 0
	Ratio  float64 // largest over smallest volume, at the true dead centres; above 1
}

// Errors of a cylinder that cannot be.
var (
	ErrBore  = errors.New("piston: the bore must be above 0")
	ErrRatio = errors.New("piston: the compression ratio must be above 1")
)

// Check tells whether the cylinder can be.
func (c Cylinder) Check() error {
	switch {
	case !(c.BoreMM > 0) || math.IsInf(c.BoreMM, 1):
		return ErrBore
	case !(c.Ratio > 1) || math.IsInf(c.Ratio, 1):
		return ErrRatio
	}
	return c.SliderCrank.Check()
}

// areaCM2 is the piston's.
func (c Cylinder) areaCM2() float64 { return math.Pi / 4 * c.BoreMM * c.BoreMM / 100 }

// SweptCM3 returns the volume the piston passes between its true dead centres.
// With a pin offset that is a little more than bore area times twice the throw.
func (c Cylinder) SweptCM3() float64 { return c.areaCM2() * c.TravelMM() / 10 }

// ClearanceCM3 returns what is left at top dead centre (Heywood 1988, eq. 2.1
// solved for it).
func (c Cylinder) ClearanceCM3() float64 { return c.SweptCM3() / (c.Ratio - 1) }

// VolumeCM3 returns the cylinder's volume when its own angle is alpha.
func (c Cylinder) VolumeCM3(alpha timing.Deg) float64 {
	return c.ClearanceCM3() + c.areaCM2()*c.DropMM(alpha)/10
}

// VolumeRatio returns the volume over the clearance, 1 at top dead centre and
// the compression ratio at bottom dead centre (Heywood 1988, eq. 2.6). It does
// not depend on the bore.
func (c Cylinder) VolumeRatio(alpha timing.Deg) float64 {
	return 1 + (c.Ratio-1)*c.DropMM(alpha)/c.TravelMM()
}
