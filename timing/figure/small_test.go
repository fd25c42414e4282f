package figure

import (
	"bytes"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Whatever the box, also one that a window passes through while it is being
// pulled small, figures and pictures come out, and inside a box of usual size
// every shape is.
func TestAnyBox(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
	if d, _ := Cycle(CycleInput{Heading: "No engine yet"}, Box{W: 300, H: 200}); len(d.Shapes) != 0 || d.Title != "No engine yet" {
		t.Errorf("without an engine there is %v", d)
	}
}

// A value that is no number leaves out its mark, and nothing hangs.
func TestNotANumber(t *testing.T) {
	t.Parallel()
	nan := timing.Deg(math.NaN())
	in := cycleInput(engine(4, []int{1, 3, 4, 2}), -25)
	in.Rows[1].Actual, in.Rows[2].Commanded = &nan, deg(timing.Deg(math.Inf(1)))
	cycle, _ := Cycle(in, Box{W: 300, H: 200})
	w := wheelInput(36, nil, nan)
	w.Theta = nan
	wheel, _ := Wheel(w, Box{W: 300, H: 200})
	for _, d := range []Drawing{cycle, wheel} {
		new(Raster).Render(d, Light(), 300, 200, 1)
		var svg bytes.Buffer
		if err := WriteSVG(&svg, d, Light()); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(svg.Bytes(), []byte("NaN")) {
			t.Error("NaN is written to the SVG")
		}
	}
}
