package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// GearsInput is what the gear figure shows: a train of wheels side by side, each
// with a mark towards either neighbour. The marks point at each other when every
// wheel is where it belongs and none has turned.
type GearsInput struct {
	View   timing.View
	Wheels []GearWheel // from the crank gear on
	Pump   *PumpWheel  // nil: none
	Throw  *timing.Deg // of crank cylinder 1 after the top, in the direction of rotation; nil: not drawn

	Heading, Title, Desc string
	Caption              []string
	Words                GearsWords
}

// GearWheel is one wheel. Angles are its own, positive the way the crank turns.
type GearWheel struct {
	Name   string // ready for the reader
	Count  string // the same with its number of teeth
	Teeth  int
	Turned timing.Deg // since the marks met, were the wheel where it belongs
	Out    timing.Deg // how far the wheel really stands further
}

// PumpWheel is the gear of a pump, drawn above the wheel that drives it.
type PumpWheel struct {
	GearWheel
	On int // the wheel, counted from 0 at the crank gear
}

// GearsWords are the entries of the legend; an empty one is left out.
type GearsWords struct {
	Mark, Right, Throw string
}

// GearsLayout says where the figure has put the wheels.
type GearsLayout struct {
	X, Y, R []float64 // centre and pitch radius of each, the pump's last
	against []bool    // turns against the crank
	view    timing.View
}

