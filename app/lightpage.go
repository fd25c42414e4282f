package app

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// lightPage says whether fuel lights where injection is asked for and where it
// lands: in a sentence, drawn over the crank angle, and as a map over wheel
// error and air. Its sliders change the job, but for the wheel error, which is
// only supposed.
type lightPage struct {
	u       *desk
	content *container.Scroll
	inner   *fyne.Container

	bar      colourBar // the colour beside the sentence
	sentence *widget.Label
	second   *widget.Label // chances, and what the estimate is not
	sliders  lightSliders

	view  *widgets.LightView
	lacks *widget.Label // in the figure's place, what the job lacks
	fill  *widget.Button
	want  fyne.CanvasObject
	left  *fyne.Container
	tabs  *container.AppTabs
	split *container.Split

	side  lightMapSide
	by    *widget.Select
	table *grid
	notes *widget.Label
	rests *widget.Label

	session     *session // whose job was shown last
	supposed    *float64 // wheel error to be tried, in degrees; nil is as measured
	measured    *float64 // wheel error as measured; nil when it cannot be said
	correlation string   // by name; "" is the usual one

	estimate finding.Light
	of       job.Job // the job of the estimate
	valid    bool    // there is an estimate
	draws    lightDraws
	beside   func(work func() (show func())) // [ui.background]
}

var lightKind = pageKind{
	name: "light", title: "Light-off", figures: []string{"light", "light-map"},
	build: func(d *desk, _ page) page { return newLightPage(d) },
}

func newLightPage(u *desk) *lightPage {
	p := &lightPage{u: u, bar: newColourBar(u.frame), sentence: prose(), second: prose(), view: widgets.NewLightView(),
		lacks: prose(), table: newGrid(3), notes: prose(), rests: prose()}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.view.OnCursor = u.setAt
	p.view.OnKey = u.key
	p.sliders = newLightSliders(p)
	words := container.New(&steady{}, container.New(&tight{}, p.sentence, p.second))
	top := container.NewVBox(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), p.sliders.content)

	p.fill = widget.NewButton(tr("Fill it in"), nil)
	p.want = container.NewVBox(p.lacks, container.NewHBox(p.fill))
	p.left = container.NewStack(p.view)

	p.side = newLightMapSide(p)
	p.beside = u.background
	p.by = widget.NewSelect(nil, nil)
	by := container.NewBorder(nil, nil, widget.NewLabel(tr("Sentence, figure and map go by")), nil, elastic(p.by, 120))
	p.tabs = container.NewAppTabs(
		container.NewTabItem(tr("Map"), p.side.content),
		container.NewTabItem(tr("To know"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Delays"), container.NewBorder(by, nil, nil, nil, container.NewScroll(p.table.content))),
		container.NewTabItem(tr("Assumed"), container.NewVScroll(p.rests)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions())),
	)
	p.tabs.OnSelected = func(*container.TabItem) {
		p.loadTab()
		p.afterPause()
	}
	p.split = container.NewHSplit(p.left, p.tabs)
	p.split.Offset = u.prefs.Share(prefSplitLight, 0.58)
	p.inner = container.NewBorder(top, nil, nil, nil, p.split)
	p.content = container.NewVScroll(p.inner) // for large text in a small window
	return p
}

func (p *lightPage) body() fyne.CanvasObject { return p.content }

func (p *lightPage) remember() { p.u.prefs.SetFloat(prefSplitLight, p.split.Offset) }

// drawn is one of the figures with what is supposed, round firing dead centre.
func (p *lightPage) drawn(name string, box figure.Box) (figure.Drawing, error) {
	j, o := p.u.shown(), p.u.figureOptions(box)
	if e, err := finding.EngineOf(j); err == nil {
		at := timing.WrapSigned(p.u.at, e.Cycle())
		o.Cursor = &at
	}
	p.begin(j)
	o.Light = p.options()
	return plate.Drawing(name, j, o)
}

func (p *lightPage) options() finding.LightOptions {
	return finding.LightOptions{Correlation: p.correlation, WheelErrorDeg: p.supposed}
}

