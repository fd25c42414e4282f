package photo

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Point is a position in the picture, in pixels, y down.
type Point struct{ X, Y float64 }

func (p Point) minus(o Point) Point { return Point{p.X - o.X, p.Y - o.Y} }
func (p Point) length() float64     { return math.Hypot(p.X, p.Y) }

// Marks are the points placed on the picture. Either Dowel or Throw is given.
type Marks struct {
	Rim    []Point // round the rim of the face, 5 or more; may be left out with Bolts
	Keyway []Point // the two corners where the walls of the keyway meet the rim
	Dowel  []Point // one, its middle; or 3 and more on its edge where it meets the face
	Throw  []Point // the same of the No. 1 crankpin
	Bolts  []Point // all of an evenly spaced circle round the axis, 4 or more; or none
	Centre []Point // the middle of the centre drilling, in the plane of the face; or none
}

// Options say what is known besides the marks. The zero value is usable.
type Options struct {
	Picture Info    // zero when the picture cannot be read; then nothing is known of the camera
	UPx     float64 // standard uncertainty of a click in x and in y, px; 0: worked out from the fit
	Draws   int     // of the Monte Carlo; 0: [DefaultDraws]; fewer are quicker and coarser
	Seed    uint64  // the same seed gives the same answer
}

// DefaultDraws gives the uncertainty to about 2 %: 1/√(2·1000).
const DefaultDraws = 1000

// Basis is what the perspective of the face was worked out from.
type Basis int

// The bases, poorest first.
const (
	RimOnly Basis = iota
	RimAndCentre
	BoltCircle
)

// String returns the text in English.
func (b Basis) String() string { return string(b.Text()) }

// Text returns words for the basis.
func (b Basis) Text() phrase.Text {
	return [...]phrase.Text{"rim alone", "rim and centre", "bolt circle"}[b]
}

// Result is the angle on the face and what it rests on.
type Result struct {
	// Clockwise is the angle from the keyway to the dowel, or from the throw to
	// the keyway, clockwise as seen, in (-180, 180], with its standard
	// uncertainty from click scatter, tilt and perspective.
	Clockwise timing.Measured
	Basis     Basis

	Tilt     timing.Measured // between the line of sight and the face's axis, 0 looking square at it
	Distance [2]float64      // plausible least and most distance of the camera, in rim diameters (bolt circle diameters without a rim)
	// PerspectiveU is the part of the uncertainty that the unknown perspective
	// has, for RimOnly; 0 otherwise.
	PerspectiveU timing.Deg

	UPx        float64    // click uncertainty that was used, px; stretched by Student's t when it was worked out
	DefaultU   bool       // it was worked out, none was given
	ResidualPx float64    // root mean square distance of the rim points from the ellipse
	BoltPx     float64    // root mean square distance of the bolts from the fitted circle; 0 without
	ArcSpan    timing.Deg // of the rim that the points cover, 0 to 360
	Rim        Ellipse    // to draw over the picture; zero when only bolts were marked
	Centre     Point      // where the axis meets the face
	KeywayAt   Point      // in the middle between the corners
	FeatureAt  Point      // middle of the dowel or throw
	Warnings   []Warning

	face       mat3    // from the face, rim radius 1, to the picture
	fromRad    float64 // direction of the keyway on the face
	keywayDist float64
}

// On returns where in the picture a point of the face lies that is the given
// angle clockwise of the keyway, its distance from the axis in rim radii
// (bolt circle radii for [BoltCircle]). NaN beyond the horizon of the face.
func (r Result) On(clockwise timing.Deg, radius float64) Point {
	sin, cos := math.Sincos(r.fromRad + clockwise.Radians())
	p, ok := r.face.apply(Point{radius * cos, radius * sin})
	if !ok {
		return Point{math.NaN(), math.NaN()}
	}
	return p
}

// MarkError is an error in one list of marks; Key is "rim", "keyway", "dowel",
// "throw", "bolts" or "centre".
type MarkError struct {
	Key     string
	Message string
	Says    phrase.Sentence // the message as data
}

// Error implements error.
func (e *MarkError) Error() string { return e.Key + ": " + e.Message }

func fault(key string, format phrase.Text, args ...any) error {
	says := phrase.Of(format, args...)
	return &MarkError{key, says.String(), says}
}

// farthest is beyond any picture; squares and fourth powers of it keep digits
// enough.
const farthest = 1e6

func (m Marks) check() error {
	for _, l := range []struct {
		key    string
		points []Point
	}{{"rim", m.Rim}, {"keyway", m.Keyway}, {"dowel", m.Dowel}, {"throw", m.Throw}, {"bolts", m.Bolts}, {"centre", m.Centre}} {
		for i, p := range l.points {
			if !(math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest) {
				return fault(l.key, "point %d is at [%g, %g], far outside any picture", i+1, p.X, p.Y)
			}
		}
	}
	if len(m.Bolts) == 0 && len(m.Rim) < 5 {
		return fault("rim", "has %d points; give five or more, spread round the rim", len(m.Rim))
	}
	if len(m.Keyway) != 2 {
		return fault("keyway", "has %d points; give the two corners where its walls meet the rim", len(m.Keyway))
	}
	if m.Keyway[0] == m.Keyway[1] {
		return fault("keyway", "both corners are the same point")
	}
	key, feature := m.feature()
	if len(m.Dowel) > 0 && len(m.Throw) > 0 {
		return fault("throw", "dowel and throw are both marked; one angle at a time is measured")
	}
	if n := len(feature); n != 1 && n < 3 {
		return fault(key, "has %d points; give one, its middle, or three or more on its edge", n)
	}
	if n := len(m.Bolts); n > 0 && n < 4 {
		return fault("bolts", "has %d points; give all of an evenly spaced circle, four at least, or none", n)
	}
	if len(m.Centre) > 1 {
		return fault("centre", "has %d points; give the one of the centre drilling, or none", len(m.Centre))
	}
	return nil
}

// feature returns the marks at the other end of the angle than the keyway.
func (m Marks) feature() (key string, points []Point) {
	if len(m.Throw) > 0 {
		return "throw", m.Throw
	}
	return "dowel", m.Dowel
}
