// Package cycle is the first page: every cylinder over the cycle, the wheel, the answer in
// numbers, and the form of the whole job beside them.
package cycle

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// Page is the main page: the cycle and the wheel figure, the table, and the
// job's form beside them.
type Page struct {
	u    *desk.Desk
	Form *form.Form // the job's

	Cycle     *widgets.CycleView
	Wheel     *widgets.WheelView
	Transport *desk.Transport
	Dowel     *dowelSlider
	Results   *results

	content            *container.Scroll // for large text in a small window
	Main, low, figures *container.Split
	Rows               []int // cylinders in the order of the figure's rows

	turner  *finding.Turner     // of the job shown
	turning *chart.TurningWheel // likewise
}

var Kind = desk.PageKind{
	Name: "cycle", Title: phrase.Text("Cycle"), Figures: []string{"cycle", "wheel", "engine", "valves"},
	Holds: func(*desk.Desk, string) bool { return true }, // in the job's form
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newPage(d) },
}

func newPage(u *desk.Desk) *Page {
	p := &Page{
		u:       u,
		Form:    form.NewForm(u),
		Cycle:   widgets.NewCycleView(),
		Wheel:   widgets.NewWheelView(),
		Results: newResults(),
	}
	p.Transport = desk.NewTransport(u)
	p.Dowel = newDowelSlider(u)
	p.Cycle.OnCursor = u.SetAt
	p.Cycle.OnKey = u.Key
	p.Wheel.OnTurn = func(by timing.Deg) { u.SetAt(u.At + by) }
	p.Wheel.OnKey = u.Key
	p.Cycle.OnRow, p.Results.Engine.OnCylinder = p.choose, p.choose
	p.Results.Engine.OnTurn = p.Wheel.OnTurn
	p.Results.Engine.OnKey = u.Key

	strips := container.NewVBox(p.Transport.Content, p.Dowel.content)
	p.low = container.NewHSplit(p.Wheel, p.Results.content)
	p.low.Offset = u.Prefs.Share(desk.PrefSplitWh, 0.47)
	p.figures = container.NewVSplit(p.Cycle, container.NewBorder(strips, nil, nil, nil, p.low))
	p.figures.Offset = u.Prefs.Share(desk.PrefSplitLow, 0.48)
	p.Main = container.NewHSplit(p.Form.Content, p.figures)
	p.Main.Offset = u.Prefs.Share(desk.PrefSplit, 0.3)
	p.content = container.NewVScroll(p.Main)
	p.ShowForm(u.Prefs.BoolWithFallback(desk.PrefForm, true))
	return p
}

func (p *Page) Body() fyne.CanvasObject { return p.content }

// ShowForm shows or hides the form beside the figures.
func (p *Page) ShowForm(on bool) {
	p.Form.Content.Hidden = !on
	if !on {
		p.Main.Offset = 0
	} else {
		p.Main.Offset = p.u.Prefs.Share(desk.PrefSplit, 0.3)
	}
	p.Main.Refresh()
}

// ShowField gives the keyboard to the form's field of a key.
func (p *Page) ShowField(key string) {
	p.ShowForm(true)
	p.Form.Focus(key)
}

// TourPart is a part of the page that the tour points at.
func (p *Page) TourPart(name string) fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"form": p.Form.Content, "cycle": p.Cycle, "wheel": p.Wheel, "dowel": p.Dowel.content}[name]
}

func (p *Page) End() {}

func (p *Page) Strip() *desk.Transport { return p.Transport }

func (p *Page) FormShown() bool { return !p.Form.Content.Hidden }

// Remember keeps where the dividers stand.
func (p *Page) Remember() {
	if p.FormShown() {
		p.u.Prefs.SetFloat(desk.PrefSplit, p.Main.Offset)
	}
	p.u.Prefs.SetFloat(desk.PrefSplitLow, p.figures.Offset)
	p.u.Prefs.SetFloat(desk.PrefSplitWh, p.low.Offset)
}

// Load shows the session's newest sound job.
func (p *Page) Load() {
	j := p.u.Shown()
	if p.u.Chosen > len(j.Engine.FiringOrder) {
		p.u.Chosen = 0
	}
	p.Results.chosen = p.u.Chosen
	in, err := chart.Cycle(j, chart.CycleOptions{ByNumber: p.u.ByNumber, Selected: p.u.Chosen, Say: say})
	if err != nil {
		return // a sound job has an engine
	}
	in.Heading = ""
	in.ReadoutRoom = tr("compression") + ", " + chart.Say(say).BTDC(-188.8)
	p.Rows = p.Rows[:0]
	for _, r := range in.Rows {
		p.Rows = append(p.Rows, r.Cylinder)
	}
	p.Cycle.SetFigure(in)
	if t, err := finding.NewTurner(j); err == nil {
		p.turner = &t
	}
	p.loadWheel(j)
	p.Results.load(p.u, j)
	p.Results.loadEngine(j, p.u.From)
	p.Dowel.load()
}

// choose sets a cylinder off from the others and takes the crankshaft to its firing dead
// centre; the one that is chosen already is let go.
func (p *Page) choose(cylinder int) {
	e, err := finding.EngineOf(p.u.Shown())
	if err != nil || cylinder < 1 || cylinder > e.Cylinders() {
		return
	}
	if p.u.Chosen == cylinder {
		p.u.Chosen = 0
	} else {
		p.u.Chosen = cylinder
		p.u.SetAt(e.FiresAt(cylinder))
	}
	p.Load()
	p.Moved()
}

// loadWheel prepares the wheel figure of a job, seen from the end chosen.
func (p *Page) loadWheel(j job.Job) {
	if w, err := chart.NewTurningWheel(j, p.u.From, say); err == nil {
		p.turning = &w
	}
}

// Moved shows everything at the crank's present angle.
func (p *Page) Moved() {
	if p.turner == nil || p.turning == nil {
		return // no engine to turn
	}
	phase := p.turner.At(p.u.At)
	words := chart.Readouts(phase, say)
	byRow := make([]string, len(p.Rows))
	for i, c := range p.Rows {
		byRow[i] = words[c-1]
	}
	p.Cycle.MoveCursor(p.u.At, desk.ShownAngle(p.u.At)+"°", byRow)
	in := p.turning.At(p.u.At)
	in.Heading = ""
	p.Wheel.SetFigure(in)
	p.Results.moved(p.u.At)
	p.Transport.LoadCursor(phase)
}
