package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// LightOffInput is what the light-off figure shows: the gas over the crank angle,
// the window of starts of injection that light, and each injection with the wait
// until it lights. Angles are the cylinder's own round its firing TDC, negative
// before it. Words come ready for the reader; an empty word leaves out what it
// names.
type LightOffInput struct {
	Heading string
	Finding string // a sentence under the heading
	Title   string // of the drawing, for those who cannot see it
	Desc    string

	From, To timing.Deg // what is shown; From below To
	Gas      []GasPoint // by rising angle
	Window   *timing.Span
	Bars     []LightBar    // the injections, from the top
	Spreads  []LightSpread // the windows by other ways of reckoning, below them
	Words    LightWords
	Cursor   *timing.Deg // drawn when not nil (the screen lays its own over the figure)
}

// GasPoint is the gas at one angle.
type GasPoint struct {
	At     timing.Deg
	C, Bar float64 // temperature and absolute pressure, in the units that the words name
}

// LightBar is one injection: from its start to where it lights.
type LightBar struct {
	Label  string
	Role   Role // Commanded or Actual
	Start  timing.Deg
	Lights *timing.Deg // nil: it does not
	Says   string      // beside the bar
	Warn   bool        // Says is a warning
}

// LightSpread is a window by one way of reckoning.
type LightSpread struct {
	Label  string
	Window *timing.Span // nil: none
	None   string       // said when there is none
}

// LightWords name the parts of the figure.
type LightWords struct {
	Temperature, Pressure string // for the legend, with their units
	CelsiusUnit, BarUnit  string // over the axes
	Window, Starts, Flame string // legend: the shade, a start of injection, where it lights
	Angle, TDC            string // under the axis, and at its 0
	Comma                 bool   // numbers have a decimal comma
}

// LightOffLayout says where the light-off figure has put things.
type LightOffLayout struct {
	Plot     Rect // the curves
	Rows     Rect // the bars and spreads below them, with the same angles across
	From, To timing.Deg
}

// X returns where an angle lies.
func (l LightOffLayout) X(d timing.Deg) float64 {
	return l.Plot.X + float64((d-l.From)/(l.To-l.From))*l.Plot.W
}

// Deg is the inverse of [LightOffLayout.X].
func (l LightOffLayout) Deg(x float64) timing.Deg {
	return l.From + timing.Deg((x-l.Plot.X)/l.Plot.W)*(l.To-l.From)
}

