package figure

import (
	"math"
	"strings"
)

// MethodKind is a way of measuring the angle between two features on the end
// of a crankshaft, by the name of its picture.
type MethodKind string

const fromThrow = " from the throw"

// FromThrow returns the same way of measuring, from the No. 1 throw to the
// keyway.
func (k MethodKind) FromThrow() MethodKind { return k + fromThrow }

// methodPictures are the ways. Each goes from the keyway to the dowel, or with
// [MethodKind.FromThrow] from the throw to the keyway, and takes a room of its own for
// either, in units of the flange's radius from the crankshaft's axis.
var methodPictures = []struct {
	kind        MethodKind
	room, throw room
	draw        func(m *methodPicture)
}{
	// An angle, on a protractor laid to the one feature.
	{"angle", room{1.04, 1.4, 1.4, 1.4}, room{1.3, 1.4, 1.4, 0.72}, (*methodPicture).protractor},
	// A degree wheel read at both features.
	{"degree wheel", room{1.4, 1.4, 1.4, 1.4}, room{1.4, 1.4, 1.4, 1.4}, (*methodPicture).degreeWheel},
	// Straight across, between the centres.
	{"chord", room{1.04, 1.04, 1.34, 1.04}, room{1.12, 0.66, 1.04, 0.66}, (*methodPicture).chord},
	// Over the far edges, or between the near ones, the jaw on the flank of a key.
	{"outside", room{1.06, 1.5, 1.44, 1.04}, room{1.3, 1.36, 1.44, 0.66}, func(m *methodPicture) { m.caliper(true, true) }},
	{"inside", room{1.06, 1.5, 1.44, 1.04}, room{1.3, 1.36, 1.44, 0.66}, func(m *methodPicture) { m.caliper(false, true) }},
	// Likewise, the jaw's tip on the edge of the empty keyway.
	{"outside keyway", room{1.06, 1.5, 1.44, 1.04}, room{1.3, 1.36, 1.44, 0.66}, func(m *methodPicture) { m.caliper(true, false) }},
	{"inside keyway", room{1.06, 1.5, 1.44, 1.04}, room{1.3, 1.36, 1.44, 0.66}, func(m *methodPicture) { m.caliper(false, false) }},
	// Along a rim, with a tape.
	{"arc", room{1.04, 1.26, 1.42, 1.04}, room{1.26, 1.04, 1.42, 1.04}, (*methodPicture).tape},
	// Coordinates of axis and features.
	{"xy", room{1.46, 1.2, 1.2, 1.32}, room{1.46, 0.95, 0.95, 1.05}, (*methodPicture).coordinates},
	// Marked on a photograph.
	{"photo", room{1.56, 1.64, 1.24, 1.26}, room{1.56, 1.64, 1.24, 1.26}, (*methodPicture).photograph},
}

// MethodPicture draws what is measured, without words, for a box of about 120
// by 90 points and more. What is drawn has the shape of no particular engine. Of a way
// that has no picture it is empty.
func MethodPicture(kind MethodKind, box Box) Drawing {
	m := methodPicture{d: Drawing{W: box.W, H: box.H}, box: box}
	name, throw := strings.CutSuffix(string(kind), fromThrow)
	m.throw = throw
	for _, p := range methodPictures {
		if string(p.kind) != name {
			continue
		}
		if m.throw {
			m.place(p.throw)
		} else {
			m.place(p.room)
		}
		p.draw(&m)
	}
	return m.d
}

// room is how far a picture reaches to each side, up and down.
type room struct{ left, right, up, down float64 }

// The end of a crankshaft as the pictures show it: a flange of radius 1 behind
// a nose with a keyway, the dowel in the flange. Keyway and dowel are at one
// height, so that a caliper lies level.
const (
	picNose  = 0.53
	picPin   = 0.1  // radius of the dowel
	picKey   = 0.1  // half the width of key and keyway
	picSlot  = 0.19 // depth of the keyway
	picProud = 0.12 // of the key above the nose
	picTilt  = 22.0 // degrees by which nose and keyway lean from the throw, in the pictures that show it
)

// methodPicture is a picture on the way. Its own coordinates have their origin
// in the crankshaft's axis, x to the right and y up, in flange radii.
type methodPicture struct {
	d       Drawing
	box     Box
	x, y, r float64 // the axis on the page, and the flange's radius
	throw   bool    // from the throw to the keyway
}

