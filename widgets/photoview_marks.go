package widgets

import (
	"math"

	"pinphase.org/pinphase/timing/figure"
)

// Mark is a point on a picture, in its pixels, y down. What its kind means is the
// owner's business.
type Mark struct {
	Kind string
	X, Y float64
}

func (m Mark) place() spot { return spot{m.X, m.Y} }

// MarkLook is how a kind of point is shown. The forms tell kinds apart without
// colour.
type MarkLook struct {
	Form MarkForm
	Role figure.Role // None stands for Ink
}

// MarkForm is the outline round a point. The point itself, a dot, is in its
// middle, and the picture is seen between the two.
type MarkForm uint8

// The forms.
const (
	MarkRing MarkForm = iota
	MarkSquare
	MarkDiamond
	MarkTriangle
	MarkCross
)

// Sizes of marks, in points.
const (
	markRadius = 6.0
	dotRadius  = 1.0
	pickRadius = 10.0 // the ring round the selected one
)

// grabRadius is how near, in units, the pointer must come to a point to take hold
// of it: wide enough for gloves and fingertips.
const grabRadius = 14

// grabOther is the same for a point of another kind than the one being placed.
const grabOther = 4

// markShapes draws a mark: each line is laid on a broader one in the colour of the
// surface, so that it is seen on any picture.
func (v *PhotoView) markShapes(m Mark, t Transform, selected bool) []figure.Shape {
	look := v.Looks[m.Kind]
	if look.Role == figure.None {
		look.Role = figure.Ink
	}
	x, y := t.Apply(m.X, m.Y)
	list := haloed(look.Form.outline(x, y, markRadius), look.Role, figure.Fine)
	if selected {
		list = append(list, haloed(figure.Circle(x, y, pickRadius), figure.Cursor, figure.Medium)...)
	}
	return append(list,
		figure.Path{Segs: figure.Circle(x, y, 2*dotRadius), Fill: figure.Surface},
		figure.Path{Segs: figure.Circle(x, y, dotRadius), Fill: look.Role})
}

func (f MarkForm) outline(x, y, r float64) []figure.Seg {
	corners := func(n int, first, r float64) []figure.Seg {
		var xy []float64
		for i := range n {
			px, py := figure.Polar(x, y, r, first+float64(i)*360/float64(n))
			xy = append(xy, px, py)
		}
		return figure.Polygon(xy...)
	}
	switch f {
	case MarkSquare:
		return corners(4, 45, r*1.25)
	case MarkDiamond:
		return corners(4, 0, r*1.25)
	case MarkTriangle:
		return corners(3, 0, r*1.4)
	case MarkCross:
		return cross(x, y, 2.5*dotRadius, r*1.3, 45)
	}
	return figure.Circle(x, y, r)
}

// crosshair draws an upright cross that leaves its middle free.
func crosshair(x, y, from, to float64) []figure.Shape {
	return haloed(cross(x, y, from, to, 0), figure.Cursor, figure.Medium)
}

// cross returns four arms, from and to that far from the middle, the first at a
// page angle.
func cross(x, y, from, to, turn float64) []figure.Seg {
	var segs []figure.Seg
	for i := range 4 {
		angle := turn + 90*float64(i)
		x0, y0 := figure.Polar(x, y, from, angle)
		x1, y1 := figure.Polar(x, y, to, angle)
		segs = append(segs, figure.Line(x0, y0, x1, y1)...)
	}
	return segs
}

// haloed draws a line on a broad one of the surface's colour.
func haloed(segs []figure.Seg, role figure.Role, weight figure.Weight) []figure.Shape {
	return []figure.Shape{
		figure.Path{Segs: segs, Stroke: figure.Surface, Weight: figure.Heavy},
		figure.Path{Segs: segs, Stroke: role, Weight: weight},
	}
}

// reach returns the mark nearest to a place of the view, in units, -1 if none is
// near enough to take hold of. Of two as near it is the later, which lies on top. Marks
// of another kind than the one that is being placed are taken hold of only by their
// middles, and only to be dragged: the keyway's corners lie on the rim, among its points.
func (v *PhotoView) reach(x, y float64) int {
	nearest, least := -1, float64(grabRadius)
	t := v.sight.transform()
	for i, m := range v.marks {
		mx, my := t.Apply(m.X, m.Y)
		d := math.Hypot(mx-x, my-y)
		if v.PlaceKind != "" && m.Kind != v.PlaceKind && d > grabOther {
			continue
		}
		if d <= least {
			nearest, least = i, d
		}
	}
	return nearest
}
