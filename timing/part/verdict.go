package part

import (
	"math"

	"pinphase/timing"
)

// Verdict is how probable each reading of a measured part is; the three sum
// to 1.
type Verdict struct {
	AsDrawn, Mirrored, Other float64
}

// What is believed before anything is measured; common practice, no source.
// Most parts are right; a hole drilled on the wrong side is the classic way to
// be wrong; any other angle is as likely as the next.
const (
	priorAsDrawn  = 0.80
	priorMirrored = 0.08
	priorOther    = 0.12
	// A hole made where it was meant to be still misses by fits and marking
	// out: tenths of a degree at the radii of a crankshaft's nose.
	makingU timing.Deg = 0.3
)

// Judge weighs, by Bayes' rule, whether a part is as drawn, mirrored to the
// other side of the datum, or something else.
func Judge(c Comparison) Verdict {
	u := math.Sqrt(sq(float64(c.Drawing.U)) + sq(float64(c.Measured.U)) + sq(float64(makingU)))
	density := func(at timing.Deg) float64 {
		z := float64(timing.Difference(at, c.Measured.Value, timing.Turn)) / u
		return math.Exp(-z*z/2) / (u * math.Sqrt(2*math.Pi))
	}
	drawn := priorAsDrawn * density(c.Drawing.Value)
	mirrored := priorMirrored * density(-c.Drawing.Value)
	other := priorOther / float64(timing.Turn)
	sum := drawn + mirrored + other
	return Verdict{drawn / sum, mirrored / sum, other / sum}
}

// IsMirrored tells whether a mirrored part is the most probable reading.
func (v Verdict) IsMirrored() bool { return v.Mirrored > v.AsDrawn && v.Mirrored > v.Other }
