package figure

import (
	"math"
	"slices"
)

// drawOn lays a drawing onto a canvas of its size: the surface first, then every
// shape in turn.
func drawOn(c canvas, d Drawing, st Style) {
	w := walker{c: c, st: st, k: 1}
	c.fill(Rectangle(Rect{0, 0, d.W, d.H}), st.Color(Surface))
	w.shapes(d)
}

// walker takes shapes to a canvas.
type walker struct {
	c     canvas
	st    Style
	k     float64 // of the canvas's units to the point
	crisp bool    // the canvas has pixels of one unit: put upright and level edges onto them
}

func (w walker) shapes(d Drawing) {
	for _, s := range d.Shapes {
		if !placed(s.Bounds()) {
			continue
		}
		switch s := s.(type) {
		case Path:
			w.drawPath(s)
		case Marker:
			w.drawPath(s.path())
		case Text:
			w.drawText(s)
		case Picture:
			w.drawPicture(s)
		case Envelope:
			w.drawEnvelope(s)
		}
	}
}

// placed tells whether a shape lies somewhere: one that is at no number, or far
// beyond any page, would keep a rasterizer busy for ever.
func placed(b Rect) bool {
	const far = 1e6
	return b.X > -far && b.Y > -far && b.Right() < far && b.Bottom() < far
}

// A fit moves a canvas coordinate onto the pixels.
type fit func(float64) float64

// still leaves a coordinate where it is.
func still(v float64) float64 { return v }

// path enlarges a path to the canvas.
func (w walker) path(segs []Seg, onto fit) []Seg {
	p := make([]Seg, 0, len(segs))
	for _, s := range segs {
		s.X, s.Y, s.R = w.k*s.X, w.k*s.Y, w.k*s.R
		switch {
		case s.Op == ArcTo && w.crisp:
			p = append(p, steps(s)...)
			continue
		case s.Op == MoveTo, s.Op == LineTo:
			s.X, s.Y = onto(s.X), onto(s.Y)
		}
		p = append(p, s)
	}
	return p
}

// steps are straight steps along an arc that miss it by at most a twentieth of a
// pixel.
func steps(s Seg) []Seg {
	const miss = 0.05
	n := 1.0
	if s.R > miss {
		n = max(1, math.Ceil(math.Abs(s.Sweep)*math.Pi/180/(2*math.Acos(1-miss/s.R))))
	}
	list := make([]Seg, 0, int(n)+1)
	for i := 0.0; i <= n; i++ {
		x, y := Polar(s.X, s.Y, s.R, s.Start+s.Sweep*i/n)
		list = append(list, Seg{Op: LineTo, X: x, Y: y})
	}
	return list
}

func (w walker) drawPath(p Path) {
	straight := w.crisp && upright(p.Segs)
	if p.Fill != None {
		onto := fit(still)
		if straight {
			onto = math.Round
		}
		look := w.st.Look(p.Fill)
		segs := p.Segs
		if straight {
			segs = w.evenly(segs)
		}
		w.c.fill(w.path(segs, onto), look.Color)
		if look.Hatch != nil && !p.Plain {
			look.Hatch.draw(w, p.Segs)
		}
	}
	if p.Stroke != None {
		look := w.st.Look(p.Stroke)
		width := w.st.Width(p.Weight) * w.k
		onto := fit(still)
		if straight {
			width = max(1, math.Round(width))
			half := math.Mod(width, 2) / 2
			onto = func(v float64) float64 { return math.Round(v-half) + half }
		}
		if lp, ok := w.c.(linePainter); ok && straight && openLines(p.Segs) {
			lp.paintLines(p.Segs, w.k, width, look.Dash, look.Color)
			return
		}
		dash := make([]float64, len(look.Dash))
		for i, d := range look.Dash {
			dash[i] = d * w.k
		}
		w.c.stroke(w.path(p.Segs, onto), line{width, dash, look.Color})
	}
}

// evenly gives a thin bar the same number of pixels wherever it falls between
// them; broad areas keep their edges, so that neighbours touch.
func (w walker) evenly(segs []Seg) []Seg {
	if len(segs) != 5 || segs[0].Y != segs[1].Y || segs[2].Y < segs[1].Y || (segs[2].Y-segs[1].Y)*w.k > 5 {
		return segs
	}
	top := math.Round(segs[0].Y * w.k)
	bottom := (top + max(1, math.Round((segs[2].Y-segs[1].Y)*w.k))) / w.k
	bar := slices.Clone(segs)
	bar[0].Y, bar[1].Y, bar[2].Y, bar[3].Y = top/w.k, top/w.k, bottom, bottom
	return bar
}

// upright tells whether every edge of a path is level or upright.
func upright(segs []Seg) bool {
	for i, s := range segs {
		switch s.Op {
		case ArcTo:
			return false
		case LineTo:
			if i > 0 && s.X != segs[i-1].X && s.Y != segs[i-1].Y {
				return false
			}
		}
	}
	return true
}

func (w walker) drawText(t Text) {
	if t.S == "" || t.Role == None {
		return
	}
	dx, dy := t.offset()
	// Along the baseline and down from it, turned.
	x, y := Polar(t.X, t.Y, dx, t.Turn+90)
	x, y = Polar(x, y, -dy, t.Turn)
	if t.Turn == 0 {
		x, y = t.X+dx, t.Y+dy
	}
	w.c.write(writing{w.k * x, w.k * y, t.Turn, w.k * t.Size, t.Bold, t.S, w.st.Color(t.Role)})
}