// Gears draws the train. When the box is small, captions go first, then the
// legend, then the names of the wheels.
func Gears(in GearsInput, box Box) (Drawing, GearsLayout) {
	f := gearsFigure{in: in, l: GearsLayout{view: in.View}, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	if len(in.Wheels) == 0 {
		return f.d, f.l
	}
	f.size, f.small = box.typeSize(48, 26)
	f.measure(box)
	for i := range f.wheels {
		f.wheel(i)
	}
	for i := range f.wheels {
		f.marks(i)
		f.name(i)
	}
	f.words()
	return f.d, f.l
}

type gearsFigure struct {
	in          GearsInput
	wheels      []GearWheel // those in the row, then the pump's
	d           Drawing
	l           GearsLayout
	size, small float64
	margin      float64
	heading     bool
	keys        []legend
	captions    []string
	wordsAt     float64   // where legend and captions begin
	phase       []float64 // page angle of a tooth of each wheel when nothing has turned
}

// Parts of a wheel's pitch radius and of its module, the pitch diameter over the
// number of teeth: addendum 1 and dedendum 1.25 modules, as in the usual basic
// rack (ISO 53; from memory).
const (
	addendum  = 1.0
	dedendum  = 1.25
	nameRoom  = 1.5 // of the type size, below the wheels
	leastMark = 2.5 // points, radius
	leastStep = 1.8 // points from tooth to tooth, below which wheels are drawn smooth
	markAt    = 0.9 // of the root radius
)

func (f *gearsFigure) measure(box Box) {
	f.margin = 0.9 * f.size
	line := f.small * lineHeight
	inner := Rect{f.margin, f.margin, max(1, box.W-2*f.margin), max(1, box.H-2*f.margin)}
	f.heading = f.in.Heading != "" && box.H > 12*f.size
	if f.heading {
		inner.Y, inner.H = inner.Y+1.9*f.size, inner.H-1.9*f.size
	}
	lay := func(items legend, captions []string) Rect {
		f.keys, f.captions = items.flow(f.small, inner.W), nil
		for _, c := range captions {
			f.captions = append(f.captions, wrap(c, f.small, false, inner.W)...)
		}
		high := line * (1.15*float64(len(f.keys)) + float64(len(f.captions)))
		area := inner
		if high > 0 {
			area.H -= high + 0.6*f.size
		}
		f.wordsAt = area.Bottom() + 0.6*f.size
		return area
	}
	area := lay(f.items(), f.in.Caption)
	if area.H < 8*f.size {
		area = lay(f.items(), nil)
	}
	if area.H < 6*f.size {
		area = lay(nil, nil)
	}
	area.H -= nameRoom * f.small
	if f.in.Pump != nil { // its name stands above it
		area.Y, area.H = area.Y+nameRoom*f.small, area.H-nameRoom*f.small
	}
	f.place(area)
}

// place puts the wheels in a row, and the pump's above its driver: pitch circles that
// touch, as large as fit.
func (f *gearsFigure) place(area Rect) {
	f.wheels = f.in.Wheels[:len(f.in.Wheels):len(f.in.Wheels)]
	// A radius is teeth times half a module; all here is in halves of a module.
	z := func(i int) float64 { return float64(max(f.wheels[i].Teeth, 1)) }
	left, right, up, down := -addendum*2, addendum*2, 0.0, 0.0
	var x []float64
	for i := range f.wheels {
		x = append(x, right-addendum*2+z(i))
		right += 2 * z(i)
		down = max(down, z(i)+2*addendum)
	}
	up = down
	on := -1
	if p := f.in.Pump; p != nil && p.On >= 0 && p.On < len(f.wheels) {
		on = p.On
		f.wheels = append(f.wheels, p.GearWheel)
		n := len(f.wheels) - 1
		tip := z(n) + 2*addendum
		left, right = min(left, x[on]-tip), max(right, x[on]+tip)
		up = max(up, z(on)+z(n)+tip)
		x = append(x, x[on])
	}
	half := max(0, min(area.W/(right-left), area.H/(up+down)))
	x0 := area.X + (area.W-half*(right-left))/2 - half*left
	y0 := area.Y + (area.H-half*(up+down))/2 + half*up
	mesh := func(driver, driven int, from, to float64) float64 {
		// A tooth of one stands in a gap of the other: seen along the mesh, its teeth are
		// half a step off its neighbour's. from and to point at where they touch.
		return to - 360/z(driven)*((f.phase[driver]-from)*z(driver)/360+0.5)
	}
	for i := range f.wheels {
		y, phase := y0, 90.0
		switch {
		case i == len(f.in.Wheels):
			y -= half * (z(on) + z(i))
			phase = mesh(on, i, 0, 180)
			f.l.against = append(f.l.against, !f.l.against[on])
		case i > 0:
			phase = mesh(i-1, i, 90, 270)
			fallthrough
		default:
			f.l.against = append(f.l.against, i%2 == 1)
		}
		f.l.X, f.l.Y, f.l.R = append(f.l.X, x0+half*x[i]), append(f.l.Y, y), append(f.l.R, half*z(i))
		f.phase = append(f.phase, math.Mod(phase, 360))
	}
}

func (f *gearsFigure) turn(d timing.Deg) float64 {
	return math.Mod(PageAngle(f.in.View, d), 360)
}

// isNumber tells whether an angle can be drawn at all.
func isNumber(d timing.Deg) bool { return !math.IsNaN(float64(d)) && !math.IsInf(float64(d), 0) }

// module is the pitch diameter over the number of teeth, in points.
func (f *gearsFigure) module(i int) float64 {
	return 2 * f.l.R[i] / float64(max(f.wheels[i].Teeth, 1))
}

// wheel draws the body with its teeth.
func (f *gearsFigure) wheel(i int) {
	w, x, y, r, m := f.wheels[i], f.l.X[i], f.l.Y[i], f.l.R[i], f.module(i)
	tip, root := r+addendum*m, max(r-dedendum*m, 0)
	fill := Steel
	if i > 0 && i != len(f.in.Wheels)-1 {
		fill = Nose
	}
	if math.Pi*m < leastStep || w.Teeth < 1 || !isNumber(w.Turned+w.Out) {
		f.d.add(Path{Segs: Circle(x, y, r), Fill: fill, Stroke: Ink, Weight: Hair})
	} else {
		step := 360 / float64(w.Teeth)
		first := f.phase[i] + f.turn(w.Turned+w.Out)
		xy := make([]float64, 0, 8*w.Teeth)
		for k := range w.Teeth {
			at := first + float64(k)*step
			for _, c := range [4][2]float64{{root, -0.33}, {tip, -0.15}, {tip, 0.15}, {root, 0.33}} {
				px, py := Polar(x, y, c[0], at+c[1]*step)
				xy = append(xy, px, py)
			}
		}
		f.d.add(Path{Segs: Polygon(xy...), Fill: fill, Stroke: Ink, Weight: Hair})
	}
	f.d.add(Path{Segs: Circle(x, y, 0.12*r), Fill: Surface, Stroke: Ink, Weight: Hair})
	if i == 0 && f.in.Throw != nil && isNumber(*f.in.Throw) {
		page := f.turn(*f.in.Throw)
		x0, y0 := Polar(x, y, 0.12*r, page)
		x1, y1 := Polar(x, y, 0.62*r, page)
		f.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Faint, Weight: Medium},
			Marker{X: x1, Y: y1, Size: max(0.1*r, 4), Kind: TriangleUp, Hollow: true, Turn: page, Role: Faint})
	}
	f.arrow(i)
	f.d.Hits = append(f.d.Hits, Hit{Rect{x - tip, y - tip, 2 * tip, 2 * tip}, "wheel " + num(float64(i), 0), w.Count})
}

