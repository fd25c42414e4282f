package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// gearsPage shows the train from crank to cam: drawn with marks that turn with the
// crank, what its tooth numbers come to, and what a gear put in teeth out does.
// Teeth out can be supposed without a change of the job.
type gearsPage struct {
	u       *desk
	form    *form
	content *container.Scroll
	split   *container.Split

	bar      colourBar // the colour beside the sentence
	sentence *widget.Label
	marks    *widget.Label // where they stand now

	view      *widgets.GearsView
	lacks     *widget.Label // in the figure's place, what the job lacks
	room      *fyne.Container
	transport *transport
	suppose   supposedTeeth
	train     *container.Split
	notes     *widget.Label
	table     *grid
	steps     *widget.Label

	session  *session // whose job was shown last
	supposed *int     // teeth out to be tried; nil is as in the job
	job      job.Job  // shown, with the teeth supposed
	turning  *plate.TurningGears
	total    timing.Deg // how far the crank has turned since the marks met
}

var gearsKind = pageKind{
	name: "gears", title: "Gears", figures: []string{"gears"},
	holds: func(_ *desk, key string) bool { return key == "gears" || strings.HasPrefix(key, "gears.") },
	build: func(d *desk, _ page) page { return newGearsPage(d) },
}

func newGearsPage(u *desk) *gearsPage {
	p := &gearsPage{u: u, form: newBlankForm(u), bar: newColourBar(u.frame), sentence: prose(), marks: prose(), view: widgets.NewGearsView(),
		lacks: prose(), notes: prose(), steps: prose(), table: newGrid(4)}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.view.OnTurn = func(by timing.Deg) { u.setAt(u.at + by) }
	p.view.OnKey = u.key
	p.transport = newTransport(u)
	words := container.New(&steady{}, container.New(&tight{}, p.sentence, p.marks))
	top := container.NewBorder(nil, nil, p.bar.Rectangle, nil, words)

	p.suppose = newSupposedTeeth(p)
	turns := container.NewVBox(
		container.NewGridWithColumns(2,
			widget.NewButton(tr("−1 turn"), func() { p.turnTo(p.total - timing.Turn) }),
			widget.NewButton(tr("+1 turn"), func() { p.turnTo(p.total + timing.Turn) })),
		widget.NewButton(tr("All marks together"), func() { p.turnTo(0) }))
	fields := container.NewVBox(stacked(p.fields()), widget.NewSeparator(), p.suppose.content,
		widget.NewSeparator(), wrapped(tr("Turn the crank on and watch where the marks come to.")), turns)
	p.form.scroll = container.NewVScroll(container.New(&besideBar{}, fields))

	p.room = container.NewStack(p.view)
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("What it means"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Teeth out"), container.NewScroll(p.table.content)),
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(p.steps)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions())),
	)
	p.train = container.NewVSplit(container.NewBorder(nil, p.transport.content, nil, nil, p.room), tabs)
	p.train.Offset = u.prefs.Share(prefSplitTrain, 0.66)
	p.split = container.NewHSplit(p.form.scroll, p.train)
	p.split.Offset = u.prefs.Share(prefSplitGears, 0.3)
	p.content = container.NewVScroll(container.NewBorder(top, nil, nil, nil, p.split))
	return p
}

// fields are the job's own numbers of the train.
func (p *gearsPage) fields() []row {
	f := p.form
	return []row{
		f.whole("gears.crank_teeth", tr("Crank gear, teeth"), func(j *job.Job) *int { return &gears(j).CrankTeeth }),
		f.list("gears.idler_teeth", tr("Idlers, teeth"), tr("none, or as in 53, 47"),
			func(j job.Job) string {
				if j.Gears == nil {
					return ""
				}
				return describe(j.Gears.IdlerTeeth)
			},
			func(j *job.Job, text string) error {
				list, err := parseWholes(text)
				gears(j).IdlerTeeth = list
				return err
			}),
		f.whole("gears.cam_teeth", tr("Cam gear, teeth"), func(j *job.Job) *int { return &gears(j).CamTeeth }),
		f.field("gears.cam_teeth_out", tr("Found out by"), tr("teeth ahead"), 1,
			func(j job.Job) string {
				if j.Gears == nil || j.Gears.CamTeethOut == 0 {
					return ""
				}
				return number(float64(j.Gears.CamTeethOut), 0)
			},
			func(j *job.Job, s string) error {
				n, err := readWhole(s)
				if err == nil {
					gears(j).CamTeethOut = n
				}
				return err
			}, sameNumber),
		f.whole("gears.pump_teeth", tr("Pump gear, teeth"), func(j *job.Job) *int { return &gears(j).PumpTeeth }),
		f.text("gears.pump_driven_by", tr("Pump driven by"), 1, func(j *job.Job) *string { return &gears(j).PumpDrivenBy }),
	}
}

func (p *gearsPage) body() fyne.CanvasObject { return p.content }

func (p *gearsPage) strip() *transport { return p.transport }

func (p *gearsPage) remember() {
	p.u.prefs.SetFloat(prefSplitGears, p.split.Offset)
	p.u.prefs.SetFloat(prefSplitTrain, p.train.Offset)
}

func (p *gearsPage) end() {}

