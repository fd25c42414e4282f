package cycle

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// results is the answer in numbers: the table, how it was reached, what must be
// known beside it, and the cautions.
type results struct {
	content *container.AppTabs
	Table   *kit.Grid
	Steps   *widget.Label
	Notes   *widget.Label

	Engine  *widgets.EngineView
	drawn   *container.TabItem
	chosen  int // cylinder; 0: none
	valves  *widgets.FigureView
	timed   *container.TabItem
	job     job.Job
	turning *chart.TurningEngine // nil: the job has no engine
	at      timing.Deg
}

func newResults() *results {
	r := &results{Table: kit.NewGrid(6), Steps: kit.Prose(), Notes: kit.Prose(), Engine: widgets.NewEngineView(), valves: widgets.NewFigureView(fyne.NewSize(120, 90))}
	r.drawn = container.NewTabItem(tr("Engine"), r.Engine)
	r.timed = container.NewTabItem(tr("Valves"), r.valves)
	cautions := kit.Prose()
	var list []string
	for _, c := range finding.Cautions {
		list = append(list, tr(c))
	}
	cautions.SetText("• " + strings.Join(list, "\n• "))
	r.content = container.NewAppTabs(
		container.NewTabItem(tr("Injection"), container.NewScroll(r.Table.Content)),
		r.drawn,
		r.timed,
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(r.Steps)),
		container.NewTabItem(tr("Remarks"), container.NewVScroll(r.Notes)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions)),
	)
	r.content.OnSelected = func(*container.TabItem) { r.moved(r.at) }
	return r
}

// loadEngine prepares the drawing of the engine, seen from an end.
func (r *results) loadEngine(j job.Job, from timing.End) {
	r.turning, r.job = nil, j
	if t, err := chart.NewTurningEngine(j, from, say); err == nil {
		r.turning = &t
	}
}

// moved draws the engine where the crank stands, while it is looked at.
func (r *results) moved(at timing.Deg) {
	r.at = at
	switch {
	case r.turning == nil:
	case r.content.Selected() == r.drawn:
		in := r.turning.At(at, r.chosen)
		in.Heading = ""
		r.Engine.SetFigure(in)
	case r.content.Selected() == r.timed:
		r.loadValves(at)
	}
}

// loadValves draws the valve timing with the chosen cylinder's place in it, else that of
// cylinder 1.
func (r *results) loadValves(at timing.Deg) {
	in, err := chart.Valves(r.job, &at, r.chosen, say)
	if err != nil {
		in.Caption = []string{voice().Error(err)}
	}
	in.Heading = ""
	r.valves.SetFigure(in.Desc, func(b figure.Box) figure.Drawing { return figure.Valves(in, b) })
}

func (r *results) load(u *desk.Desk, j job.Job) {
	s, err := finding.ShiftOf(j)
	if err != nil {
		r.Table.Set([][]string{{tr("Missing"), ""}})
		r.Steps.SetText(u.ErrorWords(err))
		r.Notes.SetText(u.ErrorWords(err))
		return
	}
	rows := [][]string{{tr("Cyl"), tr("commanded"), tr("actual"), tr("crankshaft at"), tr("stroke"), tr("piston travel")}}
	for _, in := range s.Injections {
		piston := "–"
		if in.PistonMM != nil {
			piston = amount(quantity.Length(*in.PistonMM, 1))
		}
		rows = append(rows, []string{
			number(float64(in.Cylinder), 0),
			chart.Say(say).BTDC(in.CommandedBTDCDeg),
			chart.Say(say).BTDC(in.ActualBTDCDeg),
			voice().Write(finding.Beside(in.ActualCrankDeg, 1)) + "°",
			tr(in.StrokeText()),
			piston,
		})
	}
	r.Table.Set(rows)
	r.Steps.SetText(lines(s.Steps))
	r.Notes.SetText(lines(s.Notes))
}
