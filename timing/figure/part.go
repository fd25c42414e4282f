package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// PartInput is what the part figure shows: the end of a crankshaft to scale of
// angle, as seen from View.From, with the drawing's angle, the measured one and
// its 95 % interval. Two parts are shown side by side, or laid over each other.
// Every angle is signed, positive in the direction of rotation.
type PartInput struct {
	View    timing.View
	Feature PartFeature
	Parts   []MeasuredPart // one or two; further ones are not shown
	Overlay bool           // two parts over each other, on the keyway (on the throw for [KeywayFromThrow])

	Heading, Title, Desc string
	Caption              []string // lines under the figure: the end it is seen from, assumptions
	Keyway, Throw        string   // their labels; empty: none
	Apart                Tag      // from the second part's measured angle to the first's, of an overlay
}

// PartFeature is the angle a part figure is about.
type PartFeature uint8

// The two angles on the end of a crankshaft.
const (
	DowelFromKeyway PartFeature = iota
	KeywayFromThrow
)

// MeasuredPart is one crankshaft of the figure.
type MeasuredPart struct {
	Name string // over it where there are two: "new", "old"

	// KeywayAt is the keyway's angle from the No. 1 throw, which then stands at
	// the top. Nil: not known, and the keyway stands at the top. It does not
	// count for [KeywayFromThrow].
	KeywayAt *timing.Deg
	// Drawing and Measured are the feature's angles; nil: not known.
	Drawing, Measured *timing.Deg
	// Interval is that of 95 % round Measured, from its lower end, which is not
	// wrapped, to the upper; nil: none.
	Interval *[2]timing.Deg

	DrawingTag, MeasuredTag Tag
	MirroredTag             Tag // of the drawing's angle on the other side; an empty one leaves the mark out
	ErrorTag                Tag // of the arc from drawing to measured
}

// Tag is a label of two lines, ready for the reader; either may be empty.
type Tag struct{ Word, Value string }

// PartLayout says where the figure has put things.
type PartLayout struct {
	Faces []PartFace // as many as there are circles: an overlay has one
}

// PartFace is where the end face of one part lies.
type PartFace struct {
	X, Y    float64 // the crankshaft's axis
	Ring    float64 // the radius to which rays reach
	Nose    float64 // of the end face
	Feature float64 // on which the feature's middle lies
	View    timing.View
	Datum   timing.Deg // of what the feature's angle counts from, from the top in the direction of rotation
}

// Point returns the place at a radius and at an angle of the feature, positive
// in the direction of rotation.
func (f PartFace) Point(r float64, angle timing.Deg) (x, y float64) {
	return Polar(f.X, f.Y, r, f.page(angle))
}

// Angle is the inverse of [PartFace.Point], in (−180, 180].
func (f PartFace) Angle(x, y float64) timing.Deg {
	page := timing.FromRadians(math.Atan2(x-f.X, f.Y-y))
	return timing.WrapSigned(timing.Deg(PageAngle(f.View, page))-f.Datum, timing.Turn)
}

// page is the page angle of an angle of the feature.
func (f PartFace) page(angle timing.Deg) float64 { return PageAngle(f.View, f.Datum+angle) }

// known leaves out an angle that is no number.
func known(d *timing.Deg) *timing.Deg {
	if d == nil || math.IsNaN(float64(*d)) || math.IsInf(float64(*d), 0) {
		return nil
	}
	return d
}

// sound returns the part without what is no number, and with the interval no
// wider than a turn.
func (p MeasuredPart) sound() MeasuredPart {
	p.KeywayAt, p.Drawing, p.Measured = known(p.KeywayAt), known(p.Drawing), known(p.Measured)
	if p.Interval != nil {
		lo, hi := p.Interval[0], p.Interval[1]
		switch {
		case p.Measured == nil || known(&lo) == nil || known(&hi) == nil || hi < lo:
			p.Interval = nil
		case hi-lo > timing.Turn:
			p.Interval = &[2]timing.Deg{lo, lo + timing.Turn}
		}
	}
	return p
}

// mirrored is the drawing's angle on the other side of the datum; nil when
// there is none or it is the same place.
func (p MeasuredPart) mirrored() *timing.Deg {
	if p.Drawing == nil || p.MirroredTag == (Tag{}) {
		return nil
	}
	m := timing.WrapSigned(-*p.Drawing, timing.Turn)
	if math.Abs(float64(timing.Difference(*p.Drawing, m, timing.Turn))) < 0.05 {
		return nil
	}
	return &m
}
