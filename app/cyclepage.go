package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// cyclePage is the main page: the cycle and the wheel figure, the table, and the
// job's form beside them.
type cyclePage struct {
	u    *desk.Desk
	form *form.Form // the job's

	cycle     *widgets.CycleView
	wheel     *widgets.WheelView
	transport *desk.Transport
	dowel     *dowelSlider
	results   *results

	content            *container.Scroll // for large text in a small window
	main, low, figures *container.Split
	rows               []int // cylinders in the order of the figure's rows

	turner  *finding.Turner     // of the job shown
	turning *plate.TurningWheel // likewise
}

var cycleKind = desk.PageKind{
	Name: "cycle", Title: phrase.Text("Cycle"), Figures: []string{"cycle", "wheel"},
	Holds: func(*desk.Desk, string) bool { return true }, // in the job's form
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newCyclePage(d) },
}

func newCyclePage(u *desk.Desk) *cyclePage {
	p := &cyclePage{
		u:       u,
		form:    form.NewForm(u),
		cycle:   widgets.NewCycleView(),
		wheel:   widgets.NewWheelView(),
		results: newResults(),
	}
	p.transport = desk.NewTransport(u)
	p.dowel = newDowelSlider(u)
	p.cycle.OnCursor = u.SetAt
	p.cycle.OnKey = u.Key
	p.wheel.OnTurn = func(by timing.Deg) { u.SetAt(u.At + by) }
	p.wheel.OnKey = u.Key

	strips := container.NewVBox(p.transport.Content, p.dowel.content)
	p.low = container.NewHSplit(p.wheel, p.results.content)
	p.low.Offset = u.Prefs.Share(desk.PrefSplitWh, 0.47)
	p.figures = container.NewVSplit(p.cycle, container.NewBorder(strips, nil, nil, nil, p.low))
	p.figures.Offset = u.Prefs.Share(desk.PrefSplitLow, 0.48)
	p.main = container.NewHSplit(p.form.Content, p.figures)
	p.main.Offset = u.Prefs.Share(desk.PrefSplit, 0.3)
	p.content = container.NewVScroll(p.main)
	p.ShowForm(u.Prefs.BoolWithFallback(desk.PrefForm, true))
	return p
}

func (p *cyclePage) Body() fyne.CanvasObject { return p.content }

// ShowForm shows or hides the form beside the figures.
func (p *cyclePage) ShowForm(on bool) {
	p.form.Content.Hidden = !on
	if !on {
		p.main.Offset = 0
	} else {
		p.main.Offset = p.u.Prefs.Share(desk.PrefSplit, 0.3)
	}
	p.main.Refresh()
}

// ShowField gives the keyboard to the form's field of a key.
func (p *cyclePage) ShowField(key string) {
	p.ShowForm(true)
	p.form.Focus(key)
}

// TourPart is a part of the page that the tour points at.
func (p *cyclePage) TourPart(name string) fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"form": p.form.Content, "cycle": p.cycle, "wheel": p.wheel, "dowel": p.dowel.content}[name]
}

func (p *cyclePage) End() {}

func (p *cyclePage) Strip() *desk.Transport { return p.transport }

func (p *cyclePage) FormShown() bool { return !p.form.Content.Hidden }

// Remember keeps where the dividers stand.
func (p *cyclePage) Remember() {
	if p.FormShown() {
		p.u.Prefs.SetFloat(desk.PrefSplit, p.main.Offset)
	}
	p.u.Prefs.SetFloat(desk.PrefSplitLow, p.figures.Offset)
	p.u.Prefs.SetFloat(desk.PrefSplitWh, p.low.Offset)
}

// Load shows the session's newest sound job.
func (p *cyclePage) Load() {
	j := p.u.Shown()
	in, err := plate.Cycle(j, plate.CycleOptions{ByNumber: p.u.ByNumber, Say: say})
	if err != nil {
		return // a sound job has an engine
	}
	in.Heading = ""
	in.ReadoutRoom = tr("compression") + ", " + plate.Say(say).BTDC(-188.8)
	p.rows = p.rows[:0]
	for _, r := range in.Rows {
		p.rows = append(p.rows, r.Cylinder)
	}
	p.cycle.SetFigure(in)
	if t, err := finding.NewTurner(j); err == nil {
		p.turner = &t
	}
	p.loadWheel(j)
	p.results.load(p.u, j)
	p.dowel.load()
}

// loadWheel prepares the wheel figure of a job, seen from the end chosen.
func (p *cyclePage) loadWheel(j job.Job) {
	if w, err := plate.NewTurningWheel(j, p.u.From, say); err == nil {
		p.turning = &w
	}
}

// Moved shows everything at the crank's present angle.
func (p *cyclePage) Moved() {
	if p.turner == nil || p.turning == nil {
		return // no engine to turn
	}
	phase := p.turner.At(p.u.At)
	words := plate.Readouts(phase, say)
	byRow := make([]string, len(p.rows))
	for i, c := range p.rows {
		byRow[i] = words[c-1]
	}
	p.cycle.MoveCursor(p.u.At, desk.ShownAngle(p.u.At)+"°", byRow)
	in := p.turning.At(p.u.At)
	in.Heading = ""
	p.wheel.SetFigure(in)
	p.transport.LoadCursor(phase)
}
