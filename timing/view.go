package timing

import "pinphase.org/pinphase/timing/phrase"

// Sense is a sense of turning as someone sees it. It means nothing without the
// end from which they look; [View] holds the two together.
type Sense int

// The two senses.
const (
	Clockwise Sense = iota
	Anticlockwise
)

// Other returns the opposite sense.
func (s Sense) Other() Sense { return 1 - s }

// String returns "clockwise" or "anticlockwise", as in the job file.
func (s Sense) String() string {
	if s == Anticlockwise {
		return "anticlockwise"
	}
	return "clockwise"
}

// Text is the sense as a term.
func (s Sense) Text() phrase.Text {
	if s == Anticlockwise {
		return "anticlockwise"
	}
	return "clockwise"
}

// ParseSense reads what [Sense.String] writes.
func ParseSense(s string) (Sense, bool) {
	switch s {
	case "clockwise":
		return Clockwise, true
	case "anticlockwise":
		return Anticlockwise, true
	}
	return 0, false
}

// SenseText is what [Sense.String] wrote, as a term.
func SenseText(s string) phrase.Text {
	sense, _ := ParseSense(s)
	return sense.Text()
}

// End is an end of the crankshaft to look from.
type End int

// The two ends.
const (
	Nose End = iota
	Flywheel
)

// String returns "nose" or "flywheel", as in the job file.
func (e End) String() string {
	if e == Flywheel {
		return "flywheel"
	}
	return "nose"
}

// ParseEnd reads what [End.String] writes.
func ParseEnd(s string) (End, bool) {
	switch s {
	case "nose":
		return Nose, true
	case "flywheel":
		return Flywheel, true
	}
	return 0, false
}

// View is how someone looks at a crankshaft: from which end, and which way the
// engine turns as seen from the nose.
type View struct {
	From     End
	Rotation Sense // as seen from the nose
}

// Rotates returns the sense in which the crankshaft turns in this view.
func (v View) Rotates() Sense {
	if v.From == Flywheel {
		return v.Rotation.Other()
	}
	return v.Rotation
}

// Signed turns an angle that is seen on the given side (0 to 180 degrees
// clockwise or anticlockwise of something, in this view) into an angle on the
// part, positive in the direction of rotation. It is the only place where a
// side becomes a sign.
func (v View) Signed(magnitude Deg, side Sense) Deg {
	if side == v.Rotates() {
		return magnitude
	}
	return -magnitude
}

// Seen is the inverse of [View.Signed]: the size of an angle on the part and
// the side it is seen on. An angle of 0 is seen clockwise.
func (v View) Seen(signed Deg) (magnitude Deg, side Sense) {
	if signed == 0 {
		return 0, Clockwise
	}
	if signed < 0 {
		return -signed, v.Rotates().Other()
	}
	return signed, v.Rotates()
}
