package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// cyclePage is the main page: the cycle and the wheel figure, the table, and the
// job's form beside them.
type cyclePage struct {
	u    *desk
	form *form // the job's

	cycle     *widgets.CycleView
	wheel     *widgets.WheelView
	transport *transport
	dowel     *dowelSlider
	results   *results

	content            *container.Scroll // for large text in a small window
	main, low, figures *container.Split
	rows               []int // cylinders in the order of the figure's rows

	turner  *finding.Turner     // of the job shown
	turning *plate.TurningWheel // likewise
}

var cycleKind = pageKind{
	name: "cycle", title: "Cycle", figures: []string{"cycle", "wheel"},
	holds: func(*desk, string) bool { return true }, // in the job's form
	build: func(d *desk, _ page) page { return newCyclePage(d) },
}

func newCyclePage(u *desk) *cyclePage {
	p := &cyclePage{
		u:       u,
		form:    newForm(u),
		cycle:   widgets.NewCycleView(),
		wheel:   widgets.NewWheelView(),
		results: newResults(),
	}
	p.transport = newTransport(u)
	p.dowel = newDowelSlider(u)
	p.cycle.OnCursor = u.setAt
	p.cycle.OnKey = u.key
	p.wheel.OnTurn = func(by timing.Deg) { u.setAt(u.at + by) }
	p.wheel.OnKey = u.key

	strips := container.NewVBox(p.transport.content, p.dowel.content)
	p.low = container.NewHSplit(p.wheel, p.results.content)
	p.low.Offset = u.prefs.Share(prefSplitWh, 0.47)
	p.figures = container.NewVSplit(p.cycle, container.NewBorder(strips, nil, nil, nil, p.low))
	p.figures.Offset = u.prefs.Share(prefSplitLow, 0.48)
	p.main = container.NewHSplit(p.form.content, p.figures)
	p.main.Offset = u.prefs.Share(prefSplit, 0.3)
	p.content = container.NewVScroll(p.main)
	p.showForm(u.prefs.BoolWithFallback(prefForm, true))
	return p
}

func (p *cyclePage) body() fyne.CanvasObject { return p.content }

// showForm shows or hides the form beside the figures.
func (p *cyclePage) showForm(on bool) {
	p.form.content.Hidden = !on
	if !on {
		p.main.Offset = 0
	} else {
		p.main.Offset = p.u.prefs.Share(prefSplit, 0.3)
	}
	p.main.Refresh()
}

// showField gives the keyboard to the form's field of a key.
func (p *cyclePage) showField(key string) {
	p.showForm(true)
	p.form.show(key)
}

// tourPart is a part of the page that the tour points at.
func (p *cyclePage) tourPart(name string) fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"form": p.form.content, "cycle": p.cycle, "wheel": p.wheel, "dowel": p.dowel.content}[name]
}

func (p *cyclePage) end() {}

func (p *cyclePage) strip() *transport { return p.transport }

func (p *cyclePage) formShown() bool { return !p.form.content.Hidden }

// remember keeps where the dividers stand.
func (p *cyclePage) remember() {
	if p.formShown() {
		p.u.prefs.SetFloat(prefSplit, p.main.Offset)
	}
	p.u.prefs.SetFloat(prefSplitLow, p.figures.Offset)
	p.u.prefs.SetFloat(prefSplitWh, p.low.Offset)
}

// load shows the session's newest sound job.
func (p *cyclePage) load() {
	j := p.u.shown()
	in, err := plate.Cycle(j, plate.CycleOptions{ByNumber: p.u.byNumber, Say: say})
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
	if w, err := plate.NewTurningWheel(j, p.u.from, say); err == nil {
		p.turning = &w
	}
}

// moved shows everything at the crank's present angle.
func (p *cyclePage) moved() {
	if p.turner == nil || p.turning == nil {
		return // no engine to turn
	}
	phase := p.turner.At(p.u.at)
	words := plate.Readouts(phase, say)
	byRow := make([]string, len(p.rows))
	for i, c := range p.rows {
		byRow[i] = words[c-1]
	}
	p.cycle.MoveCursor(p.u.at, shownAngle(p.u.at)+"°", byRow)
	in := p.turning.At(p.u.at)
	in.Heading = ""
	p.wheel.SetFigure(in)
	p.transport.loadCursor(phase)
}
