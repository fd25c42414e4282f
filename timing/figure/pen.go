package figure

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// pen is the part of a vg.Canvas that remembers: colour, line and transform.
// The SVG and PDF canvases share it; both write page coordinates, y down.
type pen struct {
	penState
	stack []penState
	h     float64 // height of the page
}

type penState struct {
	m      [6]float64 // x' = m0 x + m2 y + m4, y' = m1 x + m3 y + m5; y up
	width  float64
	dash   []float64
	offset float64
	color  color.RGBA
}

func newPen(h float64) pen {
	return pen{h: h, penState: penState{m: [6]float64{1, 0, 0, 1, 0, 0}, width: 1, color: color.RGBA{A: 0xff}}}
}

func (p *pen) SetLineWidth(w vg.Length) { p.width = w.Points() }

func (p *pen) SetLineDash(pattern []vg.Length, offset vg.Length) {
	p.dash = make([]float64, len(pattern))
	for i, d := range pattern {
		p.dash[i] = d.Points()
	}
	p.offset = offset.Points()
}

func (p *pen) SetColor(c color.Color) {
	p.color = color.RGBA{A: 0xff}
	if c != nil {
		p.color = color.RGBAModel.Convert(c).(color.RGBA)
	}
}

func (p *pen) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	p.apply([6]float64{cos, sin, -sin, cos, 0, 0})
}

func (p *pen) Translate(pt vg.Point) {
	p.apply([6]float64{1, 0, 0, 1, pt.X.Points(), pt.Y.Points()})
}

func (p *pen) Scale(x, y float64) { p.apply([6]float64{x, 0, 0, y, 0, 0}) }

// apply puts a transform before those there are.
func (p *pen) apply(t [6]float64) {
	m := p.m
	p.m = [6]float64{
		m[0]*t[0] + m[2]*t[1], m[1]*t[0] + m[3]*t[1],
		m[0]*t[2] + m[2]*t[3], m[1]*t[2] + m[3]*t[3],
		m[0]*t[4] + m[2]*t[5] + m[4], m[1]*t[4] + m[3]*t[5] + m[5],
	}
}

func (p *pen) Push() { p.stack = append(p.stack, p.penState) }

func (p *pen) Pop() {
	p.penState = p.stack[len(p.stack)-1]
	p.stack = p.stack[:len(p.stack)-1]
}

// place is a canvas point on the page.
func (p *pen) place(x, y float64) (float64, float64) {
	return p.m[0]*x + p.m[2]*y + p.m[4], p.h - (p.m[1]*x + p.m[3]*y + p.m[5])
}

// turned is by how many degrees the transform turns, anticlockwise.
func (p *pen) turned() float64 { return math.Atan2(p.m[1], p.m[0]) * 180 / math.Pi }

// scaled is by how much the transform enlarges.
func (p *pen) scaled() float64 { return math.Hypot(p.m[0], p.m[1]) }

// tracer takes a path in page coordinates.
type tracer interface {
	moveTo(x, y float64)
	lineTo(x, y float64)
	cubeTo(x1, y1, x2, y2, x, y float64)
	closePath()
}

// trace hands a path on. Arcs become cubic curves of at most a quarter turn,
// off by less than 0.03 % of the radius.
func (p *pen) trace(path vg.Path, t tracer) {
	begun := false
	var last vg.Point
	for _, c := range path {
		pt := c.Pos
		switch c.Type {
		case vg.MoveComp:
			t.moveTo(p.place(pt.X.Points(), pt.Y.Points()))
			last, begun = pt, true
		case vg.LineComp:
			t.lineTo(p.place(pt.X.Points(), pt.Y.Points()))
			last = pt
		case vg.ArcComp:
			x, y, r := pt.X.Points(), pt.Y.Points(), c.Radius.Points()
			on := func(a float64) (float64, float64) { return x + r*math.Cos(a), y + r*math.Sin(a) }
			sx, sy := on(c.Start)
			switch {
			case !begun:
				t.moveTo(p.place(sx, sy))
				begun = true
			case math.Hypot(sx-last.X.Points(), sy-last.Y.Points()) > 1e-6:
				t.lineTo(p.place(sx, sy))
			}
			n := max(1, int(math.Ceil(math.Abs(c.Angle)/(math.Pi/2)-1e-9)))
			step := c.Angle / float64(n)
			k := 4.0 / 3 * math.Tan(step/4) * r // handle length of the usual cubic arc
			for i := range n {
				a, b := c.Start+step*float64(i), c.Start+step*float64(i+1)
				ax, ay := on(a)
				bx, by := on(b)
				x1, y1 := p.place(ax-k*math.Sin(a), ay+k*math.Cos(a))
				x2, y2 := p.place(bx+k*math.Sin(b), by-k*math.Cos(b))
				x3, y3 := p.place(bx, by)
				t.cubeTo(x1, y1, x2, y2, x3, y3)
				last = vg.Point{X: vg.Length(bx), Y: vg.Length(by)}
			}
		case vg.CurveComp:
			x3, y3 := p.place(pt.X.Points(), pt.Y.Points())
			q := c.Control[0]
			x1, y1 := p.place(q.X.Points(), q.Y.Points())
			if len(c.Control) == 2 {
				q = c.Control[1]
				x2, y2 := p.place(q.X.Points(), q.Y.Points())
				t.cubeTo(x1, y1, x2, y2, x3, y3)
			} else { // a quadratic raised to a cubic
				x0, y0 := p.place(last.X.Points(), last.Y.Points())
				t.cubeTo(x0+(x1-x0)*2/3, y0+(y1-y0)*2/3, x3+(x1-x3)*2/3, y3+(y1-y3)*2/3, x3, y3)
			}
			last = pt
		case vg.CloseComp:
			t.closePath()
		}
	}
}
