package app

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/figure"
	"pinphase/timing/finding"
	"pinphase/timing/job"
	"pinphase/timing/part/photo"
	"pinphase/timing/plate"
	"pinphase/widgets"
)

// partPage is the bench: the method is chosen by pictures, the readings are typed
// beside it, and the part is drawn with its drawing's angle and the measured one.
type partPage struct {
	u       *ui
	form    *form
	content *container.Split

	feature figure.PartFeature
	which   *widget.RadioGroup // dowel or keyway
	benches [2]*bench          // by figure.PartFeature
	room    *fyne.Container    // holds the bench shown

	verdict *widget.Label
	figure  *widgets.FigureView
	photo   *photoBench
	right   *fyne.Container
	words   *container.AppTabs
	notes   *widget.Label
	budget  *grid
	overlay *widget.Check
	old     *finding.Part // what was measured on another part, to lay beside this one
	compare *widget.Button
	split   *container.Split
}

// bench is the fields for one feature.
type bench struct {
	cards   []*widgets.Card
	editor  *readingEditor // of what was measured
	content *container.Scroll
}

func newPartPage(u *ui) *partPage {
	p := &partPage{u: u, form: newBlankForm(u), verdict: widget.NewLabel(""), notes: prose(), budget: newGrid(4),
		figure: widgets.NewFigureView(fyne.NewSize(260, 200))}
	p.form.labels = u.form.labels
	for i, section := range []string{"dowel", "keyway"} {
		p.benches[i] = p.newBench(section, figure.PartFeature(i))
	}
	names := []string{tr("Dowel, from the keyway"), tr("Keyway, from the No. 1 throw")}
	p.which = widget.NewRadioGroup(names, func(name string) {
		p.feature = figure.DowelFromKeyway
		if name == names[1] {
			p.feature = figure.KeywayFromThrow
		}
		p.showFeature()
	})
	p.which.Horizontal, p.which.Required = true, true
	p.room = container.NewStack()
	p.verdict.Wrapping = fyne.TextWrapWord
	p.verdict.TextStyle.Bold = true
	p.overlay = widget.NewCheck(tr("laid over each other"), func(bool) { p.load() })
	p.compare = widget.NewButton(tr("Compare with another part…"), p.chooseOld)
	p.overlay.Hide()
	p.photo = newPhotoBench(p)
	p.words = container.NewAppTabs(
		container.NewTabItem(tr("To know"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Where the uncertainty comes from"), container.NewScroll(p.budget.content)),
		container.NewTabItem(tr("True TDC and marks"), newTDCBench(u).content),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions())),
	)
	p.right = container.NewStack(p.figure)
	beside := container.NewBorder(nil, container.NewHBox(p.compare, p.overlay), nil, nil, p.right)
	p.split = container.NewVSplit(beside, container.NewBorder(p.verdict, nil, nil, nil, p.words))
	p.split.Offset = u.prefs.Share(prefSplitPart, 0.62)
	left := container.NewBorder(p.which, nil, nil, nil, p.room)
	p.content = container.NewHSplit(left, p.split)
	p.content.Offset = u.prefs.Share(prefSplitBench, 0.42)
	p.which.SetSelected(names[0])
	return p
}

// cautions are the usual ones as a text.
func cautions() fyne.CanvasObject {
	l := prose()
	var list []string
	for _, c := range finding.Cautions {
		list = append(list, tr(c))
	}
	l.SetText("• " + strings.Join(list, "\n• "))
	return l
}

func (p *partPage) newBench(section string, feature figure.PartFeature) *bench {
	b := &bench{editor: newReadingEditor(p.form, section, "measured")}
	grid := container.NewGridWrap(widgets.NewCard("", nil).MinSize())
	widest := fyne.NewSize(0, 0)
	for i, m := range measurings {
		kind := m.kind
		if feature == figure.KeywayFromThrow {
			kind = kind.FromThrow()
		}
		c := widgets.NewCard(tr(cardNames[i]), func(box figure.Box) figure.Drawing { return figure.MethodPicture(kind, box) })
		c.OnChosen = func() { p.choose(b, i) }
		b.cards = append(b.cards, c)
		widest = widest.Max(c.MinSize())
		grid.Add(c)
	}
	grid.Layout = &wrapLayout{cell: widest}
	b.editor.onShown = func(m int) {
		for i, c := range b.cards {
			c.SetSelected(i == m)
		}
		if p.photo != nil {
			p.showFigure()
		}
	}
	drawing := newReadingEditor(p.form, section, "drawing")
	b.editor.method.Hide()
	rows := []fyne.CanvasObject{
		widget.NewLabel(tr("How was it measured?")), grid,
		stacked([]row{p.form.seenFromRow(section)}),
		b.editor.content,
		drawing.content,
	}
	b.content = container.NewVScroll(container.New(&besideBar{}, container.NewVBox(rows...)))
	return b
}

