package timing

import "pinphase.org/pinphase/timing/phrase"

// Stroke is what a cylinder is doing.
type Stroke int

// The strokes, in the order in which they follow firing. A two-stroke has only
// Power and Compression; its gas exchange goes on round bottom dead centre.
const (
	Power Stroke = iota
	Exhaust
	Intake
	Compression
)

// String returns "power", "exhaust", "intake" or "compression".
func (s Stroke) String() string {
	return string(s.Text())
}

// Text is the stroke as a term.
func (s Stroke) Text() phrase.Text {
	return [...]phrase.Text{"power", "exhaust", "intake", "compression"}[s]
}

// ParseStroke reads what [Stroke.String] writes.
func ParseStroke(name string) (Stroke, bool) {
	for s := Power; s <= Compression; s++ {
		if s.String() == name {
			return s, true
		}
	}
	return 0, false
}

// InSentence names the stroke in a sentence: "power stroke", one word in some
// languages.
func (s Stroke) InSentence() phrase.Text {
	return [...]phrase.Text{"power stroke", "exhaust stroke", "intake stroke", "compression stroke"}[s]
}

// StrokeAt returns the stroke at a cylinder's own angle, any number of cycles
// away. Strokes are half-open: at exactly 180 the next one has begun.
func (s Scheme) StrokeAt(alpha Deg) Stroke {
	i := int(s.settle(alpha) / 180)
	if s.strokes == 2 {
		return [...]Stroke{Power, Compression}[i]
	}
	return Stroke(i)
}

// Span is a stretch of a cylinder's cycle, from and to in its own angle;
// To may exceed the cycle when the stretch runs on into the next.
type Span struct {
	From, To Deg
}

// StrokeSpans returns the strokes of a cycle in order from firing top dead
// centre, each with its half-open span; they partition [0, cycle).
func (s Scheme) StrokeSpans() []struct {
	Stroke Stroke
	Span   Span
} {
	type item = struct {
		Stroke Stroke
		Span   Span
	}
	var list []item
	for a := Deg(0); a < s.Cycle(); a += 180 {
		list = append(list, item{s.StrokeAt(a), Span{a, a + 180}})
	}
	return list
}
