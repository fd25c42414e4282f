package figure

import (
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing"
)

// EngineInput is what the engine figure shows: every cylinder cut open as one sees it
// from an end of the crankshaft, side by side, and the star of the throws. Lengths are
// in millimetres; angles are positive in the direction of rotation.
type EngineInput struct {
	View      timing.View
	TwoStroke bool // ports are drawn in the walls
	Cylinders []EngineCylinder

	BoreMM, ThrowMM, RodMM, OffsetMM float64
	ClearanceMM                      float64 // between head and piston at top dead centre

	IntakePortMM, ExhaustPortMM *float64 // how far below top dead centre the piston is when it uncovers them; nil: valves, or not known

	Heading, Title, Desc string
	Strokes              [4]Word // by timing.Stroke; for the legend
	Intake, Exhaust      string  // words for the valves, "" where their times are not known
	Spray                string  // word for the injection as it happens, "" where it is not known
	Star, Row            string  // below the star, below the cylinders
	Caption              []string
}

// EngineCylinder is one cylinder at the crank's present angle.
type EngineCylinder struct {
	Cylinder int
	Bank     timing.Deg // of its bore from upright
	Throw    timing.Deg // of its crankpin, from its bore
	DropMM   float64    // of the piston below top dead centre
	Stroke   timing.Stroke
	Intake   float64 // how far it is open, 0 to 1
	Exhaust  float64
	Spraying bool
	Selected bool
}

// EngineLayout tells where the figure's parts are: for hits and tests.
type EngineLayout struct {
	Units []EngineUnit
	Scale float64 // points a millimetre

	StarX, StarY, StarR float64 // the star of the throws; no radius: it is not drawn
	view                timing.View
}

// UnitAt is the unit at a place on the page; −1: there is none.
func (l EngineLayout) UnitAt(x, y float64) int {
	for i, u := range l.Units {
		if u.Room.Holds(x, y) {
			return i
		}
	}
	return -1
}

// Nearest is the wheel of a place on the page, that of its unit or, as the one after the
// last unit, the star; −1: none.
func (l EngineLayout) Nearest(x, y float64) int {
	if l.StarR > 0 && math.Hypot(x-l.StarX, y-l.StarY) < 1.3*l.StarR {
		return len(l.Units)
	}
	return l.UnitAt(x, y)
}

// FromTop is the angle of a place on the page round the crankshaft of a wheel, from the
// top and positive the way the crank turns.
func (l EngineLayout) FromTop(wheel int, x, y float64) timing.Deg {
	x0, y0 := l.StarX, l.StarY
	if wheel < len(l.Units) {
		x0, y0 = l.Units[wheel].AxisX, l.Units[wheel].AxisY
	}
	page := timing.FromRadians(math.Atan2(x-x0, y0-y))
	return timing.WrapSigned(timing.Deg(PageAngle(l.view, page)), timing.Turn)
}

// EngineUnit is where one cylinder is drawn, in points.
type EngineUnit struct {
	Cylinder         int
	Room             Rect
	AxisX, AxisY     float64 // the crankshaft's axis
	PinX, PinY       float64 // the crankpin
	PistonX, PistonY float64 // the piston pin
}