// cardNames are the short names of the measurings, as they stand below their
// pictures.
var cardNames = []string{
	"angle", "degree wheel", "caliper, centres", "over pin and key", "between pin and key",
	"over, keyway edge", "between, keyway edge", "tape on a rim", "coordinates", "photograph",
}

// choose takes another method for what was measured; there is a reading from
// then on.
func (p *partPage) choose(b *bench, m int) {
	if !b.editor.given.Checked {
		b.editor.setGiven(true)
	}
	b.editor.setMethod(m)
}

func (p *partPage) title() string { return tr("Part") }

func (p *partPage) body() fyne.CanvasObject { return p.content }

func (p *partPage) remember(to prefs) {
	to.p.SetFloat(prefSplitBench, p.content.Offset)
	to.p.SetFloat(prefSplitPart, p.split.Offset)
}

func (p *partPage) moved() {}

func (p *partPage) showFeature() {
	p.form.scroll = p.benches[p.feature].content
	p.room.Objects = []fyne.CanvasObject{p.form.scroll}
	p.room.Refresh()
	p.load()
}

// load shows the session's newest sound job.
func (p *partPage) load() {
	if p.photo == nil {
		return // still being built
	}
	j := p.u.shown()
	part, err := finding.PartOf(j)
	if err != nil {
		p.verdict.SetText(tr("Nothing was measured on the part yet: choose how, and type what was read."))
		p.notes.SetText(p.form.errorWords(err))
		p.budget.set(nil)
	} else {
		p.verdict.SetText(say(part.Says))
		p.notes.SetText(lines(part.Notes))
		p.loadBudget(part)
	}
	p.showFigure()
}

// showFigure shows the part, or the photograph where that is the method.
func (p *partPage) showFigure() {
	j := p.u.shown()
	b := p.benches[p.feature]
	if b.editor.shown >= 0 && measurings[b.editor.shown].method == "photo" {
		p.photo.load(p.feature)
		p.right.Objects = []fyne.CanvasObject{p.photo.content}
		p.right.Refresh()
		return
	}
	if len(p.right.Objects) != 1 || p.right.Objects[0] != fyne.CanvasObject(p.figure) {
		p.right.Objects = []fyne.CanvasObject{p.figure}
		p.right.Refresh()
	}
	in, err := plate.Part(j, plate.PartOptions{From: p.u.from, Feature: p.feature, Old: p.old, Overlay: p.overlay.Checked, Say: say})
	if err != nil {
		p.figure.SetFigure("", nil)
		return
	}
	in.Heading = ""
	p.figure.SetFigure(in.Desc, func(box figure.Box) figure.Drawing {
		d, _ := figure.Part(in, box)
		return d
	})
}

// loadBudget shows where the uncertainty of the feature shown comes from.
func (p *partPage) loadBudget(part finding.Part) {
	angle := part.Dowel
	if p.feature == figure.KeywayFromThrow {
		angle = part.Keyway
	}
	rows := [][]string{{tr("reading"), tr("±"), tr("makes"), tr("share")}}
	if angle != nil {
		for _, s := range angle.Budget {
			rows = append(rows, []string{
				p.readingName(s.Reading),
				finding.Num{Value: s.U, Decimals: 3}.String() + " " + strings.Replace(s.Unit, "deg", "°", 1),
				finding.Num{Value: s.ContributionDeg, Decimals: 2}.String() + "°",
				finding.Num{Value: 100 * s.Share, Decimals: 0}.String() + " %",
			})
		}
	}
	p.budget.set(rows)
}

// readingName is what the form calls a reading of the feature shown.
func (p *partPage) readingName(key string) string {
	section := [...]string{"dowel", "keyway"}[p.feature]
	if label, ok := p.form.labels[section+".measured."+key]; ok {
		return label
	}
	return tr(key)
}

// chooseOld opens the job of another part, to show it beside this one; pressed
// again it takes it away.
func (p *partPage) chooseOld() {
	if p.old != nil {
		p.setOld(nil)
		return
	}
	p.u.askJob(tr("Compare with the part of another job"), func(path string) {
		other, err := partIn(path)
		if err != nil {
			p.u.tell(err)
			return
		}
		p.setOld(&other)
	})
}

func (p *partPage) setOld(old *finding.Part) {
	p.old = old
	if old == nil {
		p.compare.SetText(tr("Compare with another part…"))
		p.overlay.Hide()
	} else {
		p.compare.SetText(tr("Take the other part away"))
		p.overlay.Show()
	}
	p.showFigure()
}

// partIn is what was measured on the part of a job file.
func partIn(path string) (finding.Part, error) {
	doc, err := job.ReadFile(path)
	if err != nil {
		return finding.Part{}, err
	}
	j, _, err := finding.WithPhotos(doc.Job(), filepath.Dir(path), photo.InspectFile)
	if err != nil {
		return finding.Part{}, err
	}
	return finding.PartOf(j)
}
