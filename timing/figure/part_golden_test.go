package figure

import (
	"testing"

	"pinphase.org/pinphase/timing"
)

// partDrawings are the part figures and photograph marks whose shapes are kept
// as text.
func partDrawings() map[string]Drawing {
	list := map[string]Drawing{}
	part := func(name string, in PartInput, w, h float64) { list[name], _ = Part(in, Box{W: w, H: h}) }
	part("part-mirrored", partInput(12.5, -12.6, 0.6), 460, 340)
	part("part-small", partInput(14, 14.2, 0.3), 260, 200)
	thrown := partInput(12.5, 40, 2)
	thrown.Parts[0].KeywayAt, thrown.View.From = deg(60), timing.Flywheel
	part("part-throw-flywheel", thrown, 460, 340)
	keyway := partInput(60, 63, 1)
	keyway.Feature, keyway.Heading = KeywayFromThrow, "The keyway"
	part("part-keyway", keyway, 460, 340)
	part("part-two", twoParts(12.5, -12.6, 12.1), 900, 420)
	over := twoParts(12.5, -12.6, 40)
	over.Overlay = true
	part("part-overlay", over, 560, 400)
	list["photo-marks"] = PhotoMarks(aPhoto())
	return list
}

// methodSheet is all method pictures on one page.
func methodSheet(box Box) Drawing {
	page := Drawing{W: 5 * box.W, H: 4 * box.H, Title: "Ways of measuring"}
	for i, p := range methodPictures {
		x, y := float64(i%5)*box.W, float64(i/5)*box.H
		page.Place(MethodPicture(p.kind, box), x, y)
		page.Place(MethodPicture(p.kind.FromThrow(), box), x, y+2*box.H)
	}
	return page
}

func TestGoldenParts(t *testing.T) {
	t.Parallel()
	for name, d := range partDrawings() {
		golden(t, name+".txt", d.String())
	}
	golden(t, "methods.txt", methodSheet(Box{W: 134, H: 100}).String())
}

func TestGoldenPartPictures(t *testing.T) {
	t.Parallel()
	list := partDrawings()
	list["methods"] = methodSheet(Box{W: 134, H: 100})
	for name, st := range map[string]Style{"part-two": Light(), "part-overlay": Paper(), "methods": Dark()} {
		goldenPicture(t, name+".png", list[name], st)
	}
}
