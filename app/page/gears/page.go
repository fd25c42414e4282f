// Package gears is the page of the train from crank to cam: when its marks meet, and what
// a gear put in teeth out does.
package gears

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// page shows the train from crank to cam: drawn with marks that turn with the
// crank, what its tooth numbers come to, and what a gear put in teeth out does.
// Teeth out can be supposed without a change of the job.
type page struct {
	u       *desk.Desk
	form    *form.Form
	content *container.Scroll
	split   *container.Split

	bar      kit.ColourBar // the colour beside the sentence
	sentence *widget.Label
	marks    *widget.Label // where they stand now

	view      *widgets.GearsView
	lacks     *widget.Label // in the figure's place, what the job lacks
	room      *fyne.Container
	transport *desk.Transport
	suppose   supposedTeeth
	train     *container.Split
	notes     *widget.Label
	table     *kit.Grid
	steps     *widget.Label

	session *desk.Session // whose job was shown last
	job     job.Job       // shown, with the teeth supposed
	turning *chart.TurningGears
	total   timing.Deg // how far the crank has turned since the marks met
}

var Kind = desk.PageKind{
	Name: "gears", Title: phrase.Text("Gears"), Figures: []string{"gears"},
	Holds: func(_ *desk.Desk, key string) bool { return key == "gears" || strings.HasPrefix(key, "gears.") },
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newPage(d) },
}

func newPage(u *desk.Desk) *page {
	p := &page{u: u, form: form.NewBlankForm(u), bar: kit.NewColourBar(u.Frame), sentence: kit.Prose(), marks: kit.Prose(), view: widgets.NewGearsView(),
		lacks: kit.Prose(), notes: kit.Prose(), steps: kit.Prose(), table: kit.NewGrid(4)}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.view.OnTurn = func(by timing.Deg) { u.SetAt(u.At + by) }
	p.view.OnKey = u.Key
	p.transport = desk.NewTransport(u)
	words := container.New(&kit.Steady{}, container.New(&kit.Tight{}, p.sentence, p.marks))
	top := container.NewBorder(nil, nil, p.bar.Rectangle, nil, words)

	p.suppose = newSupposedTeeth(p)
	turns := container.NewVBox(
		container.NewGridWithColumns(2,
			widget.NewButton(tr("−1 turn"), func() { p.turnTo(p.total - timing.Turn) }),
			widget.NewButton(tr("+1 turn"), func() { p.turnTo(p.total + timing.Turn) })),
		widget.NewButton(tr("All marks together"), func() { p.turnTo(0) }))
	fields := container.NewVBox(form.Stacked(p.fields()), widget.NewSeparator(), p.suppose.content,
		widget.NewSeparator(), kit.Wrapped(tr("Keep turning the crankshaft and watch the marks.")), turns)
	p.form.Scroll = container.NewVScroll(container.New(&kit.BesideBar{}, fields))

	p.room = container.NewStack(p.view)
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("What it means"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Gear offset"), container.NewScroll(p.table.Content)),
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(p.steps)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(kit.Cautions())),
	)
	p.train = container.NewVSplit(container.NewBorder(nil, p.transport.Content, nil, nil, p.room), tabs)
	p.train.Offset = u.Prefs.Share(desk.PrefSplitTrain, 0.66)
	p.split = container.NewHSplit(p.form.Scroll, p.train)
	p.split.Offset = u.Prefs.Share(desk.PrefSplitGears, 0.3)
	p.content = container.NewVScroll(container.NewBorder(top, nil, nil, nil, p.split))
	return p
}