// LightOff draws the light-off figure. In a low box things go in this order: the
// spreads, the sentence, the legend, the heading, the title of the axis; in a
// narrow one the words beside the bars. No gas, or a range that is none, gives
// an empty drawing.
func LightOff(in LightOffInput, box Box) (Drawing, LightOffLayout) {
	f := lightFigure{in: in, box: box, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	if !(in.To > in.From) || math.IsInf(float64(in.To-in.From), 0) || len(in.Gas) < 2 || box.W <= 0 || box.H <= 0 {
		return f.d, f.l
	}
	f.size, f.small = box.typeSize(70, 34)
	f.measure()
	f.head()
	f.shade()
	f.axes()
	f.curves()
	f.rows()
	f.cursor()
	f.foot()
	return f.d, f.l
}

// lightFigure is a light-off figure on the way.
type lightFigure struct {
	in          LightOffInput
	box         Box
	d           Drawing
	l           LightOffLayout
	size, small float64
	margin      float64
	line        float64 // from line to line of small type

	heading, axisTitle bool
	finding            []string
	keys               []legend
	spreads            int
	labels             bool
	row                float64 // height of a bar's row; a spread's is less
	c, bar             scale   // the two upright axes
}

// measure decides what is shown and where.
func (f *lightFigure) measure() {
	in := f.in
	f.margin = 0.9 * f.size
	f.line = f.small * lineHeight
	f.row = 1.75 * f.small
	f.heading, f.axisTitle = in.Heading != "", in.Words.Angle != ""
	f.spreads = len(in.Spreads)
	room := f.box.W - 2*f.margin
	if in.Finding != "" {
		f.finding = wrap(in.Finding, f.size, false, room)
	}
	f.keys = f.items().flow(f.small, room)

	lo, hi, top := math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, g := range in.Gas {
		if g.At >= in.From && g.At <= in.To {
			lo, hi, top = min(lo, g.C), max(hi, g.C), max(top, g.Bar)
		}
	}
	f.c, f.bar = newScale(min(lo, 0), hi, 5), newScale(0, top, 5)

	least := 5 * f.line
	if f.height() < least {
		f.spreads = 0
	}
	if f.height() < least {
		f.finding = nil
	}
	if f.height() < least {
		f.keys = nil
	}
	if f.height() < least {
		f.heading = false
	}
	if f.height() < least {
		f.axisTitle = false
	}
	f.across()
	y := f.margin + f.above()
	f.l.Plot.Y, f.l.Plot.H = y, max(f.height(), 1)
	f.l.Rows = Rect{f.l.Plot.X, f.l.Plot.Bottom() + 0.4*f.small, f.l.Plot.W, f.rowsHeight()}
	f.l.From, f.l.To = in.From, in.To
}

// above is the height of what stands over the plot, the units of its axes with
// it.
func (f *lightFigure) above() float64 {
	h := f.line
	if f.heading {
		h += 1.9 * f.size
	}
	return h + float64(len(f.finding))*f.size*lineHeight + 0.3*f.small
}

func (f *lightFigure) rowsHeight() float64 {
	return f.row*float64(len(f.in.Bars)) + f.line*float64(f.spreads)
}

// height is what is left for the plot.
func (f *lightFigure) height() float64 {
	h := f.box.H - 2*f.margin - f.above() - 0.4*f.small - f.rowsHeight() - 0.5*f.small - f.line
	if f.axisTitle {
		h -= f.line
	}
	if len(f.keys) > 0 {
		h -= 0.5*f.line + f.line*float64(len(f.keys))
	}
	return h
}

// across decides the plot's left edge and width: left of it stand the labels of
// the rows and of the temperature, right of it those of the pressure.
func (f *lightFigure) across() {
	left := width(f.small, false, f.in.Words.CelsiusUnit)
	for _, v := range f.c.ticks {
		left = max(left, width(f.small, false, f.number(f.c, v)))
	}
	labels := 0.0
	for _, b := range f.in.Bars {
		labels = max(labels, width(f.small, false, b.Label))
	}
	for _, s := range f.in.Spreads[:f.spreads] {
		labels = max(labels, width(f.small, false, s.Label))
	}
	labels = min(labels, 0.28*f.box.W)
	f.labels = labels > 0 && f.box.W > 26*f.small
	if f.labels {
		left = max(left, labels)
	}
	right := width(f.small, false, f.in.Words.BarUnit)
	for _, v := range f.bar.ticks {
		right = max(right, width(f.small, false, f.number(f.bar, v)))
	}
	gap := 0.6 * f.small
	f.l.Plot.X = f.margin + left + gap
	f.l.Plot.W = max(1, f.box.W-f.l.Plot.X-f.margin-right-gap)
}

// items is the legend.
func (f *lightFigure) items() legend {
	w := f.in.Words
	stroke := func(role Role, weight Weight) func(Rect) []Shape {
		return func(r Rect) []Shape {
			return []Shape{Path{Segs: Line(r.X, r.Y+r.H/2, r.Right(), r.Y+r.H/2), Stroke: role, Weight: weight}}
		}
	}
	var l legend
	l.add(w.Temperature, stroke(Ink, Heavy))
	l.add(w.Pressure, stroke(Pressure, Medium))
	if f.in.Window != nil {
		l.add(w.Window, areaSample(Window))
	}
	if len(f.in.Bars) > 0 {
		l.add(w.Starts, markSample(Marker{Kind: Dot, Hollow: true, Role: Ink}))
		l.add(w.Flame, markSample(Marker{Kind: Diamond, Role: Ink}))
	}
	return l
}
