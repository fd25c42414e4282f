package part

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
)

// Over says which edges the jaws of a caliper take.
type Over int

// The two ways of holding it.
const (
	Outside Over = iota // over the far side of the pin and the far side of the key
	Inside              // between the near side of the pin and the near side of the key
)

// Seat says what the jaw at the keyway's end rests on.
type Seat int

// The two seats.
const (
	// OnKey: a key stands in the keyway and the jaw lies flat on its flank. The
	// caliper then measures square to the flank, so that the reading is
	// r sin A and half of pin and key; where the keyway is cut how deep does not
	// enter. It holds up to a right angle, where r sin A turns back, for a key
	// that stands straight and far enough out for the jaw to find the flank.
	OnKey Seat = iota
	// OnKeyway: the tip of the jaw is at the edge of the empty keyway, where its
	// wall meets the shaft's surface, and the caliper is swung to the largest
	// reading outside, to the smallest inside. Its line then passes through the
	// centre of the pin (or of its empty hole), and the law of cosines holds from
	// the edge to there. It fails where the edge is chamfered or burred.
	OnKeyway
)

// Caliper is a caliper reading over, or between, a round pin and a key or
// keyway: what is read with pin and key in the way, instead of from centre to
// centre.
type Caliper struct {
	ReadingMM  float64
	Again      []float64 // further readings, mm
	Over       Over
	On         Seat
	PinMM      float64 // diameter of the pin or its hole
	KeyMM      float64 // width of the key or keyway
	Radius1    float64 // of the pin's centre from the axis
	Radius2    float64 // of the shaft at the keyway's edges; OnKeyway only
	Side       timing.Sense
	UReading   Given // mm; [DefaultChordMM]
	URadiusOwn Given // mm; the radii take UReading's when they have none of their own
	USizeOwn   Given // mm; likewise pin and key
}

// Measure implements [Reading]. The angle may come out to the other side of the
// keyway than said when it is less than pin and key are wide.
func (c Caliper) Measure(v timing.View) (Result, error) {
	if err := c.Check(); err != nil {
		return Result{}, err
	}
	uc, byDefault := c.UReading.or(DefaultChordMM)
	ur, _ := c.URadiusOwn.or(uc)
	us, _ := c.USizeOwn.or(uc)
	var in inputs
	reading := in.repeated(ReadChord, c.ReadingMM, c.Again, uc)
	pin, key := in.single(ReadPin, c.PinMM, us), in.single(ReadKey, c.KeyMM, us)
	r1, r2 := in.single(ReadRadius1, c.Radius1, ur), exactly(0)
	if c.On == OnKeyway {
		r2 = in.single(ReadRadius2, c.Radius2, ur)
	}
	angle := func(x []float64) float64 { return c.angle(reading(x), pin(x), key(x), r1(x), r2(x)) }
	r := evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, c.Side, angle)}, byDefault)
	r.InLine = r.Drawn != nil && c.On == OnKeyway
	return r, nil
}

// sign is that of the halves of pin and key in the reading.
func (o Over) sign() float64 {
	if o == Inside {
		return -1
	}
	return 1
}

// angle returns the angle from keyway to pin in degrees. Lengths that no
// crankshaft has, as draws may have them, go to the nearest that one has.
func (c Caliper) angle(reading, pin, key, r1, r2 float64) float64 {
	sign := c.Over.sign()
	if c.On == OnKeyway {
		return lawOfCosines(reading-sign*pin/2, r1, r2) - sign*edgeAngle(key, r2)
	}
	return math.Asin(clamp((reading-sign*(pin+key)/2)/r1)) * 180 / math.Pi
}

// edgeAngle is that from the middle of a keyway to either edge, in degrees, for a
// shaft of the given radius.
func edgeAngle(key, radius float64) float64 {
	return math.Asin(clamp(key/2/radius)) * 180 / math.Pi
}

// clamp keeps a sine within -1 and 1; NaN, of a radius of 0, becomes 0.
func clamp(s float64) float64 {
	if math.IsNaN(s) {
		return 0
	}
	return math.Max(-1, math.Min(1, s))
}

// Check returns an error that wraps [ErrNoTriangle] for readings that no
// crankshaft can give.
func (c Caliper) Check() error { return each(c.ReadingMM, c.Again, c.fits) }

// fits tells whether a crankshaft can give one reading.
func (c Caliper) fits(reading float64) error {
	sign := c.Over.sign()
	switch {
	case !(reading > 0):
		return phrase.Errorf("%v: the caliper reads %s", ErrNoTriangle, mm(reading))
	case c.Over == Outside && reading <= math.Max(c.PinMM, c.KeyMM):
		return phrase.Errorf("%v: outside over a dowel or crankpin of %s and a key of %s a caliper reads more than either, not %s", ErrNoTriangle, mm(c.PinMM).Plain(), mm(c.KeyMM), mm(reading).Plain())
	case c.On == OnKeyway && !(c.KeyMM < 2*c.Radius2):
		return phrase.Errorf("%v: a keyway %s wide does not fit a shaft of radius %s", ErrNoTriangle, mm(c.KeyMM), mm(c.Radius2))
	case c.On == OnKeyway:
		return closes(reading-sign*c.PinMM/2, c.Radius1, c.Radius2)
	}
	if side := reading - sign*(c.PinMM+c.KeyMM)/2; !(math.Abs(side) <= c.Radius1*(1+1e-12)) {
		return phrase.Errorf("%v: the reading puts the dowel or crankpin %s to the side of the keyway, but it is only %s from the axis", ErrNoTriangle, mm(side), mm(c.Radius1))
	}
	return nil
}

// For returns what the caliper would read for an angle of so many degrees to the
// reading's side. It is an error where this way of holding it cannot tell the
// angle: more than a right angle on the key, or the pin in the key's way.
func (c Caliper) For(angle timing.Deg) (float64, error) {
	sign := c.Over.sign()
	reading := c.Radius1*math.Sin(angle.Radians()) + sign*(c.PinMM+c.KeyMM)/2
	if c.On == OnKeyway {
		reading = ChordFor(angle+timing.Deg(sign*edgeAngle(c.KeyMM, c.Radius2)), c.Radius1, c.Radius2) + sign*c.PinMM/2
	}
	if err := c.fits(reading); err != nil {
		return 0, err
	}
	if back := c.angle(reading, c.PinMM, c.KeyMM, c.Radius1, c.Radius2); math.Abs(back-float64(angle)) > 1e-6 {
		return 0, phrase.Errorf("%v: an angle of %g degrees cannot be read this way", ErrNoTriangle, float64(angle))
	}
	return reading, nil
}
