// Package part is the bench: what is read on a crankshaft becomes an angle, with how sure
// it is.
package part

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// page is the bench: at the left the method with its readings, at the right
// the part drawn with its drawing's angle and the measured one, or the photograph
// it is measured on, and below what it comes to.
type page struct {
	u       *desk.Desk
	form    *form.Form
	content *container.Split
	scroll  *container.Scroll // for large text in a small window

	feature figure.PartFeature // shown
	which   *kit.OneOf         // dowel, keyway, or true TDC
	benches [2]*bench          // by figure.PartFeature
	tdc     *tdcBench
	parts   *partsPanel
	room    *fyne.Container // holds the bench shown

	figure  *widgets.FigureView
	photo   *photoBench
	looks   *kit.OneOf // a photograph, or the figure to scale
	right   *fyne.Container
	compare *widget.Button
	overlay *kit.Check
	old     *finding.Part // what was measured on another part, to lay beside this one
	oldName string

	split    *container.Split
	verdict  *widget.Label
	evidence *widget.Button // to the Cause page, where what was measured counts
	words    *container.AppTabs
	notes    *widget.Label
	repeats  *widget.Label
	budget   *kit.Grid
}

const name = "part" // by which the page is opened

var Kind = desk.PageKind{
	Name: name, Title: phrase.Text("Part"), Figures: []string{"part"}, Takes: pictureEndings,
	Holds: holdsMarks,
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newPage(d) },
}

