package figure

import (
	"fmt"
	"math"
)

// PhotoMarksInput is what lies over a photograph of a crankshaft's end. Places
// are in pixels of the picture, y down.
type PhotoMarksInput struct {
	W, H        float64 // of the view, in points
	Scale       float64 // points to the pixel
	X, Y        float64 // where the picture's top left corner lies in the view
	Type        float64 // multiplies type and marks; 0 stands for 1
	Title, Desc string

	Points   []PhotoPoint
	Rim      *PhotoEllipse // fitted to the rim
	Proposed bool          // the rim is proposed, and drawn dashed
	Centre   *PhotoPlace   // where the axis meets the face
	From, To *PhotoPlace   // the features' middles: the angle goes from the one to the other
	// Arc runs from one ray to the other, as a circle on the face looks in the
	// picture. Nil: it is drawn after the rim's shape, the short way round.
	Arc   []PhotoPlace
	Value string // of the angle, at the arc
	// Beside are places that the value must not cover either, as where the owner
	// draws points itself.
	Beside []PhotoPlace
}

// PhotoPlace is a place in a picture.
type PhotoPlace struct{ X, Y float64 }

// PhotoEllipse is an ellipse in a picture.
type PhotoEllipse struct {
	X, Y         float64
	Major, Minor float64 // half axes
	Turned       float64 // degrees of the major axis, clockwise as seen from x
}

// PhotoPoint is a point that has been placed on a picture.
type PhotoPoint struct {
	PhotoPlace
	Kind     PhotoKind
	Selected bool
	Label    string // for people; may be empty
}

// PhotoKind is what a point marks. Each has a form of its own.
type PhotoKind uint8

// The kinds, with their forms.
const (
	RimPoint    PhotoKind = iota // circle
	KeywayPoint                  // square
	DowelPoint                   // diamond
	BoltPoint                    // triangle
	ThrowPoint                   // cross
	CentrePoint                  // upright cross
)

// String returns the kind's name in a job file.
func (k PhotoKind) String() string {
	return [...]string{"rim", "keyway", "dowel", "bolts", "throw", "centre"}[k]
}

// photoForms are form, role and size of each kind.
var photoForms = [...]struct {
	kind MarkerKind
	role Role
	size float64
}{
	RimPoint:    {Dot, Commanded, 9},
	KeywayPoint: {Square, Ink, 8.5},
	DowelPoint:  {Diamond, Measured, 11},
	BoltPoint:   {TriangleUp, Tooth, 10},
	ThrowPoint:  {Cross, Cursor, 9},
	CentrePoint: {Plus, Cursor, 12},
}

// PhotoMarks draws what lies over a photograph: the fitted rim, the axis, the
// rays with their angle, and the points. Every line has a wider one in the
// surface's colour beneath, so that it is seen on a bright picture and on a dark
// one; nothing is filled that would hide the picture. It is for [Raster.Clear].
// Marks keep their size whatever the scale.
func PhotoMarks(in PhotoMarksInput) Drawing {
	m := photoMarks{in: in, d: Drawing{W: in.W, H: in.H, Title: in.Title, Desc: in.Desc}, k: Box{Type: in.Type}.scale()}
	m.rim()
	arc := m.angle()
	for i, p := range in.Points {
		m.point(i, p)
	}
	m.value(arc)
	return m.d
}

// photoMarks is such a drawing on the way.
type photoMarks struct {
	in PhotoMarksInput
	d  Drawing
	k  float64 // Type
}

// at is a place of the picture in the view.
func (m *photoMarks) at(p PhotoPlace) point {
	return point{m.in.X + p.X*m.in.Scale, m.in.Y + p.Y*m.in.Scale}
}

// halo draws a line with a wider one beneath.
func (m *photoMarks) halo(segs []Seg, role Role, w Weight) {
	if len(segs) > 0 {
		m.d.add(Path{Segs: segs, Stroke: Surface, Weight: Broad}, Path{Segs: segs, Stroke: role, Weight: w})
	}
}

