package figure

import "math"

// Window returns what of a drawing lies in a rectangle, for a drawing that is larger
// than the paper. Lines end at its edge; what is filled or written is in it whole
// or not at all.
func (d Drawing) Window(r Rect) Drawing {
	w := Drawing{W: r.W, H: r.H, Title: d.Title, Desc: d.Desc}
	for _, s := range d.Shapes {
		p, ok := s.(Path)
		if ok && p.Fill == None {
			if p.Segs = within(p.Segs, r); len(p.Segs) > 0 {
				w.add(p.moved(-r.X, -r.Y))
			}
			continue
		}
		if b := s.Bounds(); b.X >= r.X && b.Y >= r.Y && b.Right() <= r.Right() && b.Bottom() <= r.Bottom() {
			w.add(s.moved(-r.X, -r.Y))
		}
	}
	return w
}

// within is the part of a line in a rectangle. A line that is wholly in it stays
// as it is; else arcs become steps of a quarter of a degree, off by 0.00024 % of
// their radius: a thousandth of a millimetre at 400.
func within(segs []Seg, r Rect) []Seg {
	inside := true
	var list []Seg
	var at, began point
	line := func(to point) {
		a, b, ok := clipped(at, to, r)
		inside = inside && ok && a == at && b == to
		if ok {
			if n := len(list); n == 0 || list[n-1].X != a.x || list[n-1].Y != a.y {
				list = append(list, Seg{Op: MoveTo, X: a.x, Y: a.y})
			}
			list = append(list, Seg{Op: LineTo, X: b.x, Y: b.y})
		}
		at = to
	}
	for i, s := range segs {
		switch s.Op {
		case MoveTo:
			at = point{s.X, s.Y}
			began = at
		case LineTo:
			line(point{s.X, s.Y})
		case ArcTo:
			n := math.Ceil(math.Abs(s.Sweep) * 4)
			for k := 0.0; k <= n; k++ {
				x, y := Polar(s.X, s.Y, s.R, s.Start+s.Sweep*k/max(n, 1))
				if to := (point{x, y}); k > 0 || i == 0 || math.Hypot(x-at.x, y-at.y) > 1e-6 {
					line(to)
				}
			}
		case CloseTo:
			line(began)
		}
	}
	if inside {
		return segs
	}
	return list
}