// arrow shows which way a wheel turns: as its neighbours do not.
func (f *gearsFigure) arrow(i int) {
	x, y, r := f.l.X[i], f.l.Y[i], f.l.R[i]
	if r < 3*f.small {
		return
	}
	sign := math.Copysign(1, PageAngle(f.in.View, 1))
	if f.l.against[i] {
		sign = -sign
	}
	const at, half = 0.42, 32
	head := max(0.07*r, 5)
	back := sign * 0.75 * head / (at * r) * 180 / math.Pi
	f.d.add(Path{Segs: Arc(x, y, at*r, 180-sign*half, sign*2*half-back), Stroke: Ink, Weight: Medium})
	px, py := Polar(x, y, at*r, 180+sign*half)
	f.d.add(Marker{X: px, Y: py, Size: head, Kind: Arrowhead, Turn: 180 + sign*(half+90) - back/2, Role: Ink})
}

// marks draws a wheel's marks and, where it is out, hollow ones where they would
// be.
func (f *gearsFigure) marks(i int) {
	w, m := f.wheels[i], f.module(i)
	r := markAt * max(f.l.R[i]-dedendum*m, 0)
	if !isNumber(w.Turned + w.Out) {
		return
	}
	size := min(max(0.55*f.small, 2*leastMark), 0.25*f.l.R[i])
	var towards []float64
	last, hung := len(f.in.Wheels)-1, len(f.wheels) > len(f.in.Wheels)
	if i > 0 && i <= last {
		towards = append(towards, 270)
	}
	if i < last {
		towards = append(towards, 90)
	}
	switch {
	case i > last:
		towards = append(towards, 180)
	case hung && i == f.in.Pump.On:
		towards = append(towards, 0)
	}
	for _, page := range towards {
		if w.Out != 0 {
			x, y := Polar(f.l.X[i], f.l.Y[i], r, page+f.turn(w.Turned))
			f.d.add(Path{Segs: Circle(x, y, size/2+1), Stroke: Ghost, Weight: Medium})
		}
		x, y := Polar(f.l.X[i], f.l.Y[i], r, page+f.turn(w.Turned+w.Out))
		mark := Marker{X: x, Y: y, Size: size, Kind: Dot, Role: Tooth}
		if w.Out != 0 {
			mark.Kind, mark.Role, mark.Size = Diamond, Warning, 1.2*size
		}
		f.d.add(mark)
	}
}

// name writes a wheel's name below it, the pump's above it, as much as there is room
// for.
func (f *gearsFigure) name(i int) {
	w := f.wheels[i]
	s := w.Count
	room := 2*f.l.R[i] - 0.4*f.small
	if width(f.small, false, s) > room {
		s = w.Name
	}
	if width(f.small, false, s) > room {
		return
	}
	tip := func(k int) float64 { return f.l.R[k] + addendum*f.module(k) }
	y := f.l.Y[i] - tip(i) - 0.8*f.small
	if i < len(f.in.Wheels) {
		most := 0.0
		for k := range f.in.Wheels {
			most = max(most, tip(k))
		}
		y = f.l.Y[i] + most + 0.8*f.small
	}
	f.d.add(Text{X: f.l.X[i], Y: y, S: s, Size: f.small, H: Centre, V: Middle, Role: Ink})
}

func (f *gearsFigure) items() legend {
	var l legend
	out := false
	for _, w := range f.in.Wheels {
		out = out || w.Out != 0
	}
	l.add(f.in.Words.Mark, markSample(Marker{Kind: Dot, Role: Tooth}))
	if out {
		l.add(f.in.Words.Right, func(r Rect) []Shape {
			return []Shape{Path{Segs: Circle(r.X+r.W/2, r.Y+r.H/2, 0.42*r.H), Stroke: Ghost, Weight: Medium}}
		})
	}
	if f.in.Throw != nil {
		l.add(f.in.Words.Throw, markSample(Marker{Kind: TriangleUp, Hollow: true, Role: Faint}))
	}
	return l
}

func (f *gearsFigure) words() {
	if f.heading {
		f.d.add(Text{X: f.margin, Y: f.margin + 0.55*f.size, Size: 1.25 * f.size, Bold: true, V: Middle, Role: Ink,
			S: cut(f.in.Heading, 1.25*f.size, true, f.d.W-2*f.margin)})
	}
	line := f.small * lineHeight
	y := f.wordsAt
	for _, l := range f.keys {
		l.putLine(&f.d, f.margin, y+0.575*line, f.small)
		y += 1.15 * line
	}
	for _, s := range f.captions {
		f.d.add(Text{X: f.margin, Y: y + 0.5*line, S: s, Size: f.small, V: Middle, Role: Faint})
		y += line
	}
}