// fields are the job's own numbers of the train.
func (p *page) fields() []form.Row {
	f := p.form
	return []form.Row{
		f.Whole("gears.crank_teeth", tr("Crankshaft gear, teeth"), func(j *job.Job) *int { return &form.Gears(j).CrankTeeth }),
		f.List("gears.idler_teeth", tr("Idler gears, teeth"), tr("none, or as in 53, 47"),
			func(j job.Job) string {
				if j.Gears == nil {
					return ""
				}
				return kit.Describe(j.Gears.IdlerTeeth)
			},
			func(j *job.Job, text string) error {
				list, err := form.ParseWholes(text)
				form.Gears(j).IdlerTeeth = list
				return err
			}),
		f.Whole("gears.cam_teeth", tr("Camshaft gear, teeth"), func(j *job.Job) *int { return &form.Gears(j).CamTeeth }),
		f.Field("gears.cam_teeth_out", tr("Gear found out by"), tr("teeth ahead"), 1,
			func(j job.Job) string {
				if j.Gears == nil || j.Gears.CamTeethOut == 0 {
					return ""
				}
				return number(float64(j.Gears.CamTeethOut), 0)
			},
			func(j *job.Job, s string) error {
				n, err := form.ReadWhole(s)
				if err == nil {
					form.Gears(j).CamTeethOut = n
				}
				return err
			}, form.SameNumber),
		f.Whole("gears.pump_teeth", tr("Pump gear, teeth"), func(j *job.Job) *int { return &form.Gears(j).PumpTeeth }),
		f.Text("gears.pump_driven_by", tr("Pump driven by"), 1, func(j *job.Job) *string { return &form.Gears(j).PumpDrivenBy }),
	}
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Strip() *desk.Transport { return p.transport }

func (p *page) Remember() {
	p.u.Prefs.SetFloat(desk.PrefSplitGears, p.split.Offset)
	p.u.Prefs.SetFloat(desk.PrefSplitTrain, p.train.Offset)
}

func (p *page) End() {}

// Drawn is the train as it is drawn on the screen, with the teeth supposed.
func (p *page) Drawn(name string, box figure.Box) (figure.Drawing, error) {
	j, o := p.u.OnPaper(), p.u.FigureOptions(box)
	if p.session == p.u.Session {
		o.Cursor = &p.total
	}
	return chart.Drawing(name, j, o)
}

// ShowField gives the keyboard to the field of a key.
func (p *page) ShowField(key string) {
	at := form.Nearest(p.form.Active(), key)
	if at == nil {
		at = p.form.Inputs[0]
	}
	p.u.Window.Canvas().Focus(at.Focus())
}

// trySupposed tries other teeth out; nil goes back to the job's.
func (p *page) trySupposed(teeth *int) {
	p.u.Suppose(func(w *finding.WhatIf) { w.CamTeethOut = teeth })
}

// Load shows the session's newest sound job.
func (p *page) Load() {
	j := p.u.Shown()
	if p.session != p.u.Session {
		p.session, p.total = p.u.Session, p.u.At
	}
	p.job = j
	p.suppose.load(p)
	g, err := finding.GearsOf(j)
	if err != nil {
		p.lack(err)
		return
	}
	turning, err := chart.NewTurningGears(j, p.u.From, say)
	if err != nil {
		p.lack(err)
		return
	}
	p.turning = &turning
	kit.Stand(p.room, p.view)
	kit.SetText(p.sentence, say(g.Says))
	role := figure.Commanded
	if g.CamErrorDeg != 0 {
		role = figure.Actual
	}
	p.bar.Show(role)
	kit.SetText(p.notes, lines(g.Notes)+"\n\n"+turning.At(0).Caption[0])
	kit.SetText(p.steps, lines(g.Steps))
	p.loadTable(j)
}

// lack says what the job lacks for a train.
func (p *page) lack(err error) {
	p.turning = nil
	kit.SetText(p.sentence, tr("The gear train cannot be shown yet."))
	kit.SetText(p.marks, tr("Type the tooth counts at the left, from the crankshaft gear over any idler gears to the camshaft gear."))
	kit.SetText(p.lacks, p.u.Why(err))
	kit.SetText(p.notes, "")
	kit.SetText(p.steps, "")
	p.table.Set(nil)
	p.bar.Show(figure.Warning)
	kit.Stand(p.room, p.lacks)
}

// mostTeeth is how far out the table goes, either way.
const mostTeeth = 3

// loadTable shows what teeth out do.
func (p *page) loadTable(j job.Job) {
	list, err := finding.TeethOut(j, mostTeeth)
	if err != nil {
		p.table.Set(nil)
		return
	}
	rows := [][]string{{tr("Gear fitted"), tr("camshaft is"), tr("intake closes"), tr("a recording shows")}}
	for _, r := range list {
		closes, shows := "–", "–"
		if r.IntakeClosesABDC != nil {
			closes = with("{{.At}}° ABDC", map[string]any{"At": phrase.Num{Value: *r.IntakeClosesABDC, Decimals: 1}})
		}
		if r.CorrelationDeg != nil {
			shows = with("correlation error {{.At}}°", map[string]any{"At": phrase.Num{Value: *r.CorrelationDeg, Decimals: 1}})
		}
		rows = append(rows, []string{teethOut(r.Teeth), kit.OnSide(r.CamErrorDeg), closes, shows})
	}
	p.table.Set(rows)
}

// teethOut says by how many teeth, and which way of the cam.
func teethOut(n int) string {
	text := phrase.Text("{{.N}} teeth ahead")
	switch {
	case n == 0:
		return tr("correctly meshed")
	case n == 1:
		return tr("1 tooth ahead")
	case n == -1:
		return tr("1 tooth behind")
	case n < 0:
		text = "{{.N}} teeth behind"
	}
	return with(text, map[string]any{"N": max(n, -n)})
}

// Moved turns the train to where the crank stands, the short way from where it
// stood.
func (p *page) Moved() {
	e, err := finding.EngineOf(p.job)
	if p.turning == nil || err != nil {
		return
	}
	p.total = finding.Onward(p.total, p.u.At, e.Cycle())
	in := p.turning.At(p.total)
	in.Heading, in.Caption = "", nil
	p.view.SetFigure(in)
	if m, err := finding.MarksAt(p.job, p.total); err == nil {
		words := []phrase.Sentence{m.Says}
		if out, ok := finding.MarksOut(p.job.Gears.CamTeethOut); ok {
			words = append(words, out)
		}
		kit.SetText(p.marks, joined(words, len(words)))
	}
	if phase, err := finding.PhaseAt(p.job, p.u.At); err == nil {
		p.transport.LoadCursor(phase)
	}
}

// turnTo turns the crank to so far from where the marks were set.
func (p *page) turnTo(total timing.Deg) {
	p.total = total
	p.u.SetAt(total)
}
