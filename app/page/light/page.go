// Package light is the page that says whether fuel lights where injection is asked for
// and where it lands.
package light

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// page says whether fuel lights where injection is asked for and where it
// lands: in a sentence, drawn over the crank angle, and as a map over wheel
// error and air. Its sliders suppose: the job stays as it is.
type page struct {
	u       *desk.Desk
	content *container.Scroll
	inner   *fyne.Container

	bar      kit.ColourBar // the colour beside the sentence
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
	by    *kit.Select
	table *kit.Grid
	notes *widget.Label
	rests *widget.Label

	session     *desk.Session // whose job was shown last
	measured    *float64      // wheel error as measured; nil when it cannot be said
	correlation string        // by name; "" is the usual one

	estimate finding.Light
	of       job.Job // the job of the estimate
	valid    bool    // there is an estimate
	draws    lightDraws
	beside   func(work func() (show func())) // [kit.Frame.Background]
}

var Kind = desk.PageKind{
	Name: "light", Title: phrase.Text("Fuel ignition"), Figures: []string{"light", "light-map"},
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newPage(d) },
}

func newPage(u *desk.Desk) *page {
	p := &page{u: u, bar: kit.NewColourBar(u.Frame), sentence: kit.Prose(), second: kit.Prose(), view: widgets.NewLightView(),
		lacks: kit.Prose(), table: kit.NewGrid(3), notes: kit.Prose(), rests: kit.Prose()}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.view.OnCursor = u.SetAt
	p.view.OnKey = u.Key
	p.sliders = newLightSliders(p)
	words := container.New(&kit.Steady{}, container.New(&kit.Tight{}, p.sentence, p.second))
	top := container.NewVBox(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), p.sliders.content)

	p.fill = widget.NewButton(tr("Fill in"), nil)
	p.want = container.NewVBox(p.lacks, container.NewHBox(p.fill))
	p.left = container.NewStack(p.view)

	p.side = newLightMapSide(p)
	p.beside = u.Background
	p.by = kit.NewSelect(nil, nil)
	by := container.NewVBox(kit.Wrapped(tr("Delay formula for sentence, figure and map")), kit.Elastic(p.by, 120))
	p.tabs = container.NewAppTabs(
		container.NewTabItem(tr("Map"), p.side.content),
		container.NewTabItem(tr("Remarks"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Delays"), container.NewBorder(by, nil, nil, nil, container.NewScroll(p.table.Content))),
		container.NewTabItem(tr("Assumed"), container.NewVScroll(p.rests)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(kit.Cautions())),
	)
	p.tabs.OnSelected = func(*container.TabItem) {
		p.loadTab()
		p.afterPause()
	}
	p.split = container.NewHSplit(p.left, p.tabs)
	p.split.Offset = u.Prefs.Share(desk.PrefSplitLight, 0.58)
	p.inner = container.NewBorder(top, nil, nil, nil, p.split)
	p.content = container.NewVScroll(p.inner) // for large text in a small window
	return p
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Remember() { p.u.Prefs.SetFloat(desk.PrefSplitLight, p.split.Offset) }

// Drawn is one of the figures with what is supposed, round firing dead centre.
func (p *page) Drawn(name string, box figure.Box) (figure.Drawing, error) {
	j, o := p.u.OnPaper(), p.u.FigureOptions(box)
	if e, err := finding.EngineOf(j); err == nil {
		at := timing.WrapSigned(p.u.At, e.Cycle())
		o.Cursor = &at
	}
	p.begin()
	o.Light = p.options()
	return chart.Drawing(name, j, o)
}

func (p *page) options() finding.LightOptions {
	return finding.LightOptions{Correlation: p.correlation}
}

// Load shows the session's newest sound job.
func (p *page) Load() {
	j := p.u.Shown()
	p.begin()
	l, err := finding.LightOf(j, p.options())
	p.sliders.load(p)
	if err != nil {
		p.lack(err)
		return
	}
	if p.valid && desk.Alike(p.of, j) && p.estimate.Correlation == l.Correlation {
		l = p.estimate // with the chances drawn for it
	} else {
		p.stop()
		p.draws = lightDraws{number: p.draws.number}
	}
	p.estimate, p.of, p.valid = l, j, true
	p.say()
	p.showFigure(j)
	p.loadTab()
	p.afterPause()
}

// begin takes up the job as it is.
func (p *page) begin() {
	p.measured = nil
	if s, err := finding.ShiftOf(p.u.Known()); err == nil {
		p.measured = &s.WheelErrorDeg
	}
	if p.session != p.u.Session {
		p.session = p.u.Session
		p.sliders.narrow()
	}
}

// say shows the finding and the chances.
func (p *page) say() {
	kit.SetText(p.sentence, say(p.estimate.Says))
	kit.SetText(p.second, p.chances()+" "+say(p.estimate.Notes[0]))
	role := figure.Warning
	if actual := p.estimate.Cases[1]; actual.Lights && !actual.KickBack && (actual.InWindow || actual.StartBTDCDeg <= 0) {
		role = figure.Commanded
	}
	p.bar.Show(role)
}

func (p *page) showFigure(j job.Job) {
	kit.Stand(p.left, p.view)
	in := chart.LightOf(p.estimate, j.Title, chart.LightOptions{Say: say, Units: voice().Units(), Supposed: p.u.Supposes()})
	in.Heading, in.Finding = "", ""
	p.view.SetFigure(in)
}

// lack says what the job lacks for an estimate.
func (p *page) lack(err error) {
	p.stop()
	p.valid = false
	kit.SetText(p.sentence, tr("Whether the fuel ignites is not known yet."))
	p.bar.Show(figure.Warning)
	kit.SetText(p.lacks, p.u.Why(err))
	var faults job.Faults
	p.fill.Hidden = !errors.As(err, &faults) || len(faults) == 0
	second := ""
	if !p.fill.Hidden {
		second = tr("What is still missing is named below. The sliders try a compression ratio and a cranking speed as a what-if.")
		p.fill.OnTapped = func() { p.u.Show(faults[0].Key) }
	}
	kit.SetText(p.second, second)
	kit.Stand(p.left, p.want)
	p.loadTab()
}

// Moved puts the cursor where the crank stands, as cylinder 1 counts it: round its
// own firing TDC.
func (p *page) Moved() {
	e, err := finding.EngineOf(p.u.Session.Sound())
	if err != nil || !p.valid {
		return
	}
	at := timing.WrapSigned(p.u.At, e.Cycle())
	p.view.MoveCursor(at, p.reading(at))
}

// reading is what the curves show at a cylinder's own angle.
func (p *page) reading(at timing.Deg) string {
	where := chart.Say(say).BTDC(-float64(at))
	if !p.estimate.Path.Holds(at) {
		return with("{{.At}}: a valve is open", map[string]any{"At": where})
	}
	g := p.estimate.Path.At(at)
	return with("{{.At}}: {{.Gas}}, {{.Pressure}}", map[string]any{
		"At": where, "Gas": quantity.Temperature(g.K-273.15, 0), "Pressure": quantity.Pressure(g.Bar, 1)})
}