// Engine draws the engine.
func Engine(in EngineInput, box Box) (Drawing, EngineLayout) {
	f := engineFigure{in: in, l: EngineLayout{view: in.View}, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if !(box.W > 0 && box.H > 0) || len(in.Cylinders) == 0 || !(in.ThrowMM > 0 && in.RodMM > in.ThrowMM && in.BoreMM > 0) {
		return f.d, f.l
	}
	f.size, f.small = box.typeSize(60, 30)
	room := f.frame(box)
	if room.H < 3*f.small || room.W < 4*f.small {
		return f.d, f.l
	}
	star := min(0.3*room.W, room.H)
	if star > 7*f.small && room.W-star > 2*f.small*float64(len(in.Cylinders)) {
		f.star(Rect{room.X, room.Y, star, room.H})
		room.X, room.W = room.X+star+f.size, room.W-star-f.size
	}
	f.row(room)
	return f.d, f.l
}

type engineFigure struct {
	in          EngineInput
	d           Drawing
	l           EngineLayout
	size, small float64
}

// frame puts heading, legend and captions and returns the room between.
func (f *engineFigure) frame(box Box) Rect {
	margin := 0.7 * f.size
	room := Rect{margin, margin, box.W - 2*margin, box.H - 2*margin}
	line := f.small * lineHeight
	if f.in.Heading != "" && box.H > 14*f.size {
		f.d.add(Text{X: room.X, Y: room.Y + 0.6*f.size, S: cut(f.in.Heading, 1.25*f.size, true, room.W), Size: 1.25 * f.size, Bold: true, V: Middle, Role: Ink})
		room.Y, room.H = room.Y+1.9*f.size, room.H-1.9*f.size
	}
	var lines []string
	for _, c := range f.in.Caption {
		lines = append(lines, wrap(c, f.small, false, room.W)...)
	}
	if high := line * float64(len(lines)); high > 0 && high < 0.12*room.H {
		for i, s := range lines {
			f.d.add(Text{X: room.X, Y: room.Bottom() - high + line*(float64(i)+0.8), S: s, Size: f.small, Role: Faint})
		}
		room.H -= high + 0.3*line
	}
	keys := f.legend().flow(f.small, room.W)
	if high := line * float64(len(keys)); high < 0.12*room.H {
		for i, k := range keys {
			k.putLine(&f.d, room.X, room.Bottom()-high+line*(float64(i)+0.5), f.small)
		}
		room.H -= high + 0.5*line
	}
	return room
}

func (f *engineFigure) legend() legend {
	var l legend
	spans := []timing.Stroke{timing.Power, timing.Exhaust, timing.Intake, timing.Compression}
	if f.in.TwoStroke {
		spans = []timing.Stroke{timing.Power, timing.Compression}
	}
	for _, s := range spans {
		l.add(f.in.Strokes[s].Full, areaSample(StrokeRole(s)))
	}
	bar := func(role Role) func(Rect) []Shape {
		return func(r Rect) []Shape {
			return []Shape{Path{Segs: Rectangle(Rect{r.X, r.Y + 0.35*r.H, r.W, 0.3 * r.H}), Fill: role}}
		}
	}
	if f.in.Intake != "" {
		l.add(f.in.Intake, bar(IntakeValve))
	}
	if f.in.Exhaust != "" {
		l.add(f.in.Exhaust, bar(ExhaustValve))
	}
	if f.in.Spray != "" {
		l.add(f.in.Spray, func(r Rect) []Shape { return spray(r.X+r.W/2, r.Y, r.H, 0.7*r.W) })
	}
	return l
}

// spray is a jet from an injector's tip downwards.
func spray(x, y, long, wide float64) []Shape {
	var list []Shape
	for _, k := range []float64{-0.5, 0, 0.5} {
		list = append(list, Path{Segs: Line(x, y, x+k*wide, y+long), Stroke: Actual, Weight: Medium})
	}
	return list
}

// star draws the throws as one sees them from the end chosen.
func (f *engineFigure) star(room Rect) {
	words := wrap(f.in.Star, f.small, false, room.W)
	foot := f.small * lineHeight * float64(len(words))
	x, y := room.X+room.W/2, room.Y+(room.H-foot)/2
	r := min(room.W, room.H-foot)/2 - 2.6*f.small
	if r < f.small {
		return
	}
	if r < 4*f.small { // the words would leave little of it
		words, y, r = nil, room.Y+room.H/2, min(room.W, room.H)/2-2.6*f.small
	}
	for i, s := range words {
		f.d.add(Text{X: x, Y: y + r + 2*f.small + f.small*lineHeight*(float64(i)+0.8), S: s, Size: f.small, H: Centre, Role: Faint})
	}
	f.l.StarX, f.l.StarY, f.l.StarR = x, y, r
	f.d.add(Path{Segs: Circle(x, y, r), Stroke: Grid, Weight: Medium})
	banks := map[timing.Deg]bool{}
	pins := map[int][]string{} // by whole degrees
	var order []int
	at := map[int]timing.Deg{}
	for _, c := range f.in.Cylinders {
		banks[c.Bank] = true
		angle := timing.Wrap(c.Bank+c.Throw, timing.Turn)
		key := int(math.Round(float64(angle))) % 360
		if pins[key] == nil {
			order = append(order, key)
			at[key] = angle
		}
		pins[key] = append(pins[key], fmt.Sprint(c.Cylinder))
	}
	for _, c := range f.in.Cylinders { // where the bores point
		if banks[c.Bank] {
			x1, y1 := Polar(x, y, 1.12*r, PageAngle(f.in.View, c.Bank))
			x0, y0 := Polar(x, y, 0.3*r, PageAngle(f.in.View, c.Bank))
			f.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Ghost, Weight: Hair})
			banks[c.Bank] = false
		}
	}
	for _, key := range order {
		page := PageAngle(f.in.View, at[key])
		px, py := Polar(x, y, r, page)
		f.d.add(Path{Segs: Line(x, y, px, py), Stroke: Ink, Weight: Heavy},
			Path{Segs: Circle(px, py, 0.45*f.small), Fill: Throw, Stroke: Ink, Weight: Fine, Plain: true})
		words := strings.Join(pins[key], " ")
		aside := math.Abs(math.Sin(page*math.Pi/180)) * width(f.small, true, words) / 2
		tx, ty := Polar(x, y, r+1.1*f.small+aside, page)
		f.d.add(Text{X: tx, Y: ty, S: words, Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink})
	}
	f.d.add(Path{Segs: Circle(x, y, 0.5*f.small), Fill: Nose, Stroke: Ink, Weight: Fine, Plain: true})
	sweep := PageAngle(f.in.View, 50)
	f.d.add(arrowArc(x, y, 0.55*r, PageAngle(f.in.View, 10), sweep, 0.6*f.small, false, Faint, Medium)...)
}