func newPage(u *desk.Desk) *page {
	p := &page{u: u, form: form.NewBlankForm(u), verdict: kit.Prose(), notes: kit.Prose(), repeats: kit.Prose(), budget: kit.NewGrid(4),
		figure: widgets.NewFigureView(fyne.NewSize(260, 160)), room: container.NewStack()}
	p.form.Part = func() int {
		if p.parts == nil {
			return -1
		}
		return p.parts.chosen
	}
	for _, f := range []figure.PartFeature{figure.DowelFromKeyway, figure.KeywayFromThrow} {
		p.benches[f] = newBench(p, f)
	}
	p.parts = newPartsPanel(p)
	p.tdc = newTDCBench(u)
	p.which = kit.NewOneOf(p.showBench, tr("Dowel"), tr("Keyway"), tr("True TDC and marks"))
	p.verdict.TextStyle.Bold = true
	p.evidence = widget.NewButton(tr("Find the cause"), func() { u.Open("cause", desk.SectionOf(p.feature)+"_error_deg") })

	p.overlay = kit.NewCheck(tr("over each other"), func(bool) { p.showFigure() })
	p.overlay.Hide()
	p.compare = widget.NewButton(tr("Compare with another part…"), p.chooseOld)
	p.looks = kit.NewOneOf(func(int) { p.showFigure() }, tr("Picture"), tr("Drawing's picture"), tr("To scale"))
	p.looks.Set(lookMeasured)
	p.looks.Content.Hide()
	p.photo = newPhotoBench(p)
	p.right = container.NewStack(p.figure)
	tools := container.NewBorder(nil, nil, p.looks.Content, container.NewHBox(p.overlay, p.compare))
	p.words = container.NewAppTabs(
		container.NewTabItem(tr("Remarks"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Uncertainty"), container.NewScroll(container.NewVBox(p.repeats, p.budget.Content))),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(kit.Cautions())),
	)
	figure := container.NewBorder(tools, nil, nil, nil, p.right)
	said := container.NewBorder(nil, nil, nil, container.NewVBox(p.evidence), p.verdict)
	p.split = container.NewVSplit(figure, container.NewBorder(said, nil, nil, nil, p.words))
	p.split.Offset = u.Prefs.Share(desk.PrefSplitPart, 0.68)
	p.content = container.NewHSplit(container.NewBorder(container.NewVBox(p.which.Content, p.parts.content), nil, nil, nil, p.room), p.split)
	p.content.Offset = u.Prefs.Share(desk.PrefSplitBench, 0.42)
	p.scroll = container.NewScroll(p.content)
	p.which.Set(0)
	p.showBench(0)
	return p
}

func (p *page) Body() fyne.CanvasObject { return p.scroll }

func (p *page) Remember() {
	p.u.Prefs.SetFloat(desk.PrefSplitBench, p.content.Offset)
	p.u.Prefs.SetFloat(desk.PrefSplitPart, p.split.Offset)
}

func (p *page) Moved() {}

func (p *page) End() {}

// Leave lets go of which part is chosen and of what is proposed: another job has others.
func (p *page) Leave() {
	p.parts.chosen, p.parts.editing = -1, false
	p.photo.snap.clear()
}

// TurnTo shows the bench of a section of the job.
func (p *page) TurnTo(section string) {
	at := 0
	if section == "keyway" {
		at = 1
	}
	p.which.Set(at)
	p.showBench(at)
}

// Drawn is the part as it is drawn on the screen.
func (p *page) Drawn(name string, box figure.Box) (figure.Drawing, error) {
	o := p.u.FigureOptions(box)
	o.Part = chart.PartOptions{Feature: p.feature, Old: p.old, Overlay: p.overlay.Checked}
	return chart.Drawing(name, p.u.Known(), o)
}

// shown tells whether it is the page that is shown; before that it is not kept up
// to date, and no picture is read for it.
func (p *page) shown() bool { return p.u.IsOpen(name) }

// tdcPlace is where true TDC stands among the benches.
const tdcPlace = 2

// showBench shows the bench of a feature, or the one for true TDC.
func (p *page) showBench(i int) {
	if i == tdcPlace {
		p.room.Objects = []fyne.CanvasObject{p.tdc.content}
	} else {
		p.feature = figure.PartFeature(i)
		p.form.Scroll = p.benches[i].content
		p.room.Objects = []fyne.CanvasObject{p.form.Scroll}
	}
	kit.SetShown(p.parts.content, i != tdcPlace)
	p.room.Refresh()
	p.Load()
}

// shownAnother shows the page after another part was chosen.
func (p *page) shownAnother() {
	p.form.Forget()
	p.form.Load()
	p.Load()
}

// focusMethod gives the keyboard to the first way of measuring, where one is to be
// chosen.
func (p *page) focusMethod() {
	if b := p.benches[p.feature]; b.now().Shown < 0 {
		p.u.Window.Canvas().Focus(b.cards[0])
	}
}

// Load shows the session's newest sound job.
func (p *page) Load() {
	if !p.shown() {
		return
	}
	p.parts.load()
	p.benches[p.feature].load()
	j := p.u.Known()
	found, err := finding.PartOf(j)
	if err != nil {
		p.verdict.SetText(tr("The part has not been measured yet: choose a method, and type what was read."))
		if desk.HasPhoto(j) {
			p.verdict.SetText(tr("The photograph gives no angle yet."))
		}
		p.notes.SetText(p.u.Why(err))
		p.loadBudget(nil)
	} else {
		p.verdict.SetText(say(found.Says))
		notes := p.photo.notes(p.feature)
		for _, s := range found.Notes {
			notes = append(notes, say(s))
		}
		for _, s := range finding.MirrorNotes(p.u.Session.Sound().Compared(), j) {
			notes = append(notes, say(s))
		}
		if r, err := finding.RemedyOf(j); err == nil && r != nil {
			lines := []string{tr("What now")}
			for _, s := range append(r.Says, r.Ask...) {
				lines = append(lines, "• "+say(s))
			}
			notes = append(notes, strings.Join(lines, "\n"))
		}
		p.notes.SetText(p.oldNote() + strings.Join(notes, "\n\n") + p.evidenceNote())
		p.loadBudget([]*finding.FeatureAngle{found.Dowel, found.Keyway}[p.feature])
	}
	p.verdict.Hidden = p.verdict.Text == ""
	p.tdc.load()
	p.showFigure()
}

// showFigure shows the part to scale, or a photograph where that is the method.
func (p *page) showFigure() {
	if !p.shown() {
		return
	}
	var content fyne.CanvasObject = p.figure
	p.loadLooks()
	which := p.pictured()
	if which != "" {
		content = p.photo.content
	}
	if p.right.Objects[0] != content {
		p.right.Objects[0] = content
		p.right.Refresh()
	}
	if which != "" {
		p.photo.load(p.feature, which)
	}
	p.loadMarks()
	if which != "" {
		return
	}
	in, err := chart.Part(p.u.Known(), chart.PartOptions{From: p.u.From, Feature: p.feature, Old: p.old, Overlay: p.overlay.Checked, Say: say})
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
func (p *page) loadBudget(angle *finding.FeatureAngle) {
	rows := [][]string{{tr("reading"), tr("±"), tr("contribution"), tr("share")}}
	if angle != nil {
		for _, s := range angle.Budget {
			rows = append(rows, []string{
				p.readingName(s.Reading),
				amount(quantity.Amount{Value: s.U, Unit: map[string]quantity.Unit{"deg": "°", "mm": quantity.MM}[s.Unit], Decimals: 3}),
				number(s.ContributionDeg, 2) + "°",
				number(100*s.Share, 0) + " %",
			})
		}
	}
	p.budget.Set(rows)
	var words []string
	if len(rows) == 1 {
		words = append(words, tr("No measurement with an uncertainty has been made here yet."))
		p.budget.Set(nil)
	}
	for _, r := range finding.RepeatsOf(p.u.Known(), desk.SectionOf(p.feature)) {
		words = append(words, with("{{.Field}}: {{.What}}", map[string]any{"Field": p.readingName(r.Key), "What": say(r.Says)}))
	}
	p.repeats.SetText(strings.Join(words, "\n\n"))
	p.repeats.Hidden = len(words) == 0
}

// readingName is what the form calls a reading of the feature shown.
func (p *page) readingName(key string) string {
	if label, ok := p.u.Labels[desk.SectionOf(p.feature)+".measured."+key]; ok {
		return label
	}
	if key == part.ReadScatter {
		return tr("scatter of the readings")
	}
	return key
}

// chooseOld opens the job of another part, to show it beside this one; pressed
// again it takes it away.
func (p *page) chooseOld() {
	if p.old != nil {
		p.setOld(nil, "")
		return
	}
	p.u.AskJob(tr("Compare with the part of another job"), p.CompareWith)
}

// CompareWith lays the part of a job file beside this one.
func (p *page) CompareWith(path string) {
	p.u.Opening.Start(path, func() func() {
		other, err := partIn(path)
		return func() {
			if err != nil {
				p.u.Tell(err)
				return
			}
			p.setOld(&other, filepath.Base(path))
		}
	})
}

func (p *page) setOld(old *finding.Part, name string) {
	p.old, p.oldName = old, name
	p.overlay.Hidden = old == nil
	if old == nil {
		p.compare.SetText(tr("Compare with another part…"))
	} else {
		p.compare.SetText(tr("Remove the other part"))
		p.looks.Set(lookToScale) // both are drawn so
	}
	p.Load()
}

// evidenceNote says that what was measured counts on the Cause page, as a
// paragraph.
func (p *page) evidenceNote() string {
	list, err := finding.Implied(p.u.Known())
	for _, c := range list {
		if err == nil && strings.HasPrefix(c.Key, desk.SectionOf(p.feature)+".") {
			return "\n\n" + with("It counts as evidence on the Cause page: measured against the drawing, {{.What}}.", map[string]any{"What": say(c.Says())})
		}
	}
	return ""
}

// oldNote tells whose part lies beside this one, as a paragraph.
func (p *page) oldNote() string {
	if p.old == nil {
		return ""
	}
	if angle := []*finding.FeatureAngle{p.old.Dowel, p.old.Keyway}[p.feature]; angle == nil || angle.MeasuredDeg == nil {
		return with("The old part, of {{.Name}}, was not measured here.", map[string]any{"Name": p.oldName}) + "\n\n"
	}
	return with("The old part is that of {{.Name}}.", map[string]any{"Name": p.oldName}) + "\n\n"
}

// partIn is what was measured on the part of a job file.
func partIn(path string) (finding.Part, error) {
	f, err := desk.ReadJobFile(path)
	if err != nil {
		return finding.Part{}, err
	}
	s := f.Session()
	if f.Unpacked != "" {
		defer func() { _ = os.RemoveAll(f.Unpacked) }() // it lies where what is temporary does
	}
	j, _, err := finding.WithPhotos(s.Job(), s.Folder(), photo.InspectFile, 0)
	if err != nil {
		return finding.Part{}, err
	}
	return finding.PartOf(j)
}
