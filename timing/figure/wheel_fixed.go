package figure

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
)

// protractor draws the fixed ring of degrees before and after top dead centre,
// the sensor and the arrow of rotation.
func (f *wheelFigure) protractor() {
	d, k, w := &f.fixed, f.l.Ring, f.in.Words
	d.add(Path{Segs: Circle(f.l.X, f.l.Y, k), Stroke: Faint})
	step := 10
	if k < 90 {
		step = 30
	}
	s := max(0.6*f.small, 4) // height of the mark at the top
	x, y := f.at(1, 0)
	top := Text{X: x, Y: y - s - 0.2*f.small, S: w.TDC, Size: f.small, Bold: true, H: Centre, V: Baseline, Role: Ink}
	sensor := f.sensorLabel()
	if sensor.Bounds().Meets(top.Bounds()) {
		sensor.S = ""
	}
	for a := -180 + step; a <= 180; a += step {
		page, inner, role := f.turn(timing.Deg(a)), 0.978, Faint
		if a%30 == 0 {
			inner, role = 0.962, Ink
		}
		x0, y0 := f.at(inner, page)
		x1, y1 := f.at(1, page)
		d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role, Weight: Hair})
		if a%30 != 0 || a == 0 || !f.degrees {
			continue
		}
		t := f.outside(page, fmt.Sprintf("%d°", max(a, -a)), f.small, false, Faint)
		second := ""
		switch a {
		case 90:
			second = w.ATDC
		case -90:
			second = w.BTDC
		}
		if !t.Bounds().Meets(sensor.Bounds()) || sensor.S == "" {
			d.add(t)
			if second != "" {
				t.S, t.Y = second, t.Y+1.15*f.small
				if !t.Bounds().Meets(sensor.Bounds()) || sensor.S == "" {
					d.add(t)
				}
			}
		}
	}
	d.add(Marker{X: x, Y: y - s/2, Size: s, Kind: TriangleDown, Role: TDC},
		Path{Segs: Line(x, y, x, y+0.06*k), Stroke: TDC, Weight: Medium},
		top)
	f.sensor(sensor)
	f.rotation()
}

// labelGap is from the ring to its labels, over the type size: room for the
// injection marks.
const labelGap = 1.1

// outside is a label just outside the ring.
func (f *wheelFigure) outside(page float64, s string, size float64, bold bool, role Role) Text {
	x, y := Polar(f.l.X, f.l.Y, f.l.Ring+labelGap*f.small, page)
	t := Text{X: x, Y: y, S: s, Size: size, Bold: bold, V: Middle, Role: role}
	sin, cos := math.Sincos(page * math.Pi / 180)
	switch {
	case sin > 0.35:
		t.H = Left
	case sin < -0.35:
		t.H = Right
	default:
		t.H = Centre
	}
	t.Y -= cos * 0.25 * size
	return t
}

// sensorInLegend tells whether the sensor stands where the top's own label is.
func (f *wheelFigure) sensorInLegend() bool {
	return math.Abs(float64(timing.WrapSigned(f.in.sensorAt(), timing.Turn))) < 35
}

// sensorLabel is the sensor's label, cut to what is left of the box beside it.
func (f *wheelFigure) sensorLabel() Text {
	if f.in.Positions == 0 || f.sensorInLegend() {
		return Text{}
	}
	t := f.outside(f.turn(f.l.Sensor), f.in.Words.Sensor, f.small, true, Ink)
	room := 2 * min(t.X-f.area.X, f.area.Right()-t.X)
	switch t.H {
	case Left:
		room = f.area.Right() + 0.9*f.margin - t.X
	case Right:
		room = t.X - f.area.X + 0.9*f.margin
	}
	t.S = cut(t.S, f.small, true, room)
	return t
}

