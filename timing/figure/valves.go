package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// ValvesInput is what the valves figure shows: how intake and exhaust open and close over
// a cylinder's own angle, and the same round a circle. Without one of the spans its curve
// is left out.
type ValvesInput struct {
	Cycle           timing.Deg
	Intake, Exhaust *timing.Span // in the cylinder's own angle
	Both            *timing.Span // when both are open; nil: never, or not known
	Cursor          *timing.Deg  // the cylinder's own angle; nil: none is drawn

	Heading, Title, Desc string
	TDC, BDC             string // the dead centres
	FiringTDC            string // where the cycle begins and ends; a four-stroke's axis reaches it only when an opening does
	IntakeOpen           string // for the legend
	ExhaustOpen          string
	Overlap              string    // beside the shade, with its degrees; or why there is none
	Events               [4]string // where intake opens and closes, exhaust opens and closes; with their degrees
	Degrees              [4]string // the degrees alone, for the circle
	Caption              []string
}

// Valves draws the figure.
func Valves(in ValvesInput, box Box) Drawing {
	f := valvesFigure{in: in, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if !(box.W > 0 && box.H > 0) {
		return f.d
	}
	f.size, f.small = box.typeSize(60, 32)
	if in.Cycle > 0 {
		f.align()
	}
	room := f.frame()
	if !(in.Cycle > 0) || room.W < 12*f.small || room.H < 8*f.small {
		return f.d
	}
	round := min(0.42*room.W, room.H)
	if round > 18*f.small {
		f.circle(Rect{room.Right() - round, room.Y, round, room.H})
		room.W -= round + f.size
	}
	f.curves(room)
	return f.d
}

type valvesFigure struct {
	in          ValvesInput
	d           Drawing
	size, small float64
	from, to    timing.Deg // of the axis of the curves
	plot        Rect
}

// align finds the axis, and takes every angle in the turn of the cycle that lies on it: the
// openings about its middle, and both so that they meet where they are open together.
func (f *valvesFigure) align() {
	cycle := f.in.Cycle
	middle := cycle / 2
	f.from, f.to = middle-270, middle+270
	if cycle == timing.Turn {
		f.from, f.to = 0, timing.Turn
	}
	central := func(s *timing.Span) *timing.Span {
		half := (s.To - s.From) / 2
		from := middle + timing.WrapSigned(s.From+half-middle, cycle) - half
		return &timing.Span{From: from, To: from + 2*half}
	}
	if s := f.in.Intake; s != nil {
		f.in.Intake = central(s)
	}
	if s := f.in.Exhaust; s != nil {
		f.in.Exhaust = central(s)
	}
	if b, i, e := f.in.Both, f.in.Intake, f.in.Exhaust; b != nil && i != nil && e != nil {
		from := i.From + timing.Wrap(b.From-i.From, cycle)
		f.in.Both = &timing.Span{From: from, To: from + b.To - b.From}
		begins := from - timing.Wrap(from-e.From, cycle)
		f.in.Exhaust = &timing.Span{From: begins, To: begins + e.To - e.From}
	}
	const margin = 10
	for _, s := range []*timing.Span{f.in.Intake, f.in.Exhaust} {
		if s != nil && s.From < f.from {
			f.from = s.From - margin
		}
		if s != nil && s.To > f.to {
			f.to = s.To + margin
		}
	}
	if c := f.in.Cursor; c != nil {
		at := f.from + timing.Wrap(*c-f.from, cycle)
		f.in.Cursor = &at
	}
}

// frame puts heading, caption and legend, and returns the room between.
func (f *valvesFigure) frame() Rect {
	margin := 0.8 * f.size
	room := Rect{margin, margin, f.d.W - 2*margin, f.d.H - 2*margin}
	line := f.small * lineHeight
	if f.in.Heading != "" && room.H > 14*f.size {
		f.d.add(Text{X: room.X, Y: room.Y + 0.6*f.size, S: cut(f.in.Heading, 1.25*f.size, true, room.W), Size: 1.25 * f.size, Bold: true, V: Middle, Role: Ink})
		room.Y, room.H = room.Y+1.9*f.size, room.H-1.9*f.size
	}
	var lines []string
	for _, c := range f.in.Caption {
		lines = append(lines, wrap(c, f.small, false, room.W)...)
	}
	if high := line * float64(len(lines)); high < 0.2*room.H {
		for i, s := range lines {
			f.d.add(Text{X: room.X, Y: room.Bottom() - high + line*(float64(i)+0.8), S: s, Size: f.small, Role: Faint})
		}
		room.H -= high + 0.3*line
	}
	var l legend
	if f.in.Intake != nil {
		l.add(f.in.IntakeOpen, lineSample(IntakeValve))
	}
	if f.in.Exhaust != nil {
		l.add(f.in.ExhaustOpen, lineSample(ExhaustValve))
	}
	if f.in.Overlap != "" {
		l.add(f.in.Overlap, areaSample(Interval))
	}
	keys := l.flow(f.small, room.W)
	if high := line * float64(len(keys)); high < 0.25*room.H {
		for i, k := range keys {
			k.putLine(&f.d, room.X, room.Bottom()-high+line*(float64(i)+0.5), f.small)
		}
		room.H -= high + 0.6*line
	}
	return room
}

// lineSample is a stroke of a heavy line.
func lineSample(role Role) func(Rect) []Shape {
	return func(r Rect) []Shape {
		return []Shape{Path{Segs: Line(r.X, r.Y+r.H/2, r.Right(), r.Y+r.H/2), Stroke: role, Weight: Heavy}}
	}
}

// curves draws lift over the cylinder's own angle, about the dead centre between exhaust
// and intake, or about BDC where there are ports.
func (f *valvesFigure) curves(room Rect) {
	in := f.in
	line := f.small * lineHeight
	f.plot = Rect{room.X, room.Y + 1.4*line, room.W, room.H - 4.2*line}
	if f.plot.H < 3*line {
		return
	}
	if in.Both != nil {
		x0, x1 := f.x(in.Both.From), f.x(in.Both.To)
		f.d.add(Path{Segs: Rectangle(Rect{x0, f.plot.Y, x1 - x0, f.plot.H}), Fill: Interval})
		f.d.Hits = append(f.d.Hits, Hit{Rect{x0, f.plot.Y, x1 - x0, f.plot.H}, "overlap", in.Overlap})
	}
	f.axis(line)
	if in.Exhaust != nil {
		f.lift(*in.Exhaust, ExhaustValve, "exhaust", in.Events[2], in.Events[3])
	}
	if in.Intake != nil {
		f.lift(*in.Intake, IntakeValve, "intake", in.Events[0], in.Events[1])
	}
	if in.Cursor != nil {
		if x := f.x(*in.Cursor); x >= f.plot.X && x <= f.plot.Right() {
			f.d.add(Path{Segs: Line(x, f.plot.Y, x, f.plot.Bottom()), Stroke: Cursor, Weight: Medium})
		}
	}
}

// x is where an angle lies on the axis.
func (f *valvesFigure) x(at timing.Deg) float64 {
	return f.plot.X + float64((at-f.from)/(f.to-f.from))*f.plot.W
}

// axis draws the base line with the dead centres on it.
func (f *valvesFigure) axis(line float64) {
	in, p := f.in, f.plot
	f.d.add(Path{Segs: Line(p.X, p.Bottom(), p.Right(), p.Bottom()), Stroke: Ink, Weight: Fine})
	var last Rect // the name before
	for at := timing.Deg(math.Ceil(float64(f.from/180))) * 180; at <= f.to; at += 180 {
		x := f.x(at)
		name := in.BDC
		switch {
		case math.Mod(float64(at), float64(in.Cycle)) == 0:
			name = in.FiringTDC
		case math.Mod(float64(at), 360) == 0:
			name = in.TDC
		}
		f.d.add(Path{Segs: Line(x, p.Y, x, p.Bottom()), Stroke: Grid, Weight: Hair})
		h := Centre
		switch w := width(f.small, true, name) / 2; {
		case x-w < p.X:
			h = Left
		case x+w > p.Right():
			h = Right
		}
		t := Text{X: x, Y: p.Bottom() + 0.9*line, S: name, Size: f.small, Bold: true, H: h, V: Middle, Role: Ink}
		if b := t.Bounds(); last == (Rect{}) || !b.Meets(last) {
			f.d.add(t)
			last = b
		}
	}
}

// lift draws one opening: how far it is open is only drawn, by the square of a sine. Its
// two events are named below the axis or above the curve, where there is room.
func (f *valvesFigure) lift(s timing.Span, role Role, name, opens, closes string) {
	p := f.plot
	x0 := f.x(s.From)
	wide := f.x(s.To) - x0
	var segs []Seg
	const steps = 48
	for i := range steps + 1 {
		t := float64(i) / steps
		y := math.Sin(math.Pi * t)
		op := LineTo
		if i == 0 {
			op = MoveTo
		}
		segs = append(segs, Seg{Op: op, X: x0 + t*wide, Y: p.Bottom() - 0.92*p.H*y*y})
	}
	f.d.add(Path{Segs: segs, Stroke: role, Weight: Heavy})
	f.d.Hits = append(f.d.Hits, Hit{Rect{x0, p.Y, wide, p.H}, name, opens + ", " + closes})
	row := f.small * lineHeight
	y := p.Bottom() + 1.9*row
	if role == IntakeValve {
		y += row
	}
	half := max(x0+wide-p.X, p.Right()-x0) // a name may be so long
	left := Text{X: x0, Y: y, S: cut(opens, f.small, false, half), Size: f.small, H: Centre, V: Middle, Role: Ink}
	right := Text{X: x0 + wide, Y: y, S: cut(closes, f.small, false, half), Size: f.small, H: Centre, V: Middle, Role: Ink}
	for _, t := range []*Text{&left, &right} {
		w := width(f.small, false, t.S) / 2
		t.X = min(max(t.X, p.X+w), p.Right()-w)
	}
	if left.Bounds().Grown(0.2 * f.small).Meets(right.Bounds()) { // one beside the other
		w := width(f.small, false, right.S) / 2
		left.X = min(left.X, right.X-w-width(f.small, false, left.S)/2-0.6*f.small)
	}
	f.d.add(left, right)
	for _, x := range []float64{x0, x0 + wide} {
		f.d.add(Path{Segs: Line(x, p.Bottom(), x, p.Bottom()+0.35*row), Stroke: role, Weight: Medium})
	}
}

// circle draws the same openings round a circle: TDC at the top, the way the crankshaft
// turns clockwise.
func (f *valvesFigure) circle(room Rect) {
	in := f.in
	x, y := room.X+room.W/2, room.Y+room.H/2
	labels := 0.0
	for _, s := range in.Degrees {
		labels = max(labels, width(f.small, false, s))
	}
	r := min(room.W/2-labels-0.8*f.small, room.H/2-3.4*f.small)
	if r < 4*f.small {
		return
	}
	f.d.add(Path{Segs: Circle(x, y, r), Stroke: Grid, Weight: Medium},
		Path{Segs: Line(x, y-r, x, y+r), Stroke: Grid, Weight: Hair},
		Text{X: x, Y: y - r - 2.4*f.small, S: in.TDC, Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink},
		Text{X: x, Y: y + r + 2.4*f.small, S: in.BDC, Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink})
	if in.Both != nil {
		from, sweep := float64(in.Both.From), float64(in.Both.To-in.Both.From)
		segs := append([]Seg{{Op: MoveTo, X: x, Y: y}}, Arc(x, y, r, from, sweep)[1:]...)
		f.d.add(Path{Segs: append(segs, Seg{Op: CloseTo}), Fill: Interval})
	}
	arc := func(s *timing.Span, at float64, role Role, names ...string) {
		if s == nil {
			return
		}
		f.d.add(arrowArc(x, y, at*r, float64(s.From), float64(s.To-s.From), 0.7*f.small, false, role, Heavy)...)
		for i, end := range []timing.Deg{s.From, s.To} {
			x0, y0 := Polar(x, y, (at-0.07)*r, float64(end))
			x1, y1 := Polar(x, y, r, float64(end))
			f.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role, Weight: Medium})
			f.beside(x, y, r, end, names[i])
		}
	}
	arc(in.Exhaust, 0.62, ExhaustValve, in.Degrees[2], in.Degrees[3])
	arc(in.Intake, 0.82, IntakeValve, in.Degrees[0], in.Degrees[1])
	if in.Cursor != nil && *in.Cursor >= f.from && *in.Cursor <= f.to { // else it is the other turn of a four-stroke
		x1, y1 := Polar(x, y, r, float64(*in.Cursor))
		f.d.add(Path{Segs: Line(x, y, x1, y1), Stroke: Cursor, Weight: Medium})
	}
	f.d.add(Path{Segs: Circle(x, y, 0.03*r), Fill: Ink})
}

// beside writes a name outside the circle where there is room on the page.
func (f *valvesFigure) beside(x, y, r float64, at timing.Deg, name string) {
	px, py := Polar(x, y, r+0.7*f.small, float64(at))
	t := Text{X: px, Y: py, S: name, Size: f.small, V: Middle, H: Left, Role: Ink}
	if math.Sin(at.Radians()) < 0 {
		t.H = Right
	}
	if b := t.Bounds(); b.X < 0 || b.Right() > f.d.W {
		return
	}
	for _, s := range f.d.Shapes {
		if o, ok := s.(Text); ok && o.Bounds().Meets(t.Bounds()) {
			t.Y += math.Copysign(1.1*f.small, t.Y-y)
		}
	}
	f.d.add(t)
}
