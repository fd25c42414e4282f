package figure

import (
	"testing"

	"pgregory.net/rapid"
)

// Whatever the box, also one that a window passes through while it is being
// pulled small, figures and pictures come out, and inside a box of usual size
// every shape is.
func TestAnyBox(t *testing.T) {
	var r Raster
	draw := func(t *rapid.T, d Drawing, box Box, inside bool) {
		r.Render(d, Paper(), int(box.W), int(box.H), 1)
		if !inside {
			return
		}
		for _, s := range d.Shapes {
			const slack = 0.5
			if b := s.Bounds(); b.X < -slack || b.Y < -slack || b.Right() > box.W+slack || b.Bottom() > box.H+slack {
				t.Errorf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		inside := !rapid.Bool().Draw(t, "tiny")
		if !inside {
			box.W, box.H = rapid.Float64Range(-5, 150).Draw(t, "tiny w"), rapid.Float64Range(-5, 90).Draw(t, "tiny h")
		}
		c, _ := Cycle(anyCycle(t), box)
		draw(t, c, box, inside)
		w, _ := Wheel(anyWheel(t), box)
		draw(t, w, box, inside)
	})
}

func TestNoEngine(t *testing.T) {
	if d, _ := Cycle(CycleInput{Heading: "No engine yet"}, Box{W: 300, H: 200}); len(d.Shapes) != 0 || d.Title != "No engine yet" {
		t.Errorf("without an engine there is %v", d)
	}
}
