package figure

import (
	"fmt"
	"math"

	"pinphase/timing"
)

// Cycle draws the cycle of an engine: a row for each cylinder, the strokes
// across, the injections on them. When the box is small, labels go in this order:
// stroke names become short and then go, then the title of the axis, the legend,
// the readouts, the valve bars, the heading, and last every other row label.
func Cycle(in CycleInput, box Box) (Drawing, CycleLayout) {
	f := cycleFigure{in: in, box: box, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	f.size, f.small = box.typeSize(66, 30)
	f.k = max(box.Type, 0)
	if f.k == 0 {
		f.k = 1
	}
	f.measure()
	f.heading()
	f.axis()
	for i := range in.Rows {
		f.row(i)
	}
	f.cursor()
	f.legend()
	return f.d, f.l
}

// cycleFigure is a cycle figure on the way.
type cycleFigure struct {
	in          CycleInput
	box         Box
	d           Drawing
	l           CycleLayout
	k           float64 // Box.Type
	size, small float64 // of type
	margin      float64

	shortRows   bool
	labelEvery  int // every how many rows there is a label
	readoutX    float64
	readout     bool
	top         float64 // of the heading
	showHeading bool
	axisTitle   bool
	keys        []legend
	names       nameForm // of the strokes in their spans
	valve       float64  // thickness of a valve bar; 0: none
	valveGap    float64
}

// nameForm is how strokes are named inside their spans.
type nameForm int

const (
	fullNames nameForm = iota
	shortNames
	noNames
)

// measure decides what is shown and where the plot lies.
func (f *cycleFigure) measure() {
	in, size, small := f.in, f.size, f.small
	f.margin = 0.9 * size
	f.across()
	n := float64(max(1, len(in.Rows)))
	line := small * lineHeight

	tagH := 0.0
	if in.CursorLabel != "" {
		tagH = line * 1.15
	}
	f.showHeading = in.Heading != ""
	f.axisTitle = in.AxisTitle != ""
	f.keys = f.items().flow(small, f.box.W-2*f.margin)
	fixed := func() float64 {
		h := 2*f.margin + tagH + 0.5*small + line // ticks and their labels
		if f.showHeading {
			h += size * 1.9
		}
		if f.axisTitle {
			h += line
		}
		if len(f.keys) > 0 {
			h += 0.5*line + line*float64(len(f.keys))
		}
		return h
	}
	pitch := func() float64 { return (f.box.H - fixed()) / n }
	least := 1.15 * smallest * f.k
	if pitch() < least {
		f.axisTitle = false
	}
	if pitch() < least {
		f.keys = nil
	}
	if pitch() < least {
		f.showHeading = false
	}
	p := min(max(pitch(), 1), 7.5*size)
	if p < 1.05*smallest*f.k && f.readout {
		f.readout = false
		f.l.Plot.W = f.box.W - f.l.Plot.X - f.right()
	}
	f.labelEvery = 1
	for p*float64(f.labelEvery) < 0.95*small {
		f.labelEvery++
	}

	f.top = f.margin + max(0, (f.box.H-fixed()-p*n)/2)
	y := f.top + tagH
	if f.showHeading {
		y += size * 1.9
	}
	f.l.Plot.Y, f.l.Plot.H = y, p*n
	f.l.Cycle = in.Engine.Cycle()

	gap := min(max(0.16*p, 1), 9)
	if p >= 12*f.k {
		f.valve = min(max(0.085*p, 1.5), 4.5)
		f.valveGap = min(0.04*p, 1.5)
	}
	inset := gap/2 + f.valve + f.valveGap
	for i, r := range in.Rows {
		row := Rect{f.l.Plot.X, y + p*float64(i), f.l.Plot.W, p}
		f.l.Rows = append(f.l.Rows, CycleBar{r.Cylinder, row, Rect{row.X, row.Y + inset, row.W, p - 2*inset}})
	}
	f.names = f.nameForm(p - 2*inset)
	if f.names == fullNames && len(f.keys) > 0 {
		f.keys = f.marks().flow(small, f.box.W-2*f.margin)
	}
}

// across decides the plot's left edge and width.
func (f *cycleFigure) across() {
	widest := func(short bool) float64 {
		w := 0.0
		for _, r := range f.in.Rows {
			s := r.Label.Full
			if short {
				s = r.Label.Short
			}
			w = max(w, width(f.size, r.Selected, s))
		}
		return w
	}
	label := widest(false)
	if label > 0.16*f.box.W {
		f.shortRows = true
		label = min(widest(true), 0.16*f.box.W)
	}
	f.l.Plot.X = f.margin + label + 0.9*f.size
	column := 0.0
	for _, r := range f.in.Rows {
		column = max(column, width(f.size, r.Warn, r.Readout))
	}
	if column > 0 {
		column = max(column, width(f.small, false, f.in.ReadoutHead))
	}
	f.readout = column > 0 && column < 0.34*f.box.W
	f.l.Plot.W = f.box.W - f.l.Plot.X - f.right()
	if f.readout {
		f.l.Plot.W = f.box.W - f.l.Plot.X - f.margin - column - 1.1*f.size
		f.readoutX = f.l.Plot.Right() + 1.1*f.size
	}
}

// right is the room beside the plot when there is no column of readouts: half
// the last label of the axis.
func (f *cycleFigure) right() float64 {
	return f.margin + width(f.small, false, degrees(f.in.Engine.Cycle()))/2
}

// nameForm picks how strokes are named in bands of height h.
func (f *cycleFigure) nameForm(h float64) nameForm {
	if h < 1.15*f.small {
		return noNames
	}
	room := f.l.X(180) - f.l.X(0) - 0.9*f.small
	full, short := 0.0, 0.0
	for _, s := range f.in.Engine.StrokeSpans() {
		w := f.in.Strokes[s.Stroke]
		full, short = max(full, width(f.small, false, w.Full)), max(short, width(f.small, false, w.Short))
	}
	switch {
	case full <= room:
		return fullNames
	case short <= room:
		return shortNames
	}
	return noNames
}

func (f *cycleFigure) heading() {
	if !f.showHeading {
		return
	}
	f.d.add(Text{X: f.margin, Y: f.top + f.size*0.55, S: cut(f.in.Heading, f.size*1.25, true, f.box.W-2*f.margin),
		Size: f.size * 1.25, Bold: true, V: Middle, Role: Ink})
}

// axis draws grid, ticks and degrees.
func (f *cycleFigure) axis() {
	plot, cycle := f.l.Plot, float64(f.l.Cycle)
	step := 360.0
	for _, s := range []float64{180, 90, 60, 45, 30} {
		if f.l.X(timing.Deg(s))-f.l.X(0) < 1.75*width(f.small, false, "720°") {
			break
		}
		step = s
	}
	minor := step
	for _, s := range []float64{45, 30, 15, 10, 5} {
		if s < step && math.Mod(step, s) == 0 && s/cycle*plot.W >= 7 {
			minor = s
		}
	}
	bottom := plot.Bottom()
	f.d.add(Path{Segs: Line(plot.X, bottom, plot.Right(), bottom), Stroke: Ink})
	for a := 0.0; a <= cycle; a += minor {
		x := f.l.X(timing.Deg(a))
		if math.Mod(a, step) != 0 {
			f.d.add(Path{Segs: Line(x, bottom, x, bottom+0.22*f.small), Stroke: Faint, Weight: Hair})
			continue
		}
		f.d.add(Path{Segs: Line(x, plot.Y, x, bottom), Stroke: Grid},
			Path{Segs: Line(x, bottom, x, bottom+0.42*f.small), Stroke: Ink},
			Text{X: x, Y: bottom + 0.5*f.small, S: degrees(timing.Deg(a)), Size: f.small, H: Centre, V: Top, Role: Ink})
	}
	if f.axisTitle {
		f.d.add(Text{X: plot.X + plot.W/2, Y: bottom + 0.5*f.small + f.small*lineHeight, Size: f.small, H: Centre, V: Top, Role: Faint,
			S: cut(f.in.AxisTitle, f.small, false, 2*min(plot.X+plot.W/2-f.margin, f.box.W-f.margin-plot.X-plot.W/2))})
	}
	if f.readout && f.in.ReadoutHead != "" {
		f.d.add(Text{X: f.readoutX, Y: bottom + 0.5*f.small, S: f.in.ReadoutHead, Size: f.small, V: Top, Role: Faint})
	}
}

func degrees(d timing.Deg) string { return fmt.Sprintf("%g°", float64(d)) }

// cursor draws the cursor, when the input has one.
func (f *cycleFigure) cursor() {
	if f.in.Cursor == nil {
		return
	}
	plot := f.l.Plot
	x := f.l.X(timing.Wrap(*f.in.Cursor, f.l.Cycle))
	f.d.add(Path{Segs: Line(x, plot.Y-0.3*f.small, x, plot.Bottom()), Stroke: Cursor, Weight: Medium})
	if f.in.CursorLabel == "" {
		return
	}
	s := cut(f.in.CursorLabel, f.small, true, f.box.W-2*f.margin)
	half := width(f.small, true, s) / 2
	at := min(max(x, f.margin+half), f.box.W-f.margin-half)
	f.d.add(Text{X: at, Y: plot.Y - 0.42*f.small, S: s, Size: f.small, Bold: true, H: Centre, V: Bottom, Role: Cursor})
}

// items is the whole legend: the strokes, then the marks.
func (f *cycleFigure) items() legend {
	var l legend
	for _, s := range f.in.Engine.StrokeSpans() {
		l.add(f.in.Strokes[s.Stroke].Full, areaSample(StrokeRole(s.Stroke)))
	}
	return append(l, f.marks()...)
}

// marks is the legend when the strokes are named in their spans: of what some
// row shows.
func (f *cycleFigure) marks() legend {
	var has struct{ intake, exhaust, commanded, actual bool }
	for _, r := range f.in.Rows {
		has.intake = has.intake || r.Intake != nil
		has.exhaust = has.exhaust || r.Exhaust != nil
		has.commanded = has.commanded || r.Commanded != nil
		has.actual = has.actual || r.Actual != nil
	}
	bar := func(role Role, y float64) func(Rect) []Shape {
		return func(r Rect) []Shape {
			h := 0.3 * r.H
			return []Shape{Path{Segs: Rectangle(Rect{r.X, r.Y + y*(r.H-h), r.W, h}), Fill: role, Stroke: role, Weight: Hair}}
		}
	}
	var l legend
	if has.intake {
		l.add(f.in.IntakeOpen, bar(IntakeValve, 0.2))
	}
	if has.exhaust {
		l.add(f.in.ExhaustOpen, bar(ExhaustValve, 0.8))
	}
	l.add(f.in.FiringTDC, func(r Rect) []Shape {
		x := r.X + r.W/2
		return []Shape{Path{Segs: Line(x, r.Y, x, r.Bottom()), Stroke: TDC, Weight: Medium},
			Marker{X: x, Y: r.Y + 0.25*r.H, Size: 0.5 * r.H, Kind: TriangleDown, Role: TDC}}
	})
	if has.commanded {
		l.add(f.in.Commanded, markSample(Marker{Kind: Dot, Hollow: true, Role: Commanded}))
	}
	if has.actual {
		l.add(f.in.Actual, markSample(Marker{Kind: Diamond, Role: Actual}))
	}
	return l
}

func (f *cycleFigure) legend() {
	line := f.small * lineHeight
	y := f.l.Plot.Bottom() + 0.5*f.small + line
	if f.axisTitle {
		y += line
	}
	y += 0.5 * line
	for i, l := range f.keys {
		l.putLine(&f.d, f.margin, y+(float64(i)+0.5)*line, f.small)
	}
}