// drawn is the train as it is drawn on the screen, with the teeth supposed.
func (p *gearsPage) drawn(name string, box figure.Box) (figure.Drawing, error) {
	j, o := p.u.shown(), p.u.figureOptions(box)
	if p.session == p.u.session {
		o.Cursor = &p.total
		if n := p.supposed; n != nil && j.Gears != nil {
			j = j.Clone()
			j.Gears.CamTeethOut = *n
		}
	}
	return plate.Drawing(name, j, o)
}

// showField gives the keyboard to the field of a key.
func (p *gearsPage) showField(key string) {
	at := nearest(p.form.active(), key)
	if at == nil {
		at = p.form.inputs[0]
	}
	p.u.window.Canvas().Focus(at.focus())
}

// trySupposed tries other teeth out; nil goes back to the job's.
func (p *gearsPage) trySupposed(teeth *int) {
	p.supposed = teeth
	p.load()
	p.moved()
}

// load shows the session's newest sound job.
func (p *gearsPage) load() {
	j := p.u.shown()
	if p.session != p.u.session {
		p.session, p.supposed, p.total = p.u.session, nil, p.u.at
	}
	if j.Gears == nil {
		p.supposed = nil
	}
	if p.supposed != nil {
		j = j.Clone()
		j.Gears.CamTeethOut = *p.supposed
	}
	p.job = j
	p.suppose.load(p)
	g, err := finding.GearsOf(j)
	if err != nil {
		p.lack(err)
		return
	}
	turning, err := plate.NewTurningGears(j, p.u.from, say)
	if err != nil {
		p.lack(err)
		return
	}
	p.turning = &turning
	stand(p.room, p.view)
	text := say(g.Says)
	if p.supposed != nil {
		text = with("Supposing a gear {{.Teeth}}: {{.Finding}}", map[string]any{"Teeth": teethOut(*p.supposed), "Finding": text})
	}
	setText(p.sentence, text)
	role := figure.Commanded
	if g.CamErrorDeg != 0 {
		role = figure.Actual
	}
	p.bar.show(role)
	setText(p.notes, lines(g.Notes)+"\n\n"+turning.At(0).Caption[0])
	setText(p.steps, lines(g.Steps))
	p.loadTable(j)
}

// lack says what the job lacks for a train.
func (p *gearsPage) lack(err error) {
	p.turning = nil
	setText(p.sentence, tr("The gear train cannot be shown yet."))
	setText(p.marks, tr("Type the numbers of teeth at the left, from the crank gear over any idlers to the cam gear."))
	setText(p.lacks, p.u.why(err))
	setText(p.notes, "")
	setText(p.steps, "")
	p.table.set(nil)
	p.bar.show(figure.Warning)
	stand(p.room, p.lacks)
}

// mostTeeth is how far out the table goes, either way.
const mostTeeth = 3

// loadTable shows what teeth out do.
func (p *gearsPage) loadTable(j job.Job) {
	list, err := finding.TeethOut(j, mostTeeth)
	if err != nil {
		p.table.set(nil)
		return
	}
	rows := [][]string{{tr("Put in"), tr("the cam is"), tr("intake closes"), tr("a recording shows")}}
	for _, r := range list {
		closes, shows := "–", "–"
		if r.IntakeClosesABDC != nil {
			closes = with("{{.At}}° ABDC", map[string]any{"At": finding.Num{Value: *r.IntakeClosesABDC, Decimals: 1}})
		}
		if r.CorrelationDeg != nil {
			shows = with("correlation error {{.At}}°", map[string]any{"At": finding.Num{Value: *r.CorrelationDeg, Decimals: 1}})
		}
		rows = append(rows, []string{teethOut(r.Teeth), onSide(r.CamErrorDeg), closes, shows})
	}
	p.table.set(rows)
}

// teethOut says by how many teeth, and which way of the cam.
func teethOut(n int) string {
	text := "{{.N}} teeth ahead"
	switch {
	case n == 0:
		return tr("in its right teeth")
	case n == 1:
		return tr("1 tooth ahead")
	case n == -1:
		return tr("1 tooth behind")
	case n < 0:
		text = "{{.N}} teeth behind"
	}
	return with(text, map[string]any{"N": max(n, -n)})
}

// moved turns the train to where the crank stands, the short way from where it
// stood.
func (p *gearsPage) moved() {
	e, err := finding.EngineOf(p.job)
	if p.turning == nil || err != nil {
		return
	}
	p.total = finding.Onward(p.total, p.u.at, e.Cycle())
	in := p.turning.At(p.total)
	in.Heading, in.Caption = "", nil
	p.view.SetFigure(in)
	if m, err := finding.MarksAt(p.job, p.total); err == nil {
		words := []finding.Sentence{m.Says}
		if out, ok := finding.MarksOut(p.job.Gears.CamTeethOut); ok {
			words = append(words, out)
		}
		setText(p.marks, joined(words, len(words)))
	}
	if phase, err := finding.PhaseAt(p.job, p.u.at); err == nil {
		p.transport.loadCursor(phase)
	}
}

// turnTo turns the crank to so far from where the marks were set.
func (p *gearsPage) turnTo(total timing.Deg) {
	p.total = total
	p.u.setAt(total)
}
