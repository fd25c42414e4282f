package part

import (
	"errors"
	"fmt"
	"math"

	"pinphase/timing"
)

// Reading is a way of measuring an angle on a crankshaft.
type Reading interface {
	// Measure returns the signed angle in (-180, 180] and its uncertainty, for
	// a crankshaft looked at in the given view. It is an error when the numbers
	// fit no crankshaft.
	Measure(v timing.View) (Result, error)
}

// Result is a measured angle and what had to be assumed for it.
type Result struct {
	timing.Measured
	DefaultU bool // the uncertainty is the method's stated default; none was given
	InLine   bool // the features lie nearly in line with the centre, where this method can hardly tell
}

// Standard uncertainties taken when none is given; common practice, no source:
// a degree wheel read by eye, calipers held over a pin and a keyway, a tape laid
// round a rim.
const (
	DefaultAngleU  timing.Deg = 0.25
	DefaultChordMM            = 0.1
	DefaultArcMM              = 0.25
	// DefaultXYShare is that of a coordinate, as a share of the larger distance
	// from the centre: coordinates may be in any unit.
	DefaultXYShare = 0.002
)

// Given is an uncertainty that may not have been stated.
type Given struct {
	U     float64
	Known bool
}

func (g Given) or(fallback float64) (u float64, isDefault bool) {
	if g.Known {
		return g.U, false
	}
	return fallback, true
}

// Angle is an angle read off directly, as on a degree wheel or a drawing.
type Angle struct {
	Deg  timing.Deg // 0 to 180
	Side timing.Sense
	U    Given // degrees; [DefaultAngleU] when not known
}

// Measure implements [Reading].
func (a Angle) Measure(v timing.View) (Result, error) {
	u, byDefault := a.U.or(float64(DefaultAngleU))
	return result(v.Signed(a.Deg, a.Side), timing.Deg(u), byDefault), nil
}

// Chord is the straight distance between two features, centre to centre, with
// the distance of each from the crankshaft's axis. A second radius of 0 means
// both lie on the first.
type Chord struct {
	ChordMM            float64
	Radius1, Radius2   float64 // mm, above 0; Radius2 may be 0
	Side               timing.Sense
	UChord, URadiusOwn Given // mm; the radii take UChord's when they have none of their own
}

// ErrNoTriangle is wrapped by the error for lengths that cannot close.
var ErrNoTriangle = errors.New("no crankshaft has these lengths")

// Measure implements [Reading]; law of cosines.
func (c Chord) Measure(v timing.View) (Result, error) {
	r1, r2 := c.Radius1, c.Radius2
	same := r2 == 0
	if same {
		r2 = r1
	}
	a, err := lawOfCosines(c.ChordMM, r1, r2)
	if err != nil {
		return Result{}, err
	}
	uc, byDefault := c.UChord.or(DefaultChordMM)
	ur := uc
	if c.URadiusOwn.Known {
		ur = c.URadiusOwn.U
	}
	u, inLine := chordUncertainty(c.ChordMM, r1, r2, a, uc, ur, same)
	r := result(v.Signed(timing.FromRadians(a), c.Side), timing.FromRadians(u), byDefault)
	r.InLine = inLine
	return r, nil
}

// lawOfCosines returns the angle, in radians, between two radii whose ends lie a
// chord apart. A chord within rounding of the straight limits is taken as
// straight.
func lawOfCosines(chord, r1, r2 float64) (float64, error) {
	lo, hi := math.Abs(r1-r2), r1+r2
	if !(chord >= lo*(1-1e-12)-1e-12 && chord <= hi*(1+1e-12)) {
		return 0, fmt.Errorf("%w: with radii of %g and %g mm the chord lies between %.4g and %.4g mm, not %g", ErrNoTriangle, r1, r2, lo, hi, chord)
	}
	cos := (r1*r1 + r2*r2 - chord*chord) / (2 * r1 * r2)
	return math.Acos(math.Max(-1, math.Min(1, cos))), nil
}