// inView is the part of a line through points that lies in the view or close
// by: far into a picture most of it is elsewhere.
func (m *photoMarks) inView(line []point) []Seg {
	const beyond = 20
	view := Rect{0, 0, m.in.W, m.in.H}.Grown(beyond)
	var segs []Seg
	joined := false
	for i := 1; i < len(line); i++ {
		a, b, ok := clipped(line[i-1], line[i], view)
		if !ok {
			joined = false
			continue
		}
		if !joined || a != line[i-1] {
			segs = append(segs, Seg{Op: MoveTo, X: a.x, Y: a.y})
		}
		segs = append(segs, Seg{Op: LineTo, X: b.x, Y: b.y})
		joined = b == line[i]
	}
	return segs
}

// clipped is the part of a line inside a rectangle (Liang and Barsky 1984).
func clipped(a, b point, r Rect) (from, to point, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, e := range [4][2]float64{{-dx, a.x - r.X}, {dx, r.Right() - a.x}, {-dy, a.y - r.Y}, {dy, r.Bottom() - a.y}} {
		p, q := e[0], e[1]
		switch {
		case math.IsNaN(p) || math.IsNaN(q):
			return a, b, false
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to = a, b
	if t0 > 0 {
		from = point{a.x + t0*dx, a.y + t0*dy}
	}
	if t1 < 1 {
		to = point{a.x + t1*dx, a.y + t1*dy}
	}
	return from, to, true
}

// onto is the picture's place of a point of the unit circle that the ellipse is
// the image of, moved to another centre and shrunk.
func (e PhotoEllipse) onto(c PhotoPlace, shrunk, eccentric float64) PhotoPlace {
	sin, cos := math.Sincos(eccentric)
	ts, tc := math.Sincos(e.Turned * math.Pi / 180)
	x, y := shrunk*e.Major*cos, shrunk*e.Minor*sin
	return PhotoPlace{c.X + x*tc - y*ts, c.Y + x*ts + y*tc}
}

// eccentric is the eccentric angle, in radians, of the direction from c to p.
func (e PhotoEllipse) eccentric(c, p PhotoPlace) float64 {
	ts, tc := math.Sincos(e.Turned * math.Pi / 180)
	x, y := p.X-c.X, p.Y-c.Y
	return math.Atan2((y*tc-x*ts)/e.Minor, (x*tc+y*ts)/e.Major)
}

// rim draws the fitted ellipse, off by at most a tenth of a point.
func (m *photoMarks) rim() {
	e := m.in.Rim
	if e == nil || !(e.Major > 0 && e.Minor > 0) {
		return
	}
	n := min(max(math.Ceil(math.Pi*math.Sqrt(e.Major*m.in.Scale/0.2)), 48), 2000)
	var line []point
	for i := 0.0; i <= n; i++ {
		line = append(line, m.at(e.onto(PhotoPlace{e.X, e.Y}, 1, 2*math.Pi*i/n)))
	}
	if m.in.Proposed {
		m.halo(m.inView(line), Ghost, Medium)
		return
	}
	m.halo(m.inView(line), Commanded, Fine)
}

// angle draws the axis, the rays and the arc, and returns the arc in the view.
func (m *photoMarks) angle() (arc []point) {
	in := m.in
	if in.Centre == nil {
		return nil
	}
	c := m.at(*in.Centre)
	for _, p := range []*PhotoPlace{in.From, in.To} {
		if p != nil {
			m.halo(m.inView([]point{c, m.at(*p)}), Measured, Medium)
		}
	}
	if in.From != nil && in.To != nil {
		arc = m.arcLine()
		m.halo(m.inView(arc), Measured, Medium)
	}
	s := 5 * m.k
	m.halo(m.inView([]point{{c.x - s, c.y}, {c.x + s, c.y}}), Measured, Medium)
	m.halo(m.inView([]point{{c.x, c.y - s}, {c.x, c.y + s}}), Measured, Medium)
	return arc
}

// arcLine is the arc in the view.
func (m *photoMarks) arcLine() []point {
	in := m.in
	var line []point
	if in.Arc != nil {
		for _, p := range in.Arc {
			line = append(line, m.at(p))
		}
		return line
	}
	c := *in.Centre
	const share = 0.45
	shape, shrunk := PhotoEllipse{Major: 1, Minor: 1}, share
	if in.Rim != nil && in.Rim.Major > 0 && in.Rim.Minor > 0 {
		shape = *in.Rim
	} else {
		shrunk *= min(math.Hypot(in.From.X-c.X, in.From.Y-c.Y), math.Hypot(in.To.X-c.X, in.To.Y-c.Y))
	}
	from := shape.eccentric(c, *in.From)
	sweep := math.Remainder(shape.eccentric(c, *in.To)-from, 2*math.Pi)
	n := math.Ceil(math.Abs(sweep)/(math.Pi/90)) + 1
	for i := 0.0; i <= n; i++ {
		line = append(line, m.at(shape.onto(c, shrunk, from+sweep*i/n)))
	}
	return line
}

// value stands beyond the middle of the arc, seen from the axis, or where no
// point lies on the way on or on the other side of the axis; inside the view as
// long as the arc's middle is.
func (m *photoMarks) value(arc []point) {
	if m.in.Value == "" || len(arc) == 0 {
		return
	}
	c, mid := m.at(*m.in.Centre), arc[len(arc)/2]
	if !(Rect{0, 0, m.in.W, m.in.H}).Holds(mid.x, mid.y) {
		return
	}
	size := 13 * m.k
	w, h := width(size, true, m.in.Value)+0.7*size, 1.5*size
	dx, dy := mid.x-c.x, mid.y-c.y
	reach := math.Hypot(dx, dy)
	if reach > 0 {
		dx, dy = dx/reach, dy/reach
	}
	away := math.Abs(dx)*w/2 + math.Abs(dy)*h/2 + 0.4*size
	at := func(r float64) Rect {
		x := max(min(c.x+dx*r, m.in.W-w/2), w/2)
		y := max(min(c.y+dy*r, m.in.H-h/2), h/2)
		return Rect{x - w/2, y - h/2, w, h}
	}
	box := at(reach + away)
	for _, r := range []float64{reach + away, reach + away + 1.5*size, reach + away + 3*size, -away} {
		if !m.onPoint(at(r)) {
			box = at(r)
			break
		}
	}
	m.d.add(Path{Segs: Rectangle(box), Fill: Surface, Stroke: Measured, Weight: Medium},
		Text{X: box.X + w/2, Y: box.Y + h/2, S: m.in.Value, Size: size, Bold: true, H: Centre, V: Middle, Role: Ink})
}

// onPoint tells whether a rectangle covers a placed point, or what lies between the
// points: the dowel, and the keyway below its corners.
func (m *photoMarks) onPoint(r Rect) bool {
	r = r.Grown(7 * m.k)
	c := m.at(*m.in.Centre)
	for _, p := range []*PhotoPlace{m.in.From, m.in.To} {
		for _, way := range []float64{0.75, 0.875, 1} {
			if at := m.at(*p); r.Holds(c.x+way*(at.x-c.x), c.y+way*(at.y-c.y)) {
				return true
			}
		}
	}
	for _, p := range m.in.Points {
		if c := m.at(p.PhotoPlace); r.Holds(c.x, c.y) {
			return true
		}
	}
	for _, p := range m.in.Beside {
		if c := m.at(p); r.Holds(c.x, c.y) {
			return true
		}
	}
	return false
}

// point draws a placed point: an outline round the spot and a small dot on it.
// The selected one is larger, with a ring round it.
func (m *photoMarks) point(i int, p PhotoPoint) {
	c := m.at(p.PhotoPlace)
	if !(Rect{0, 0, m.in.W, m.in.H}).Grown(30*m.k).Holds(c.x, c.y) {
		return
	}
	form := photoForms[p.Kind]
	size := form.size * m.k
	if p.Selected {
		size *= 1.35
		m.halo(Circle(c.x, c.y, 0.95*size), Cursor, Heavy)
	}
	outline := Marker{X: c.x, Y: c.y, Size: size, Kind: form.kind}.path().Segs
	m.halo(outline, form.role, Medium)
	if form.kind != Cross && form.kind != Plus {
		m.d.add(Path{Segs: Circle(c.x, c.y, 1.7*m.k), Fill: Surface}, Path{Segs: Circle(c.x, c.y, m.k), Fill: form.role})
	}
	half := 12 * m.k
	m.d.Hits = append(m.d.Hits, Hit{Rect{c.x - half, c.y - half, 2 * half, 2 * half}, fmt.Sprintf("%s %d", p.Kind, i), p.Label})
}
