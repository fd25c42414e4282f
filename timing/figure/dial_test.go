package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func dialInput(first, second timing.Deg) DialInput {
	middle := timing.Wrap(first+timing.Difference(first, second, timing.Turn)/2, timing.Turn)
	return DialInput{First: first, Second: second, Middle: &middle, Heading: "Degree wheel", Title: "Degree wheel", Desc: "Two readings and the middle between them",
		Caption: []string{"The numbers at the pointer rise as the engine turns forwards."},
		Words:   DialWords{First: signed(first), Second: signed(second), Middle: "TDC " + signed(middle), Mark: "mark", Forwards: "engine forwards"}}
}

func dialDrawings() map[string]Drawing {
	marked := dialInput(309, 8.5)
	marked.Mark, marked.Falls = deg(350.75), true
	return map[string]Drawing{
		"dial":       Dial(dialInput(199, 293), Box{W: 420, H: 420}),
		"dial-mark":  Dial(marked, Box{W: 600, H: 360}),
		"dial-small": Dial(dialInput(20, 60), Box{W: 200, H: 150}),
	}
}

func TestGoldenDial(t *testing.T) {
	t.Parallel()
	for name, d := range dialDrawings() {
		golden(t, name+".txt", d.String())
	}
	goldenPicture(t, "dial-mark.png", dialDrawings()["dial-mark"], Light())
}

// The middle is drawn as far from the one reading as from the other, whatever
// they are.
func TestDialMiddle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := dialInput(timing.Deg(rapid.IntRange(0, 359).Draw(t, "first")), timing.Deg(rapid.IntRange(0, 359).Draw(t, "second")))
		in.Words.Forwards = ""
		way := timing.Difference(in.First, in.Second, timing.Turn)
		if way == 180 {
			return
		}
		var readings []Marker
		var middle Marker
		for _, s := range Dial(in, Box{W: 500, H: 500}).Shapes {
			if m, ok := s.(Marker); ok {
				switch m.Kind {
				case TriangleDown:
					readings = append(readings, m)
				case Diamond:
					middle = m
				}
			}
		}
		a, b := math.Hypot(middle.X-readings[0].X, middle.Y-readings[0].Y), math.Hypot(middle.X-readings[1].X, middle.Y-readings[1].Y)
		if math.Abs(a-b) > 1e-6 {
			t.Fatalf("the middle lies %g from one reading and %g from the other", a, b)
		}
	})
}

func TestDialInAnyBox(t *testing.T) {
	t.Parallel()
	var r Raster
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		if rapid.Bool().Draw(t, "tiny") {
			box.W, box.H = rapid.Float64Range(-5, 150).Draw(t, "tiny w"), rapid.Float64Range(-5, 90).Draw(t, "tiny h")
		}
		in := dialInput(timing.Deg(rapid.Float64Range(0, 359).Draw(t, "first")), timing.Deg(rapid.Float64Range(0, 359).Draw(t, "second")))
		if rapid.Bool().Draw(t, "mark") {
			in.Mark = deg(timing.Deg(rapid.Float64Range(0, 359).Draw(t, "at")))
		}
		d := Dial(in, box)
		r.Render(d, Paper(), int(box.W), int(box.H), 1)
		for _, s := range d.Shapes {
			const slack = 0.5
			if b := s.Bounds(); b.X < -slack || b.Y < -slack || b.Right() > box.W+slack || b.Bottom() > box.H+slack {
				t.Fatalf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
		}
	})
	if d := Dial(dialInput(timing.Deg(math.NaN()), 3), Box{W: 300, H: 300}); len(d.Shapes) != 0 {
		t.Error("readings that are none are drawn")
	}
}
