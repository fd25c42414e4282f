package figure

import (
	"fmt"

	"pinphase.org/pinphase/timing"
)

// aPart is a part of the drawing's angle with what was measured on it, plus or
// minus u; all invented.
func aPart(name string, drawing, measured, u timing.Deg) MeasuredPart {
	return MeasuredPart{Name: name, Drawing: &drawing, Measured: &measured, Interval: &[2]timing.Deg{measured - u, measured + u},
		DrawingTag:  Tag{"as drawn", signed(drawing)},
		MeasuredTag: Tag{"as measured", fmt.Sprintf("%s ± %.1f°", signed(measured), float64(u))},
		MirroredTag: Tag{"drawing mirrored", signed(-drawing)},
		ErrorTag:    Tag{"off by", signed(timing.Difference(drawing, measured, timing.Turn))}}
}

// partInput is one part, as seen from the nose of a clockwise engine.
func partInput(drawing, measured, u timing.Deg) PartInput {
	return PartInput{Parts: []MeasuredPart{aPart("new", drawing, measured, u)}, Keyway: "keyway", Throw: "No. 1 throw",
		Heading: "The dowel", Title: "The dowel", Desc: "The crankshaft's end with its dowel",
		Caption: []string{"Seen from the nose; the engine turns clockwise.", "The keyway stands at the top: its angle from the throw is not in the job."}}
}

// twoParts is a new part beside an old one.
func twoParts(drawing, fresh, old timing.Deg) PartInput {
	in := partInput(drawing, fresh, 0.6)
	in.Parts = append(in.Parts, aPart("old", drawing, old, 1.5))
	in.Apart = Tag{"new from old", signed(timing.Difference(old, fresh, timing.Turn))}
	return in
}
