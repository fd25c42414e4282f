package widgets

import "pinphase.org/pinphase/timing/figure"

// seen returns the shapes without what lies outside a window. An ellipse of the
// picture may be a hundred times as large as the window that shows a part of it,
// and a rasterizer would follow, and dash, all of its length.
func seen(shapes []figure.Shape, window figure.Rect) []figure.Shape {
	var list []figure.Shape
	for _, s := range shapes {
		b := s.Bounds().Grown(1e-9) // a level line has no area of its own
		if !b.Meets(window) {
			continue
		}
		inside := b.X >= window.X && b.Y >= window.Y && b.Right() <= window.Right() && b.Bottom() <= window.Bottom()
		if p, ok := s.(figure.Path); ok && !inside && p.Fill == figure.None {
			p.Segs = cut(p.Segs, window)
			s = p
		}
		list = append(list, s)
	}
	return list
}

// cut returns the parts of a line that lie in a window. Dashes begin anew in each.
// Lines with arcs are left whole.
func cut(segs []figure.Seg, window figure.Rect) []figure.Seg {
	var out []figure.Seg
	var startX, startY, x, y float64
	for _, s := range segs {
		toX, toY := s.X, s.Y
		switch s.Op {
		case figure.ArcTo:
			return segs
		case figure.MoveTo:
			startX, startY, x, y = s.X, s.Y, s.X, s.Y
			continue
		case figure.CloseTo:
			toX, toY = startX, startY
		}
		if from, to, ok := within(x, y, toX, toY, window); ok {
			x0, y0 := x+(toX-x)*from, y+(toY-y)*from
			if n := len(out); n == 0 || from > 0 || out[n-1].X != x0 || out[n-1].Y != y0 {
				out = append(out, figure.Seg{Op: figure.MoveTo, X: x0, Y: y0})
			}
			x1, y1 := toX, toY
			if to < 1 {
				x1, y1 = x+(toX-x)*to, y+(toY-y)*to
			}
			out = append(out, figure.Seg{Op: figure.LineTo, X: x1, Y: y1})
		}
		x, y = toX, toY
	}
	return out
}

// within returns between which parts of its length, 0 to 1, a straight line lies
// in a window. ok is false if it does not.
func within(x0, y0, x1, y1 float64, window figure.Rect) (from, to float64, ok bool) {
	to = 1
	for _, side := range [4]struct{ inside, change float64 }{ // how far inside at the start, and the change along the line
		{x0 - window.X, x1 - x0}, {window.Right() - x0, x0 - x1},
		{y0 - window.Y, y1 - y0}, {window.Bottom() - y0, y0 - y1},
	} {
		switch {
		case side.change == 0:
			if side.inside < 0 {
				return 0, 0, false
			}
		case side.change > 0:
			from = max(from, -side.inside/side.change)
		default:
			to = min(to, -side.inside/side.change)
		}
	}
	return from, to, from <= to
}
