package part

import (
	"math"
	"strconv"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
)

// Reading is a way of measuring an angle on a crankshaft.
type Reading interface {
	// Measure returns the signed angle in (-180, 180] and its uncertainty, for
	// a crankshaft looked at in the given view. It is an error when the numbers
	// fit no crankshaft.
	Measure(v timing.View) (Result, error)
}

// Standard uncertainties of angles taken when none is given; common practice, no source.
const (
	DefaultAngleU timing.Deg = 0.25 // a degree wheel, read against a pointer
	DefaultEyeU   timing.Deg = 2    // an angle of which nobody says what it was read with
)

// Standard uncertainties of lengths taken when none is given; common practice, no
// source: calipers held over a pin and a keyway, a tape laid round a rim.
const (
	DefaultChordMM = 0.1
	DefaultArcMM   = 0.25
	// DefaultXYShare is that of a coordinate, as a share of the larger distance
	// from the centre: coordinates may be in any unit.
	DefaultXYShare = 0.002
)

// ErrNoTriangle is wrapped by the error for lengths that cannot close.
var ErrNoTriangle = phrase.Errorf("a crankshaft with these lengths is impossible")

// Angle is an angle read off directly, by eye or with a protractor, or that of a drawing.
type Angle struct {
	Deg   timing.Deg // 0 to 180
	Again []float64  // further readings of it
	Side  timing.Sense
	U     Given // degrees; [DefaultEyeU] when not known
}

// Measure implements [Reading].
func (a Angle) Measure(v timing.View) (Result, error) {
	u, byDefault := a.U.or(float64(DefaultEyeU))
	var in inputs
	angle := in.repeated(ReadAngle, float64(a.Deg), a.Again, u)
	return evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, a.Side, angle)}, byDefault), nil
}

// signed makes a model of the size of an angle in degrees and the side it is
// seen on.
func signed(v timing.View, side timing.Sense, size pick) func(x []float64) float64 {
	return func(x []float64) float64 { return float64(v.Signed(timing.Deg(size(x)), side)) }
}

// Chord is the straight distance between two features, centre to centre, with
// the distance of each from the crankshaft's axis. A second radius of 0 means
// both lie on the first. [Caliper] is the distance over a pin and a key.
type Chord struct {
	ChordMM            float64
	Again              []float64 // further readings of the chord, mm
	Radius1, Radius2   float64   // mm, above 0; Radius2 may be 0
	Side               timing.Sense
	UChord, URadiusOwn Given // mm; the radii take UChord's when they have none of their own
}

// Measure implements [Reading]; law of cosines.
func (c Chord) Measure(v timing.View) (Result, error) {
	r2 := c.Radius2
	if r2 == 0 {
		r2 = c.Radius1
	}
	if err := each(c.ChordMM, c.Again, func(chord float64) error { return closes(chord, c.Radius1, r2) }); err != nil {
		return Result{}, err
	}
	uc, byDefault := c.UChord.or(DefaultChordMM)
	ur, _ := c.URadiusOwn.or(uc)
	var in inputs
	chord := in.repeated(ReadChord, c.ChordMM, c.Again, uc)
	r1 := in.single(ReadRadius1, c.Radius1, ur)
	second := r1
	if c.Radius2 != 0 {
		second = in.single(ReadRadius2, c.Radius2, ur)
	}
	angle := func(x []float64) float64 { return lawOfCosines(chord(x), r1(x), second(x)) }
	r := evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, c.Side, angle)}, byDefault)
	r.InLine = r.Drawn != nil
	return r, nil
}

// each tries a reading and its repetitions and returns the first error.
func each(first float64, again []float64, try func(float64) error) error {
	if err := try(first); err != nil {
		return err
	}
	for _, v := range again {
		if err := try(v); err != nil {
			return err
		}
	}
	return nil
}

// closes tells whether a chord can join two radii. A chord within rounding of
// the straight limits does.
func closes(chord, r1, r2 float64) error {
	lo, hi := math.Abs(r1-r2), r1+r2
	if !(chord >= lo*(1-1e-12)-1e-12 && chord <= hi*(1+1e-12)) {
		return phrase.Errorf("%v: at distances of %s and %s from the axis the straight distance is between %s and %s, not %s", ErrNoTriangle, mm(r1).Plain(), mm(r2), mm(lo).Plain(), mm(hi), mm(chord).Plain())
	}
	return nil
}

