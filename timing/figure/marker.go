package figure

import "fmt"

// Marker is a small symbol, told apart by its form and by being filled or
// hollow, so that it needs no colour.
type Marker struct {
	X, Y   float64 // its middle; for a triangle the middle of its height
	Size   float64 // points from tip to base, side to side or across
	Kind   MarkerKind
	Hollow bool    // an outline filled with the surface
	Turn   float64 // page angle its top points to
	Role   Role
}

// MarkerKind is the form of a marker.
type MarkerKind uint8

// The forms.
const (
	TriangleUp MarkerKind = iota
	TriangleDown
	Diamond
	Dot
	Cross
	Arrowhead // its tip, not its middle, at X, Y
	Square
	Plus
)

// String returns the form's name.
func (k MarkerKind) String() string {
	return [...]string{"triangle-up", "triangle-down", "diamond", "dot", "cross", "arrowhead", "square", "plus"}[k]
}

// path returns the marker as a path.
func (m Marker) path() Path {
	r := m.Size / 2
	at := func(right, up float64) (float64, float64) {
		x, y := Polar(m.X, m.Y, up, m.Turn)
		return Polar(x, y, right, m.Turn+90)
	}
	poly := func(ru ...float64) []Seg {
		xy := make([]float64, len(ru))
		for i := 0; i < len(ru); i += 2 {
			xy[i], xy[i+1] = at(ru[i], ru[i+1])
		}
		return Polygon(xy...)
	}
	p := Path{Fill: m.Role}
	if m.Hollow {
		p = Path{Fill: Surface, Stroke: m.Role, Weight: Medium}
	}
	switch m.Kind {
	case TriangleUp:
		p.Segs = poly(-0.95*r, -r, 0, r, 0.95*r, -r)
	case TriangleDown:
		p.Segs = poly(-0.95*r, r, 0, -r, 0.95*r, r)
	case Diamond:
		p.Segs = poly(-r, 0, 0, r, r, 0, 0, -r)
	case Dot:
		p.Segs = Circle(m.X, m.Y, r)
	case Cross:
		x0, y0 := at(-r, -r)
		x1, y1 := at(r, r)
		x2, y2 := at(-r, r)
		x3, y3 := at(r, -r)
		p = Path{Stroke: m.Role, Weight: Medium, Segs: append(Line(x0, y0, x1, y1), Line(x2, y2, x3, y3)...)}
	case Square:
		p.Segs = poly(-r, -r, -r, r, r, r, r, -r)
	case Plus:
		x0, y0 := at(-r, 0)
		x1, y1 := at(r, 0)
		x2, y2 := at(0, -r)
		x3, y3 := at(0, r)
		p = Path{Stroke: m.Role, Weight: Medium, Segs: append(Line(x0, y0, x1, y1), Line(x2, y2, x3, y3)...)}
	case Arrowhead:
		p.Segs = poly(0, 0, 0.8*r, -2*r, 0, -1.5*r, -0.8*r, -2*r)
	}
	return p
}

// Bounds returns the rectangle round the symbol.
func (m Marker) Bounds() Rect { return m.path().Bounds() }

func (m Marker) moved(dx, dy float64) Shape {
	m.X, m.Y = m.X+dx, m.Y+dy
	return m
}

func (m Marker) scaled(k float64) Shape {
	m.X, m.Y, m.Size = k*m.X, k*m.Y, k*m.Size
	return m
}

// String writes the marker as one line.
func (m Marker) String() string {
	s := fmt.Sprintf("marker %s%s size=%s role=%s", m.Kind, nums(m.X, m.Y), num(m.Size, 2), m.Role)
	if m.Hollow {
		s += " hollow"
	}
	if m.Turn != 0 {
		s += " turn=" + num(m.Turn, 2)
	}
	return s
}