// suppose tries another wheel error; nil goes back to the measured one.
func (p *lightPage) suppose(wheel *float64) {
	p.supposed = wheel
	p.load()
	p.moved()
}

// load shows the session's newest sound job.
func (p *lightPage) load() {
	j := p.u.shown()
	p.begin(j)
	l, err := finding.LightOf(j, p.options())
	p.sliders.load(p.u.session.Job(), p)
	if err != nil {
		p.lack(err)
		return
	}
	if p.valid && p.of.Equal(j) && same(p.supposed, p.draws.supposed) && p.estimate.Correlation == l.Correlation {
		l = p.estimate // with the chances drawn for it
	} else {
		p.stop()
		p.draws = lightDraws{number: p.draws.number, supposed: p.supposed}
	}
	p.estimate, p.of, p.valid = l, j, true
	p.say()
	p.showFigure(j)
	p.loadTab()
	p.afterPause()
}

// begin lets go of what was supposed of another job, or before the part was
// measured anew.
func (p *lightPage) begin(j job.Job) {
	var measured *float64
	if s, err := finding.ShiftOf(j); err == nil {
		measured = &s.WheelErrorDeg
	}
	if p.session != p.u.session {
		p.session, p.supposed = p.u.session, nil
		p.sliders.narrow()
	}
	if !same(measured, p.measured) {
		p.measured, p.supposed = measured, nil
	}
}

func same(a, b *float64) bool {
	return a == b || a != nil && b != nil && *a == *b
}

// say shows the finding and the chances.
func (p *lightPage) say() {
	text := say(p.estimate.Says)
	if p.supposed != nil {
		text = with("Supposing the wheel {{.Where}}: {{.Finding}}", map[string]any{"Where": onSide(*p.supposed), "Finding": text})
	}
	setText(p.sentence, text)
	setText(p.second, p.chances()+" "+say(p.estimate.Notes[0]))
	role := figure.Warning
	if actual := p.estimate.Cases[1]; actual.Lights && !actual.KickBack && (actual.InWindow || actual.StartBTDCDeg <= 0) {
		role = figure.Commanded
	}
	p.bar.show(role)
}

func (p *lightPage) showFigure(j job.Job) {
	stand(p.left, p.view)
	in := plate.LightOf(p.estimate, j.Title, plate.LightOptions{Say: say, Units: voice().Units()})
	in.Heading, in.Finding = "", ""
	if p.supposed != nil {
		in.Bars[1].Label = tr("would land")
	}
	p.view.SetFigure(in)
}

// lack says what the job lacks for an estimate.
func (p *lightPage) lack(err error) {
	p.stop()
	p.valid = false
	setText(p.sentence, tr("Whether it lights cannot be said yet."))
	p.bar.show(figure.Warning)
	setText(p.lacks, p.u.why(err))
	var faults job.Faults
	p.fill.Hidden = !errors.As(err, &faults) || len(faults) == 0
	second := ""
	if !p.fill.Hidden {
		second = tr("What is still missing is named below. Compression and cranking speed can be given with their sliders.")
		p.fill.OnTapped = func() { p.u.showKey(faults[0].Key) }
	}
	setText(p.second, second)
	stand(p.left, p.want)
	p.loadTab()
}

// moved puts the cursor where the crank stands, as cylinder 1 counts it: round its
// own firing TDC.
func (p *lightPage) moved() {
	e, err := finding.EngineOf(p.u.session.Sound())
	if err != nil || !p.valid {
		return
	}
	at := timing.WrapSigned(p.u.at, e.Cycle())
	p.view.MoveCursor(at, p.reading(at))
}

// reading is what the curves show at a cylinder's own angle.
func (p *lightPage) reading(at timing.Deg) string {
	where := plate.Say(say).BTDC(-float64(at))
	if !p.estimate.Path.Holds(at) {
		return with("{{.At}}: a valve is open", map[string]any{"At": where})
	}
	g := p.estimate.Path.At(at)
	return with("{{.At}}: {{.Gas}}, {{.Pressure}}", map[string]any{
		"At": where, "Gas": quantity.Temperature(g.K-273.15, 0), "Pressure": quantity.Pressure(g.Bar, 1)})
}
