package figure

import "math"

// SignalsInput is what the signals figure shows: traces of sensors one above the
// other over one axis, which is the controller's crank angle or the time. Words come
// ready for the reader; an empty word leaves out what it names.
type SignalsInput struct {
	Heading string
	Finding string // a sentence under the heading
	Title   string // of the drawing, for those who cannot see it
	Desc    string

	From, To float64 // what is shown of the axis; From below To
	Axis     SignalAxis
	Groups   []SignalGroup // from the top
	Words    SignalWords
	Cursor   *float64 // drawn when not nil (the screen lays its own over the figure)
}

// SignalAxis is what the axis counts.
type SignalAxis struct {
	Title   string
	Unit    string  // after each number: "°", " s"
	Wrap    float64 // above 0: numbers begin anew after so many
	Degrees bool    // ticks at parts of a turn, else at round numbers
}

// SignalGroup is what was recorded, or predicted, together.
type SignalGroup struct {
	Label string
	Rows  []SignalRow
	Lines []SignalLine // through all of its rows
}

// SignalRow is one sensor's trace. Lo and Hi divide From..To of the figure evenly:
// the least and most of each part, NaN where there is nothing.
type SignalRow struct {
	Label    string
	Range    string // what the trace spans, in words
	Lo, Hi   []float64
	Min, Max float64 // bottom and top of the row
	Gaps     []SignalSpan
	Marks    []SignalMark
	Arrows   []SignalArrow // all of them have ghosts where they begin; the first that fits is drawn
}

// SignalSpan is a part of the axis.
type SignalSpan struct{ From, To float64 }

// SignalMark is a tooth under its trace.
type SignalMark struct {
	At    float64
	Label string
	State MarkState
	Says  string // what a reader who asks about it is told
}

// MarkState is how a tooth was found.
type MarkState uint8

// The states, each with a mark of its own form.
const (
	MarkExpected MarkState = iota // a tick
	MarkMissing                   // hollow square: none is there, and none should be
	MarkLost                      // cross: one should be there and is not
	MarkExtra                     // plus: one is there and should not be
)

// SignalArrow leads from where an edge belongs to where it falls.
type SignalArrow struct {
	From, To float64
	Label    string
}

// SignalLine is an upright line, such as a dead centre.
type SignalLine struct {
	At      float64
	Label   string
	Counted bool // as the controller counts it: dashed, its label beside the group's name
}

// SignalWords name the parts of the figure.
type SignalWords struct {
	Gap                    string // in a gap
	True, Counted, Belongs string // legend: the lines, and where an edge belongs
	Missing, Lost, Extra   string // legend: the marks
}

// SignalsLayout says where the figure has put things.
type SignalsLayout struct {
	Plot     Rect // all traces
	Rows     []Rect
	From, To float64
}

// X returns where a value of the axis lies.
func (l SignalsLayout) X(v float64) float64 {
	return l.Plot.X + (v-l.From)/(l.To-l.From)*l.Plot.W
}

// At is the inverse of [SignalsLayout.X].
func (l SignalsLayout) At(x float64) float64 {
	return l.From + (x-l.Plot.X)/l.Plot.W*(l.To-l.From)
}

