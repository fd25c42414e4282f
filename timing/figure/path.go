package figure

import (
	"math"
	"strings"
)

// Weight is how heavy a line is; the style says how many points that are.
type Weight uint8

// The weights. Fine is the usual one, Hair is lighter.
const (
	Fine Weight = iota
	Hair
	Medium
	Heavy
	Broad // beneath a line, to set it off from what lies below
)

// Path is a line, an area or both.
type Path struct {
	Segs   []Seg
	Fill   Role // None: not filled
	Stroke Role // None: no line
	Weight Weight
	Plain  bool // fill without the role's hatch, as behind a label
}

// Op is what a [Seg] does.
type Op uint8

// The operations of a path.
const (
	MoveTo  Op = iota // to X, Y
	LineTo            // to X, Y
	ArcTo             // round X, Y with radius R, from Start over Sweep; a line leads to where it begins
	CloseTo           // back to the last MoveTo
)

// Seg is one step of a path. Angles are page angles in degrees: 0 is up,
// positive is clockwise.
type Seg struct {
	Op           Op
	X, Y         float64
	R            float64
	Start, Sweep float64
}

// Polar returns the point at radius r and page angle deg round x, y.
func Polar(x, y, r, deg float64) (px, py float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return x + r*sin, y - r*cos
}

// Rectangle returns the outline of r.
func Rectangle(r Rect) []Seg {
	return []Seg{{Op: MoveTo, X: r.X, Y: r.Y}, {Op: LineTo, X: r.Right(), Y: r.Y},
		{Op: LineTo, X: r.Right(), Y: r.Bottom()}, {Op: LineTo, X: r.X, Y: r.Bottom()}, {Op: CloseTo}}
}

// Line returns a straight line.
func Line(x0, y0, x1, y1 float64) []Seg {
	return []Seg{{Op: MoveTo, X: x0, Y: y0}, {Op: LineTo, X: x1, Y: y1}}
}

// Polygon returns a closed outline through the points, given as x, y, x, y.
func Polygon(xy ...float64) []Seg {
	segs := make([]Seg, 0, len(xy)/2+1)
	for i := 0; i+1 < len(xy); i += 2 {
		segs = append(segs, Seg{Op: LineTo, X: xy[i], Y: xy[i+1]})
	}
	segs[0].Op = MoveTo
	return append(segs, Seg{Op: CloseTo})
}

// Circle returns a full circle.
func Circle(x, y, r float64) []Seg {
	return append(Arc(x, y, r, 0, 360), Seg{Op: CloseTo})
}

// Arc returns an open arc.
func Arc(x, y, r, start, sweep float64) []Seg {
	x0, y0 := Polar(x, y, r, start)
	return []Seg{{Op: MoveTo, X: x0, Y: y0}, {Op: ArcTo, X: x, Y: y, R: r, Start: start, Sweep: sweep}}
}

// Bounds returns a rectangle round the path; arcs count as their polygon of
// five-degree steps.
func (p Path) Bounds() Rect {
	b := newBounds()
	for _, ring := range flatten(p.Segs) {
		for _, q := range ring.pts {
			b.add(q.x, q.y)
		}
	}
	return b.rect()
}

func (p Path) moved(dx, dy float64) Shape {
	segs := make([]Seg, len(p.Segs))
	for i, s := range p.Segs {
		s.X, s.Y = s.X+dx, s.Y+dy
		segs[i] = s
	}
	p.Segs = segs
	return p
}

func (p Path) scaled(k float64) Shape {
	segs := make([]Seg, len(p.Segs))
	for i, s := range p.Segs {
		s.X, s.Y, s.R = k*s.X, k*s.Y, k*s.R
		segs[i] = s
	}
	p.Segs = segs
	return p
}

// String writes the path as one line, in the letters of SVG path data with A for
// an arc round a centre.
func (p Path) String() string {
	var b strings.Builder
	b.WriteString("path")
	if p.Fill != None {
		b.WriteString(" fill=" + p.Fill.String())
		if p.Plain {
			b.WriteString(",plain")
		}
	}
	if p.Stroke != None {
		b.WriteString(" stroke=" + p.Stroke.String() + "," + [...]string{"fine", "hair", "medium", "heavy", "broad"}[p.Weight])
	}
	for _, s := range p.Segs {
		switch s.Op {
		case MoveTo:
			b.WriteString(" M" + nums(s.X, s.Y))
		case LineTo:
			b.WriteString(" L" + nums(s.X, s.Y))
		case ArcTo:
			b.WriteString(" A" + nums(s.X, s.Y, s.R, s.Start, s.Sweep))
		case CloseTo:
			b.WriteString(" Z")
		}
	}
	return b.String()
}

type point struct{ x, y float64 }

type ring struct {
	pts    []point
	closed bool
}

// flatten turns a path into polygons; arcs become steps of at most 5 degrees,
// off by 0.1 % of their radius.
func flatten(segs []Seg) []ring {
	var rings []ring
	at := func(x, y float64) {
		r := &rings[len(rings)-1]
		r.pts = append(r.pts, point{x, y})
	}
	for _, s := range segs {
		if s.Op == MoveTo || len(rings) == 0 {
			rings = append(rings, ring{})
		}
		switch s.Op {
		case MoveTo, LineTo:
			at(s.X, s.Y)
		case ArcTo:
			n := int(math.Ceil(math.Abs(s.Sweep) / 5))
			for i := 0; i <= n; i++ {
				t := s.Start
				if n > 0 {
					t += s.Sweep * float64(i) / float64(n)
				}
				at(Polar(s.X, s.Y, s.R, t))
			}
		case CloseTo:
			rings[len(rings)-1].closed = true
		}
	}
	return rings
}

// bounds grows round points.
type bounds struct{ x0, y0, x1, y1 float64 }

func newBounds() bounds {
	return bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
}

func (b *bounds) add(x, y float64) {
	b.x0, b.x1 = min(b.x0, x), max(b.x1, x)
	b.y0, b.y1 = min(b.y0, y), max(b.y1, y)
}

func (b *bounds) rect() Rect {
	if b.x1 < b.x0 {
		return Rect{}
	}
	return Rect{b.x0, b.y0, b.x1 - b.x0, b.y1 - b.y0}
}