// lawOfCosines returns the angle, in degrees, between two radii whose ends lie a
// chord apart. Lengths that cannot close, as a draw may have them, are taken as
// in line, which is the crankshaft nearest to them.
func lawOfCosines(chord, r1, r2 float64) float64 {
	if !(r1 > 0 && r2 > 0) {
		return 0 // a draw of a radius uncertain by its own size
	}
	// The half-angle form keeps its digits where the chord is nearly straight:
	// tan(A/2)^2 = (c^2-(r1-r2)^2)/((r1+r2)^2-c^2).
	near := (chord - (r1 - r2)) * (chord + (r1 - r2))
	far := ((r1 + r2) - chord) * ((r1 + r2) + chord)
	return 2 * math.Atan2(math.Sqrt(math.Max(0, near)), math.Sqrt(math.Max(0, far))) * 180 / math.Pi
}

// Arc is a length along a round rim, as with a tape.
type Arc struct {
	ArcMM            float64   // above 0, at most half the rim
	Again            []float64 // further readings of the arc, mm
	RimRadiusMM      float64   // above 0
	Side             timing.Sense
	UArc, URadiusOwn Given // mm; [DefaultArcMM]; the radius takes UArc's when it has none of its own
}

// Measure implements [Reading]: angle = arc/radius.
func (a Arc) Measure(v timing.View) (Result, error) {
	err := each(a.ArcMM, a.Again, func(arc float64) error {
		if angle := arc / a.RimRadiusMM; !(angle >= 0 && angle <= math.Pi*(1+1e-9)) {
			return phrase.Errorf("%v: an arc of %s is more than half of a rim of radius %s; measure the shorter way round", ErrNoTriangle, mm(arc), mm(a.RimRadiusMM))
		}
		return nil
	})
	if err != nil {
		return Result{}, err
	}
	ua, byDefault := a.UArc.or(DefaultArcMM)
	ur, _ := a.URadiusOwn.or(ua)
	var in inputs
	arc := in.repeated(ReadArc, a.ArcMM, a.Again, ua)
	rim := in.single(ReadRim, a.RimRadiusMM, ur)
	angle := func(x []float64) float64 {
		// A draw of a rim uncertain by its own size goes no further than round.
		return math.Min(arc(x)/math.Max(rim(x), math.SmallestNonzeroFloat32)*180/math.Pi, 360)
	}
	return evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, a.Side, angle)}, byDefault), nil
}

// Point is a position in the picture plane, y up as seen, in any unit.
type Point struct{ X, Y float64 }

// Coordinates are the axis and the two features as points; they say the side
// themselves.
type Coordinates struct {
	Centre, From, To Point // neither feature in the centre
	U                Given // of each coordinate; [DefaultXYShare] of the larger radius
}

// Measure implements [Reading].
func (c Coordinates) Measure(v timing.View) (Result, error) {
	rf := math.Hypot(c.From.X-c.Centre.X, c.From.Y-c.Centre.Y)
	rt := math.Hypot(c.To.X-c.Centre.X, c.To.Y-c.Centre.Y)
	if !(rf > 0 && rt > 0) {
		return Result{}, phrase.Errorf("%v: a feature lies in the centre", ErrNoTriangle)
	}
	uc, byDefault := c.U.or(DefaultXYShare * math.Max(rf, rt))
	var in inputs
	point := func(name string, p Point) (x, y pick) {
		return in.single(name, p.X, uc), in.single(name, p.Y, uc)
	}
	cx, cy := point(ReadCentre, c.Centre)
	fx, fy := point(ReadFrom, c.From)
	tx, ty := point(ReadTo, c.To)
	// With y up as seen, atan2 grows anticlockwise.
	turned := func(x []float64) timing.Deg {
		return timing.FromRadians(math.Atan2(ty(x)-cy(x), tx(x)-cx(x)) - math.Atan2(fy(x)-cy(x), fx(x)-cx(x)))
	}
	at := turned([]float64{c.Centre.X, c.Centre.Y, c.From.X, c.From.Y, c.To.X, c.To.Y})
	at = timing.WrapSigned(at, timing.Turn)
	// From there the short way, so that nothing jumps where atan2 or the half turn do.
	size := func(x []float64) float64 { return float64(at + timing.Difference(at, turned(x), timing.Turn)) }
	return evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, timing.Anticlockwise, size)}, byDefault), nil
}

// mm is a length for a message, to the four digits that anybody reads.
func mm(v float64) phrase.Value {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64) // what was just written
	return phrase.MM(r)
}
