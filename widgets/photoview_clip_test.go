package widgets

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/figure"
)

func TestCutLinesKeepToTheWindow(t *testing.T) {
	window := figure.Rect{X: 10, Y: 20, W: 100, H: 50}
	rapid.Check(t, func(t *rapid.T) {
		var xy []float64
		for range rapid.IntRange(2, 8).Draw(t, "n") {
			xy = append(xy, rapid.Float64Range(-300, 400).Draw(t, "x"), rapid.Float64Range(-300, 400).Draw(t, "y"))
		}
		segs := figure.Polygon(xy...)
		got := length(cut(segs, window), figure.Rect{X: -1e6, Y: -1e6, W: 2e6, H: 2e6})
		if want := length(segs, window); !near(got, want, 1+want/50) {
			t.Fatalf("%v long, want %v in the window", got, want)
		}
		for _, s := range cut(segs, window) {
			if s.X < window.X-1e-6 || s.X > window.Right()+1e-6 || s.Y < window.Y-1e-6 || s.Y > window.Bottom()+1e-6 {
				t.Fatalf("%v lies outside", s)
			}
		}
	})
}

// length measures, by small steps, how much of a line lies in a window.
func length(segs []figure.Seg, window figure.Rect) float64 {
	const steps = 4000
	var sum, x, y float64
	var first figure.Seg
	for _, s := range segs {
		switch s.Op {
		case figure.MoveTo:
			first, x, y = s, s.X, s.Y
			continue
		case figure.CloseTo:
			s.X, s.Y = first.X, first.Y
		}
		step := math.Hypot(s.X-x, s.Y-y) / steps
		for i := range steps {
			k := (float64(i) + 0.5) / steps
			if window.Holds(x+(s.X-x)*k, y+(s.Y-y)*k) {
				sum += step
			}
		}
		x, y = s.X, s.Y
	}
	return sum
}

func TestShapesOutsideTheWindowAreLeftOut(t *testing.T) {
	window := figure.Rect{W: 100, H: 100}
	inside := figure.Path{Segs: figure.Line(10, 50, 90, 50), Stroke: figure.Ink}
	area := figure.Path{Segs: figure.Circle(100, 50, 30), Fill: figure.Ink}
	got := seen([]figure.Shape{
		inside, area,
		figure.Path{Segs: figure.Line(110, 0, 120, 100), Stroke: figure.Ink},
		figure.Text{X: 300, Y: 50, S: "far", Size: 10, Role: figure.Ink},
	}, window)
	if len(got) != 2 || got[0].String() != inside.String() || got[1].String() != area.String() {
		t.Errorf("got %v", got)
	}
}