// sensor draws the sensor with its face to the teeth.
func (f *wheelFigure) sensor(label Text) {
	if f.in.Positions == 0 {
		return
	}
	page := f.turn(f.l.Sensor)
	const half, tip, face = 0.045, 0.016, tipR + 0.018
	corner := func(r, across float64) (float64, float64) {
		x, y := f.at(r, page)
		return Polar(x, y, across*f.l.Ring, page+90)
	}
	var xy []float64
	for _, c := range [][2]float64{{face, -tip}, {face + 0.03, -half}, {sensorR, -half}, {sensorR, half}, {face + 0.03, half}, {face, tip}} {
		x, y := corner(c[0], c[1])
		xy = append(xy, x, y)
	}
	f.fixed.add(Path{Segs: Polygon(xy...), Fill: Sensor, Stroke: Ink, Weight: Hair})
	x0, y0 := f.at(sensorR, page)
	x1, y1 := f.at(1, page)
	f.fixed.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Sensor, Weight: Heavy})
	if label.S != "" {
		f.fixed.add(label)
	}
	if f.in.Words.Sensor != "" {
		x, y := f.at((face+sensorR)/2, page)
		h := 0.08 * f.l.Ring
		f.fixed.Hits = append(f.fixed.Hits, Hit{Rect{x - h, y - h, 2 * h, 2 * h}, "sensor", f.in.Words.Sensor})
	}
}

// rotation draws the arrow of rotation, across from the sensor.
func (f *wheelFigure) rotation() {
	const r, half = 0.87, 20
	sign := math.Copysign(1, f.turn(1))
	page := f.turn(f.l.Sensor) + 180
	head := max(0.05*f.l.Ring, 5)
	back := sign * 0.75 * head / (r * f.l.Ring) * 180 / math.Pi
	f.fixed.add(Path{Segs: Arc(f.l.X, f.l.Y, r*f.l.Ring, page-sign*half, sign*2*half-back), Stroke: Ink, Weight: Medium})
	x, y := f.at(r, page+sign*half)
	f.fixed.add(Marker{X: x, Y: y, Size: head, Kind: Arrowhead, Turn: page + sign*(half+90) - back/2, Role: Ink})
}

// injection marks on the ring where the No. 1 throw stands when injection is
// asked for and when it happens: before top dead centre is against the direction
// of rotation.
func (f *wheelFigure) injection() {
	in, k := f.in, f.l.Ring
	size := min(max(0.07*k, 7), 1.25*f.small)
	if in.Commanded != nil && in.Actual != nil {
		from, by := f.turn(-*in.Commanded), f.turn(*in.Commanded-*in.Actual)
		sign := math.Copysign(1, by)
		perPoint := 180 / math.Pi / k
		start, end := size*ringSize/2*perPoint, math.Abs(by)-0.55*size*perPoint
		if head := size * 0.75; end-start > head*perPoint {
			f.fixed.add(Path{Segs: Arc(f.l.X, f.l.Y, k, from+sign*start, sign*(end-start-0.75*head*perPoint)), Stroke: Actual, Weight: Heavy})
			x, y := f.at(1, from+sign*end)
			f.fixed.add(Marker{X: x, Y: y, Size: head, Kind: Arrowhead, Role: Actual,
				Turn: from + sign*(end+90-head/2*perPoint)})
		}
	}
	mark := func(btdc timing.Deg, m Marker, name, label string) {
		m.X, m.Y = f.at(1, f.turn(-btdc))
		m.Turn = f.turn(-btdc)
		f.fixed.add(m)
		if label != "" {
			f.fixed.Hits = append(f.fixed.Hits, Hit{m.Bounds(), name, label})
		}
	}
	if in.Commanded != nil {
		mark(*in.Commanded, Marker{Size: size * ringSize, Kind: Dot, Hollow: true, Role: Commanded}, "commanded", in.Words.Commanded)
	}
	if in.Actual != nil {
		mark(*in.Actual, Marker{Size: size, Kind: Diamond, Role: Actual}, "actual", in.Words.Actual)
	}
}
