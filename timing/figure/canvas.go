package figure

import (
	"image"
	"image/color"
	"math"
)

// canvas is what a back end draws on. Its coordinates are the page's, x to the
// right and y down; the paths it gets may hold arcs.
type canvas interface {
	fill(path []Seg, c color.RGBA)
	stroke(path []Seg, l line)
	write(t writing)
	picture(r Rect, img image.Image)
}

// line is how a path is drawn.
type line struct {
	width float64
	dash  []float64
	color color.RGBA
}

// writing is one line of text from the left end of its baseline, turned about it.
type writing struct {
	x, y  float64
	turn  float64 // page angle its upright strokes point to
	size  float64
	bold  bool
	s     string
	color color.RGBA
}

// tracer takes a path without arcs.
type tracer interface {
	moveTo(x, y float64)
	lineTo(x, y float64)
	cubeTo(x1, y1, x2, y2, x, y float64)
	closePath()
}

// trace hands a path on. Arcs become cubic curves of at most a quarter turn,
// off by less than 0.03 % of the radius.
func trace(path []Seg, t tracer) {
	begun := false
	var last point
	for _, s := range path {
		switch s.Op {
		case MoveTo:
			t.moveTo(s.X, s.Y)
			last, begun = point{s.X, s.Y}, true
		case LineTo:
			t.lineTo(s.X, s.Y)
			last = point{s.X, s.Y}
		case ArcTo:
			switch x, y := Polar(s.X, s.Y, s.R, s.Start); {
			case !begun:
				t.moveTo(x, y)
				begun = true
			case math.Hypot(x-last.x, y-last.y) > 1e-6:
				t.lineTo(x, y)
			}
			n := max(1, math.Ceil(math.Abs(s.Sweep)/90-1e-9))
			step := s.Sweep / n
			handle := 4.0 / 3 * math.Tan(step*math.Pi/180/4) * s.R // of the usual cubic arc
			for i := range int(n) {
				a, b := s.Start+step*float64(i), s.Start+step*float64(i+1)
				// The direction of travel is a quarter turn ahead of the radius.
				x1, y1 := Polar(s.X, s.Y, s.R, a)
				x1, y1 = Polar(x1, y1, handle, a+90)
				x, y := Polar(s.X, s.Y, s.R, b)
				x2, y2 := Polar(x, y, -handle, b+90)
				t.cubeTo(x1, y1, x2, y2, x, y)
				last = point{x, y}
			}
		case CloseTo:
			t.closePath()
		}
	}
}