// place fits the picture's room into the box.
func (m *methodPicture) place(r room) {
	const margin = 0.04
	w, h := m.box.W*(1-2*margin), m.box.H*(1-2*margin)
	m.r = max(min(w/(r.left+r.right), h/(r.up+r.down)), 0.01)
	m.x = m.box.W/2 + (r.left-r.right)/2*m.r
	m.y = m.box.H/2 + (r.up-r.down)/2*m.r
}

// features returns where the angle begins and where it ends, and their page
// angles: the keyway's middle and the dowel, or the crankpin and the keyway's
// middle.
func (m *methodPicture) features() (from, to point, fromDeg, toDeg float64) {
	mid := picNose - picSlot/2
	key := point{0, mid}
	dowel := point{0.78, mid}
	if m.throw {
		key = polar(mid, picTilt)
		pin := point{-0.8, key.y}
		return pin, key, direction(pin), picTilt
	}
	return key, dowel, 0, direction(dowel)
}

// polar is a point at a radius and page angle.
func polar(r, deg float64) point {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return point{r * sin, r * cos}
}

// direction is the page angle of a point.
func direction(p point) float64 { return math.Atan2(p.x, p.y) * 180 / math.Pi }

// at is a point of the picture on the page.
func (m *methodPicture) at(p point) (x, y float64) { return m.x + p.x*m.r, m.y - p.y*m.r }

func (m *methodPicture) line(a, b point) []Seg {
	x0, y0 := m.at(a)
	x1, y1 := m.at(b)
	return Line(x0, y0, x1, y1)
}

func (m *methodPicture) polygon(ps ...point) []Seg {
	var xy []float64
	for _, p := range ps {
		x, y := m.at(p)
		xy = append(xy, x, y)
	}
	return Polygon(xy...)
}

func (m *methodPicture) circle(at point, r float64) []Seg {
	x, y := m.at(at)
	return Circle(x, y, r*m.r)
}

// head is the size of an arrowhead in points.
func (m *methodPicture) head() float64 { return min(max(0.17*m.r, 6), 11) }

// dimension draws a measured length with an arrowhead at both ends, and short
// lines across the ends.
func (m *methodPicture) dimension(a, b point) {
	x0, y0 := m.at(a)
	x1, y1 := m.at(b)
	long := math.Hypot(x1-x0, y1-y0)
	if long == 0 {
		return
	}
	h := min(m.head(), 0.45*long)
	ux, uy := (x1-x0)/long, (y1-y0)/long
	t := math.Atan2(ux, -uy) * 180 / math.Pi
	in := 0.75 * h
	m.d.add(Path{Segs: Line(x0+in*ux, y0+in*uy, x1-in*ux, y1-in*uy), Stroke: Measured, Weight: Medium},
		Marker{X: x0, Y: y0, Size: h, Kind: Arrowhead, Turn: t + 180, Role: Measured},
		Marker{X: x1, Y: y1, Size: h, Kind: Arrowhead, Turn: t, Role: Measured})
}

// arc draws a measured arc round the axis with arrowheads where it ends and, if
// asked for, where it begins.
func (m *methodPicture) arc(r, from, to float64, both bool) {
	m.d.add(arrowArc(m.x, m.y, r*m.r, from, to-from, m.head(), both, Measured, Medium)...)
}

// arrowArc is an arc with an arrowhead where it ends and, if asked for, where it
// begins; an arc too short for its arrowheads gets smaller ones.
func arrowArc(x, y, r, from, sweep, head float64, both bool, role Role, weight Weight) []Shape {
	if sweep == 0 || r <= 0 {
		return nil
	}
	sign := math.Copysign(1, sweep)
	ends := 1.0
	if both {
		ends = 2
	}
	perPoint := 180 / math.Pi / r
	head = min(head, math.Abs(sweep)/perPoint/(1.1*ends))
	back := sign * 0.75 * head * perPoint // hidden below a head
	line := Arc(x, y, r, from, sweep-back)
	if both {
		line = Arc(x, y, r, from+back, sweep-2*back)
	}
	ex, ey := Polar(x, y, r, from+sweep)
	shapes := []Shape{Path{Segs: line, Stroke: role, Weight: weight},
		Marker{X: ex, Y: ey, Size: head, Kind: Arrowhead, Turn: from + sweep + sign*90 - back/2, Role: role}}
	if both {
		bx, by := Polar(x, y, r, from)
		shapes = append(shapes, Marker{X: bx, Y: by, Size: head, Kind: Arrowhead, Turn: from - sign*90 + back/2, Role: role})
	}
	return shapes
}