// chordUncertainty propagates the lengths' uncertainties to the angle a, all in
// radians and millimetres. Where the features lie in line with the centre to
// within the uncertainty of the lengths, the angle's slope is infinite and the
// law of propagation does not hold; there the angle's change over one standard
// uncertainty of each length is taken instead, and the answer says so.
func chordUncertainty(chord, r1, r2, a, uc, ur float64, same bool) (u float64, inLine bool) {
	sin := math.Sin(a)
	reach := uc + 2*ur
	if same {
		// A = 2 asin(c/2r): only the far limit is singular.
		if half := math.Cos(a / 2); 2*r1-chord > reach {
			return math.Hypot(uc/(r1*half), ur*2*math.Tan(a/2)/r1), false
		}
	} else if chord-math.Abs(r1-r2) > reach && r1+r2-chord > reach {
		dc := chord / (r1 * r2 * sin)
		d1 := (math.Cos(a)/r1 - 1/r2) / sin
		d2 := (math.Cos(a)/r2 - 1/r1) / sin
		return math.Sqrt(dc*dc*uc*uc + (d1*d1+d2*d2)*ur*ur), false
	}
	step := func(dc, d1, d2 float64) float64 {
		s := 0.0
		for _, sign := range []float64{-1, 1} {
			q1, q2 := r1+sign*d1, r2+sign*d2
			q := math.Max(math.Abs(q1-q2), math.Min(q1+q2, chord+sign*dc))
			if b, err := lawOfCosines(q, q1, q2); err == nil {
				s = math.Max(s, math.Abs(b-a))
			}
		}
		return s
	}
	if same {
		return math.Hypot(step(uc, 0, 0), step(0, ur, ur)), true
	}
	return math.Sqrt(sq(step(uc, 0, 0)) + sq(step(0, ur, 0)) + sq(step(0, 0, ur))), true
}

func sq(x float64) float64 { return x * x }

// Arc is a length along a round rim, as with a tape.
type Arc struct {
	ArcMM, RimRadiusMM float64 // above 0; the arc at most half the rim
	Side               timing.Sense
	UArc, URadiusOwn   Given // mm; [DefaultArcMM]; the radius takes UArc's when it has none of its own
}

// Measure implements [Reading]: angle = arc/radius.
func (a Arc) Measure(v timing.View) (Result, error) {
	angle := a.ArcMM / a.RimRadiusMM
	if !(angle >= 0 && angle <= math.Pi*(1+1e-9)) {
		return Result{}, fmt.Errorf("%w: an arc of %g mm is more than half of a rim of radius %g mm; measure the shorter way round", ErrNoTriangle, a.ArcMM, a.RimRadiusMM)
	}
	ua, byDefault := a.UArc.or(DefaultArcMM)
	ur := ua
	if a.URadiusOwn.Known {
		ur = a.URadiusOwn.U
	}
	u := math.Hypot(ua, angle*ur) / a.RimRadiusMM
	return result(v.Signed(timing.FromRadians(angle), a.Side), timing.FromRadians(u), byDefault), nil
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
	fx, fy := c.From.X-c.Centre.X, c.From.Y-c.Centre.Y
	tx, ty := c.To.X-c.Centre.X, c.To.Y-c.Centre.Y
	rf, rt := math.Hypot(fx, fy), math.Hypot(tx, ty)
	if !(rf > 0 && rt > 0) {
		return Result{}, fmt.Errorf("%w: a feature lies in the centre", ErrNoTriangle)
	}
	// With y up as seen, atan2 grows anticlockwise.
	turned := timing.WrapSigned(timing.FromRadians(math.Atan2(ty, tx)-math.Atan2(fy, fx)), timing.Turn)
	uc, byDefault := c.U.or(DefaultXYShare * math.Max(rf, rt))
	// The two features enter with 1/r each, the centre with the difference of
	// the two gradients, whose length is (distance between features)/(rf*rt).
	apart := math.Hypot(tx-fx, ty-fy)
	u := uc * math.Sqrt(1/(rf*rf)+1/(rt*rt)+sq(apart/(rf*rt)))
	return result(v.Signed(turned, timing.Anticlockwise), timing.FromRadians(u), byDefault), nil
}

func result(signed, u timing.Deg, byDefault bool) Result {
	return Result{Measured: timing.Measured{Value: timing.WrapSigned(signed, timing.Turn), U: u}, DefaultU: byDefault}
}