// Signals draws the signals figure. In a low box things go in this order: the
// sentence, the legend, the heading, the title of the axis, the marks, the names of
// the groups. No rows, or a range that is none, gives an empty drawing.
func Signals(in SignalsInput, box Box) (Drawing, SignalsLayout) {
	f := signalsFigure{in: in, box: box, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	for _, g := range in.Groups {
		f.rows += len(g.Rows)
	}
	if !(in.To > in.From) || math.IsInf(in.To-in.From, 0) || f.rows == 0 || box.W <= 0 || box.H <= 0 {
		return f.d, f.l
	}
	f.size, f.small = box.typeSize(75, 38)
	f.measure()
	f.head()
	f.axis()
	f.groups()
	f.cursor()
	f.foot()
	return f.d, f.l
}

// signalsFigure is a signals figure on the way.
type signalsFigure struct {
	in          SignalsInput
	box         Box
	d           Drawing
	l           SignalsLayout
	rows        int
	size, small float64
	margin      float64
	line        float64 // from line to line of small type

	heading, axisTitle, marks, names bool
	finding                          []string
	keys                             []legend
	labels                           bool
	row                              float64 // height of a trace
}

// measure decides what is shown and where.
func (f *signalsFigure) measure() {
	in := f.in
	f.margin = 0.9 * f.size
	f.line = f.small * lineHeight
	f.heading, f.axisTitle, f.marks, f.names = in.Heading != "", in.Axis.Title != "", true, true
	room := f.box.W - 2*f.margin
	if in.Finding != "" {
		f.finding = wrap(in.Finding, f.size, false, room)
	}
	f.keys = f.items().flow(f.small, room)
	least := 1.5 * f.line
	for _, drop := range []func(){
		func() { f.finding = nil }, func() { f.keys = nil }, func() { f.heading = false }, func() { f.axisTitle = false },
		func() { f.marks = false }, func() { f.names = false },
	} {
		if f.height() < least {
			drop()
		}
	}
	f.across()
	f.row = max(f.height(), 1)
	f.l.Plot.Y = f.margin + f.above()
	f.l.From, f.l.To = in.From, in.To
	y := f.l.Plot.Y
	for _, g := range in.Groups {
		y += f.name(g)
		for _, r := range g.Rows {
			f.l.Rows = append(f.l.Rows, Rect{f.l.Plot.X, y, f.l.Plot.W, f.row})
			y += f.row + f.strip(r)
		}
	}
	f.l.Plot.H = y - f.l.Plot.Y
}

// above is the height of what stands over the plot.
func (f *signalsFigure) above() float64 {
	h := 0.0
	if f.heading {
		h += 1.9 * f.size
	}
	return h + float64(len(f.finding))*f.size*lineHeight
}

// name is the height of what stands over a group: its name, with the lines that are
// counted beside it, and below the names of the true ones.
func (f *signalsFigure) name(g SignalGroup) float64 {
	h := 0.3 * f.line
	if !f.names {
		return h
	}
	if g.Label != "" {
		h += f.line
	}
	for _, l := range g.Lines {
		if !l.Counted && l.Label != "" {
			return h + f.line
		}
	}
	return h
}

// strip is the height of the marks under a row.
func (f *signalsFigure) strip(r SignalRow) float64 {
	if !f.marks || len(r.Marks) == 0 {
		return 0.25 * f.line
	}
	return 1.3 * f.line
}

// height is what is left for each trace.
func (f *signalsFigure) height() float64 {
	h := f.box.H - 2*f.margin - f.above() - 0.5*f.small - f.line
	if f.axisTitle {
		h -= f.line
	}
	if len(f.keys) > 0 {
		h -= 0.5*f.line + f.line*float64(len(f.keys))
	}
	for _, g := range f.in.Groups {
		h -= f.name(g)
		for _, r := range g.Rows {
			h -= f.strip(r)
		}
	}
	return h / float64(f.rows)
}

// across decides the plot's left edge and width: left of it stand the names of the
// rows.
func (f *signalsFigure) across() {
	labels := 0.0
	for _, g := range f.in.Groups {
		for _, r := range g.Rows {
			labels = max(labels, width(f.small, false, r.Label), width(f.small, false, r.Range))
		}
	}
	labels = min(labels, 0.2*f.box.W)
	f.labels = labels > 0 && f.box.W > 24*f.small
	f.l.Plot.X = f.margin + 1.2*f.small
	if f.labels {
		f.l.Plot.X = f.margin + labels + 0.7*f.small
	}
	f.l.Plot.W = max(1, f.box.W-f.l.Plot.X-f.margin-1.2*f.small)
}

// items is the legend.
func (f *signalsFigure) items() legend {
	w := f.in.Words
	upright := func(role Role, weight Weight) func(Rect) []Shape {
		return func(r Rect) []Shape {
			return []Shape{Path{Segs: Line(r.X+r.W/2, r.Y, r.X+r.W/2, r.Bottom()), Stroke: role, Weight: weight}}
		}
	}
	counted, real, arrows, gaps := false, false, false, false
	states := map[MarkState]bool{}
	for _, g := range f.in.Groups {
		for _, l := range g.Lines {
			counted, real = counted || l.Counted, real || !l.Counted
		}
		for _, r := range g.Rows {
			arrows, gaps = arrows || len(r.Arrows) > 0, gaps || len(r.Gaps) > 0
			for _, m := range r.Marks {
				states[m.State] = true
			}
		}
	}
	var l legend
	add := func(shown bool, text string, draw func(Rect) []Shape) {
		if shown {
			l.add(text, draw)
		}
	}
	add(real, w.True, upright(TDC, Medium))
	add(counted, w.Counted, upright(Ghost, Medium))
	add(arrows, w.Belongs, func(r Rect) []Shape {
		y := r.Y + r.H/2
		return []Shape{Path{Segs: Line(r.X, r.Y, r.X, r.Bottom()), Stroke: Ghost}, Path{Segs: Line(r.X, y, r.Right(), y), Stroke: Actual, Weight: Medium},
			Marker{X: r.Right(), Y: y, Size: 0.9 * r.H, Kind: Arrowhead, Turn: 90, Role: Actual}}
	})
	add(gaps, w.Gap, areaSample(Band))
	add(states[MarkMissing], w.Missing, markSample(markOf(MarkMissing)))
	add(states[MarkLost], w.Lost, markSample(markOf(MarkLost)))
	add(states[MarkExtra], w.Extra, markSample(markOf(MarkExtra)))
	return l
}

// markOf is the symbol of a tooth that is not simply there.
func markOf(s MarkState) Marker {
	switch s {
	case MarkMissing:
		return Marker{Kind: Square, Hollow: true, Role: Faint}
	case MarkLost:
		return Marker{Kind: Cross, Role: Warning}
	}
	return Marker{Kind: Plus, Role: Warning}
}
