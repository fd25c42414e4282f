package figure

// Cycle draws the cycle of an engine: a row for each cylinder, the strokes
// across, the injections on them. In a narrow box row labels and stroke names
// become short, then the readouts go. In a low one things go in this order: stroke
// names, valve bars, the title of the axis, the legend, the heading, the
// readouts, and last every other row label. An engine that is none gives an
// empty drawing.
func Cycle(in CycleInput, box Box) (Drawing, CycleLayout) {
	f := cycleFigure{in: in, box: box, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	if in.Engine.Cycle() == 0 { // no engine, nothing to draw
		return f.d, f.l
	}
	f.size, f.small = box.typeSize(66, max(24, 1.3*float64(len(in.Rows))+10))
	f.k = box.scale()
	f.measure()
	f.heading()
	f.axis()
	for i := range in.Rows {
		f.row(i)
	}
	f.span()
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
	if in.CursorLabel != "" || f.readout && in.ReadoutHead != "" {
		tagH = line * 1.15
	}
	f.showHeading = in.Heading != ""
	f.axisTitle = in.AxisTitle != ""
	f.valve = 1 // until the rows are known to be too low
	if !in.NoLegend {
		f.keys = f.items().flow(small, f.box.W-2*f.margin)
	}
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
	p := min(max(pitch(), 1), 10*size)
	if p < 1.05*smallest*f.k && f.readout {
		f.readout = false
		f.l.Plot.W = f.box.W - f.l.Plot.X - f.right()
	}
	f.labelEvery = 1
	for p*float64(f.labelEvery) < 0.95*smallest*f.k {
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
	f.valve = 0
	if p >= 9*f.k {
		f.valve = min(max(0.085*p, 1.5), 4.5)
		f.valveGap = min(0.04*p, 1.5)
	}
	inset := gap/2 + f.valve + f.valveGap
	for i, r := range in.Rows {
		row := Rect{f.l.Plot.X, y + p*float64(i), f.l.Plot.W, p}
		f.l.Rows = append(f.l.Rows, CycleBar{r.Cylinder, row, Rect{row.X, row.Y + inset, row.W, p - 2*inset}})
	}
	if f.readout && len(f.l.Rows) > 0 {
		f.l.Readout = Rect{f.readoutX, y, f.box.W - f.readoutX, p * n}
		f.l.ReadoutSize = f.labelSize(f.l.Rows[0])
	}
	f.names = f.nameForm(p - 2*inset)
	if len(f.keys) > 0 {
		items := f.items()
		if f.names == fullNames {
			items = f.marks()
		}
		f.keys = items.flow(small, f.box.W-2*f.margin)
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
	column := width(f.size, false, f.in.ReadoutRoom)
	for _, r := range f.in.Rows {
		column = max(column, width(f.size, r.Warn, r.Readout))
	}
	if column > 0 {
		column = max(column, width(f.small, false, f.in.ReadoutHead))
	}
	f.l.Plot.W = max(1, f.box.W-f.l.Plot.X-f.right())
	beside := f.box.W - f.l.Plot.X - f.margin - column - 1.1*f.size
	f.readout = column > 0 && beside > max(0.45*f.box.W, 12*f.size)
	if f.readout {
		f.l.Plot.W = beside
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
