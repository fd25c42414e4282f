package cause

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// causeFigures shows the engine as a cause has it beside the engine as the job has
// it.
type causeFigures struct {
	p       *page
	content *fyne.Container
	which   *kit.OneOf
	says    *widget.Label
	pair    figurePair
	large   *figurePair // in a dialog, while it is open
	cause   string
	s       finding.Supposed
	ok      bool
}

// figurePair is two figures of the same kind, one as a cause has it.
type figurePair struct {
	so, now *widgets.FigureView
	soText  *widget.Label
	nowText *widget.Label
	soBox   *fyne.Container
	nowBox  *fyne.Container
}

func newFigurePair(size fyne.Size) figurePair {
	f := figurePair{so: widgets.NewFigureView(size), now: widgets.NewFigureView(size),
		soText: widget.NewLabel(tr("If it is this")), nowText: widget.NewLabel(tr("As the job has it"))}
	f.soText.TextStyle.Bold, f.nowText.TextStyle.Bold = true, true
	f.soBox = container.NewBorder(f.soText, nil, nil, nil, f.so)
	f.nowBox = container.NewBorder(f.nowText, nil, nil, nil, f.now)
	return f
}

func newCauseFigures(p *page) *causeFigures {
	f := &causeFigures{p: p, says: kit.Prose(), pair: newFigurePair(fyne.NewSize(120, 60))}
	f.which = kit.NewOneOf(func(int) { f.draw() }, tr("Sensor wheel"), tr("Cycle"), tr("Signals"))
	f.which.Set(wheelFigure)
	larger := widget.NewButton(tr("Enlarge"), f.enlarge)
	top := container.NewBorder(nil, nil, f.which.Content, larger)
	f.content = container.NewBorder(container.NewVBox(top, f.says), nil, nil, nil, container.NewGridWithRows(2, f.pair.soBox, f.pair.nowBox))
	return f
}

// showCause shows the figures of a cause; on is false for none.
func (f *causeFigures) showCause(name string, on bool) {
	f.cause, f.ok = name, false
	if on && f.p.valid {
		f.s, f.ok = f.p.found.Suppose(f.p.ranked, name)
	}
	switch {
	case !on:
		kit.SetText(f.says, "")
	case !f.ok:
		kit.SetText(f.says, tr("The findings rule this cause out: there is nothing to draw."))
	default:
		kit.SetText(f.says, say(f.s.Says))
	}
	f.draw()
}

// moved turns the figures with the crank.
func (f *causeFigures) moved() {
	if f.which.Chosen != signalsFigure { // which stand still
		f.draw()
	}
}

func (f *causeFigures) draw() {
	f.drawInto(&f.pair)
	if f.large != nil {
		f.drawInto(f.large)
	}
}

func (f *causeFigures) drawInto(to *figurePair) {
	if !f.ok {
		to.so.SetFigure("", nil)
		to.now.SetFigure("", nil)
		return
	}
	so, now := f.wheels, f.wheelNow
	switch f.which.Chosen {
	case cycleFigure:
		so, now = f.cycles, f.cycleNow
	case signalsFigure:
		so, now = f.signals, f.signalsNow
	}
	to.so.SetFigure(so(f.s))
	to.now.SetFigure(now(f.p.ranked))
}

// The figures there are, by their place among the buttons.
const (
	wheelFigure = iota
	cycleFigure
	signalsFigure
)

func wheelDrawing(in figure.WheelInput, err error) (string, func(figure.Box) figure.Drawing) {
	if err != nil {
		return "", nil
	}
	in.Heading, in.Caption = "", nil
	in.Words.Sensor = "" // there is little room
	return in.Desc, func(b figure.Box) figure.Drawing {
		d, _ := figure.Wheel(in, b)
		return d
	}
}

func cycleDrawing(in figure.CycleInput, err error) (string, func(figure.Box) figure.Drawing) {
	if err != nil {
		return "", nil
	}
	in.Heading = ""
	return in.Desc, func(b figure.Box) figure.Drawing {
		d, _ := figure.Cycle(in, b)
		return d
	}
}

func (f *causeFigures) wheels(s finding.Supposed) (string, func(figure.Box) figure.Drawing) {
	return wheelDrawing(chart.SupposedWheel(s, chart.WheelOptions{At: f.p.u.At, From: f.p.u.From, Say: say}))
}

func (f *causeFigures) wheelNow(j job.Job) (string, func(figure.Box) figure.Drawing) {
	return wheelDrawing(chart.Wheel(j, chart.WheelOptions{At: f.p.u.At, From: f.p.u.From, Say: say}))
}

func (f *causeFigures) cycles(s finding.Supposed) (string, func(figure.Box) figure.Drawing) {
	return cycleDrawing(chart.SupposedCycle(s, chart.CycleOptions{ByNumber: f.p.u.ByNumber, Cursor: f.at(), Say: say}))
}

func (f *causeFigures) cycleNow(j job.Job) (string, func(figure.Box) figure.Drawing) {
	return cycleDrawing(chart.Cycle(j, chart.CycleOptions{ByNumber: f.p.u.ByNumber, Cursor: f.at(), Say: say}))
}

func signalsDrawing(in figure.SignalsInput, err error) (string, func(figure.Box) figure.Drawing) {
	if err != nil {
		return "", nil
	}
	in.Heading, in.Finding = "", ""
	return in.Desc, func(b figure.Box) figure.Drawing {
		d, _ := figure.Signals(in, b)
		return d
	}
}

func (f *causeFigures) signals(s finding.Supposed) (string, func(figure.Box) figure.Drawing) {
	return signalsDrawing(chart.SupposedSignals(s, say))
}

func (f *causeFigures) signalsNow(j job.Job) (string, func(figure.Box) figure.Drawing) {
	return signalsDrawing(chart.Signals(j, chart.SignalsOptions{Of: finding.SignalOptions{CrankAlone: true}, Say: say}))
}

func (f *causeFigures) at() *timing.Deg {
	at := f.p.u.At
	return &at
}

// enlarge shows the two figures over the whole window.
func (f *causeFigures) enlarge() {
	if !f.ok {
		return
	}
	u := f.p.u
	pair := newFigurePair(fyne.NewSize(200, 160))
	f.large = &pair
	title := upper(causeName(f.cause))
	grid := container.NewGridWithColumns(2, pair.soBox, pair.nowBox)
	says := kit.Wrapped(say(f.s.Says))
	d := u.NewBox(title, container.NewBorder(says, nil, nil, nil, grid), u.Closing(tr("Close")))
	size := u.Window.Canvas().Size()
	u.ShowBox(d)
	d.Resize(fyne.NewSize(size.Width-30, size.Height-30))
	f.draw()
}
