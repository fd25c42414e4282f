package figure

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// Draw lays a drawing onto a canvas of its size: the surface first, then every
// shape in turn. It is the only place where the page's y, which grows down,
// becomes the canvas's, which grows up.
func Draw(c vg.Canvas, d Drawing, st Style) {
	w := walker{c: c, st: st, k: 1, h: d.H}
	w.surface(d)
	w.shapes(d)
}

// walker takes shapes to a canvas.
type walker struct {
	c     vg.Canvas
	st    Style
	k     float64 // canvas points per point
	h     float64 // the canvas's height in its own points
	crisp bool    // the canvas has pixels of one point: put upright and level edges onto them
}

func (w walker) surface(d Drawing) {
	w.c.SetColor(w.st.Color(Surface))
	w.c.Fill(w.path(Rectangle(Rect{0, 0, d.W, d.H}), still))
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

// at is a place on the page as a point of the canvas.
func (w walker) at(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(x * w.k), Y: vg.Length(w.h - y*w.k)}
}

// A fit moves a canvas coordinate onto the pixels.
type fit func(float64) float64

// still leaves a coordinate where it is.
func still(v float64) float64 { return v }

// path turns steps into a path of the canvas.
func (w walker) path(segs []Seg, onto fit) vg.Path {
	p := make(vg.Path, 0, len(segs))
	for _, s := range segs {
		pt := w.at(s.X, s.Y)
		switch s.Op {
		case MoveTo:
			p.Move(vg.Point{X: vg.Length(onto(float64(pt.X))), Y: vg.Length(onto(float64(pt.Y)))})
		case LineTo:
			p.Line(vg.Point{X: vg.Length(onto(float64(pt.X))), Y: vg.Length(onto(float64(pt.Y)))})
		case ArcTo:
			if w.crisp {
				w.steps(&p, s)
				continue
			}
			// The canvas counts angles in radians from its x axis, anticlockwise.
			p.Arc(pt, vg.Length(s.R*w.k), (90-s.Start)*math.Pi/180, -s.Sweep*math.Pi/180)
		case CloseTo:
			p.Close()
		}
	}
	return p
}

// steps lays an arc as straight steps that miss it by at most a twentieth of a
// pixel: the picture canvas would make 16 curves of the shortest arc.
func (w walker) steps(p *vg.Path, s Seg) {
	const miss = 0.05
	r := s.R * w.k
	n := 1.0
	if r > miss {
		n = max(1, math.Ceil(math.Abs(s.Sweep)*math.Pi/180/(2*math.Acos(1-miss/r))))
	}
	for i := 0.0; i <= n; i++ {
		x, y := Polar(s.X, s.Y, s.R, s.Start+s.Sweep*i/n)
		p.Line(w.at(x, y))
	}
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
		w.c.SetColor(look.Color)
		w.c.Fill(w.path(segs, onto))
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
		dash := make([]vg.Length, len(look.Dash))
		for i, d := range look.Dash {
			dash[i] = vg.Length(d * w.k)
		}
		w.c.SetColor(look.Color)
		w.c.SetLineWidth(vg.Length(width))
		w.c.SetLineDash(dash, 0)
		w.c.Stroke(w.path(p.Segs, onto))
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
	w.c.SetColor(w.st.Color(t.Role))
	dx, dy := t.offset()
	f := face(t.Bold, t.Size*w.k)
	if t.Turn == 0 {
		w.c.FillString(f, w.at(t.X+dx, t.Y+dy), t.S)
		return
	}
	w.c.Push()
	w.c.Translate(w.at(t.X, t.Y))
	w.c.Rotate(-t.Turn * math.Pi / 180)
	w.c.FillString(f, vg.Point{X: vg.Length(dx * w.k), Y: vg.Length(-dy * w.k)}, t.S)
	w.c.Pop()
}