// The proportions of what is drawn and no length of the job, in bores.
const (
	crownAbove = 0.42 // the piston's top over its pin
	skirtBelow = 0.28
	headHigh   = 0.30 // what stands over the gas: head and valve stems
	liftMost   = 0.12
)

// row draws the cylinders side by side, as large as they fit.
func (f *engineFigure) row(room Rect) {
	in := f.in
	line := f.small * lineHeight
	words := cut(in.Row, f.small, false, room.W)
	if words != "" && room.H > 8*line {
		room.H -= line
	} else {
		words = ""
	}
	n := float64(len(in.Cylinders))
	pitch := room.W / n
	wide := max(1.18*in.BoreMM, 2.5*in.ThrowMM)
	top := math.Sqrt((in.RodMM+in.ThrowMM)*(in.RodMM+in.ThrowMM) - in.OffsetMM*in.OffsetMM) // the piston pin at top dead centre
	high := (headHigh+crownAbove)*in.BoreMM + in.ClearanceMM + top + 1.2*in.ThrowMM
	k := min(pitch/wide, (room.H-1.3*line)/high)
	f.l.Scale = k
	if used := k*high + 1.3*line; room.H > used {
		room.Y, room.H = room.Y+(room.H-used)/2, used
	}
	if words != "" {
		f.d.add(Text{X: room.X + room.W/2, Y: room.Bottom() + 0.8*line, S: words, Size: f.small, H: Centre, Role: Faint})
	}
	axisY := room.Y + k*(high-1.2*in.ThrowMM)
	pitch = min(pitch, 1.5*k*wide)
	left := room.X + (room.W-n*pitch)/2
	side := 1.0
	if in.View.Rotates() == timing.Anticlockwise {
		side = -1
	}
	every := int(math.Ceil(1.3 * width(f.small, true, "24") / pitch)) // which cylinders are named
	for i, c := range in.Cylinders {
		u := EngineUnit{Cylinder: c.Cylinder, Room: Rect{left + float64(i)*pitch, room.Y, pitch, room.H}}
		u.AxisX, u.AxisY = u.Room.X+pitch/2, axisY
		th := c.Throw.Radians()
		u.PinX, u.PinY = u.AxisX+side*k*in.ThrowMM*math.Sin(th), u.AxisY-k*in.ThrowMM*math.Cos(th)
		u.PistonX, u.PistonY = u.AxisX+side*k*in.OffsetMM, u.AxisY-k*(top-c.DropMM)
		f.cylinder(c, u, axisY-k*top)
		if i%every == 0 {
			f.d.add(Text{X: u.AxisX, Y: axisY + 1.25*k*in.ThrowMM + 0.7*line, S: fmt.Sprint(c.Cylinder), Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink})
		}
		f.l.Units = append(f.l.Units, u)
		f.d.Hits = append(f.d.Hits, Hit{u.Room, fmt.Sprintf("cylinder %d", c.Cylinder), in.Strokes[c.Stroke].Full})
	}
}

// cylinder draws one; tdc is how high on the page its piston pin comes.
func (f *engineFigure) cylinder(c EngineCylinder, u EngineUnit, tdc float64) {
	in, k := f.in, f.l.Scale
	bore, r := k*in.BoreMM, k*in.ThrowMM
	x := u.PistonX - bore/2
	crown := u.PistonY - crownAbove*bore
	head := tdc - crownAbove*bore - k*in.ClearanceMM
	foot := tdc + 2*r + 0.15*bore
	if c.Selected {
		f.d.add(Path{Segs: Rectangle(u.Room), Fill: Band})
	}
	f.d.add(Path{Segs: Circle(u.AxisX, u.AxisY, r), Stroke: Grid})
	f.d.add(Path{Segs: Rectangle(Rect{x, head, bore, crown - head}), Fill: StrokeRole(c.Stroke)})
	if c.Spraying {
		f.d.add(spray(u.PistonX, head, max(crown-head, 0.1*bore)*0.95, 0.6*bore)...)
	}
	wall := max(1, 0.05*bore)
	f.d.add(Path{Segs: Rectangle(Rect{x - wall, head - wall, wall, foot - head + wall}), Fill: Steel},
		Path{Segs: Rectangle(Rect{x + bore, head - wall, wall, foot - head + wall}), Fill: Steel},
		Path{Segs: Rectangle(Rect{x - wall, head - 1.6*wall, bore + 2*wall, 1.6 * wall}), Fill: Steel})
	port := func(below *float64, x float64, role Role) {
		if below != nil {
			y := tdc - crownAbove*bore + k**below
			f.d.add(Path{Segs: Rectangle(Rect{x, y, wall, max(1, tdc-crownAbove*bore+2*r-y)}), Fill: role})
		}
	}
	port(in.IntakePortMM, x-wall, IntakeValve)
	port(in.ExhaustPortMM, x+bore, ExhaustValve)
	valve := func(at, open float64, role Role) {
		y := head + open*liftMost*bore
		f.d.add(Path{Segs: Line(u.PistonX+at*bore, y, u.PistonX+at*bore, head-headHigh*bore*0.9+open*liftMost*bore), Stroke: role, Weight: Medium},
			Path{Segs: Rectangle(Rect{u.PistonX + (at-0.17)*bore, y - 0.5*wall, 0.34 * bore, max(1, wall)}), Fill: role})
	}
	if in.Intake != "" && in.IntakePortMM == nil {
		valve(-0.25, c.Intake, IntakeValve)
	}
	if in.Exhaust != "" && in.ExhaustPortMM == nil {
		valve(0.25, c.Exhaust, ExhaustValve)
	}
	f.d.add(Path{Segs: Rectangle(Rect{u.PistonX - 0.03*bore, head - 1.6*wall - 0.12*bore, 0.06 * bore, 0.12*bore + 1.6*wall}), Fill: Ink}) // the injector
	// Crank, rod, piston.
	f.d.add(Path{Segs: Line(u.AxisX, u.AxisY, u.PinX, u.PinY), Stroke: Ink, Weight: Heavy},
		Path{Segs: Rectangle(Rect{x + 0.02*bore, crown, 0.96 * bore, (crownAbove + skirtBelow) * bore}), Fill: Throw, Stroke: Ink, Weight: Fine},
		Path{Segs: Line(u.PinX, u.PinY, u.PistonX, u.PistonY), Stroke: Ink, Weight: Heavy},
		Path{Segs: Circle(u.PistonX, u.PistonY, 0.07*bore), Fill: Nose, Stroke: Ink, Weight: Hair, Plain: true},
		Path{Segs: Circle(u.PinX, u.PinY, 0.09*bore), Fill: Nose, Stroke: Ink, Weight: Hair, Plain: true},
		Path{Segs: Circle(u.AxisX, u.AxisY, 0.08*bore), Fill: Ink})
}
