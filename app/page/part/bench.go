package part

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// bench is where one feature is measured: the method as a picture, or all of them
// to choose from, and the fields it has.
type bench struct {
	p       *page
	feature figure.PartFeature
	section string
	content *container.Scroll

	editor  *form.ReadingEditor    // of what was measured
	drawing *form.ReadingEditor    // of what it should be
	other   *form.ReadingEditor    // of a part that is not compared
	marks   map[string]*marksPanel // of their photographs, by which reading it is

	picture   *widgets.FigureView // how it is measured
	name, how *widget.Label
	method    *fyne.Container // the method in use
	cards     []*widgets.Card
	keep      *widget.Button
	chooser   *fyne.Container // all methods
	choosing  bool            // though there is a method in use
	shows     benchShows
}

// benchShows is what decides which editors and pictures are seen.
type benchShows struct {
	editor              *form.ReadingEditor
	method              int
	several             bool
	measured, drawing   bool // the section has readings of its own
	measuredBy, drawnBy int
}

func newBench(p *page, feature figure.PartFeature) *bench {
	b := &bench{
		p: p, feature: feature, section: desk.SectionOf(feature),
		picture: widgets.NewFigureView(fyne.NewSize(108, 84)), name: kit.Wrapped("").(*widget.Label), how: kit.Prose(),
	}
	b.name.TextStyle.Bold = true
	b.editor = form.NewReadingEditor(p.form, b.section, "measured")
	b.drawing = form.NewReadingEditor(p.form, b.section, "drawing")
	b.other = form.NewReadingEditor(p.form, b.section, form.Other)
	b.marks = map[string]*marksPanel{}
	for _, e := range []*form.ReadingEditor{b.editor, b.drawing, b.other} {
		e.OnShown = func(int) { b.show() }
		m := newMarksPanel(p, b, e.Which)
		b.marks[e.Which] = m
		e.Picture.Objects = []fyne.CanvasObject{m.content}
	}

	other := widget.NewButton(tr("Another method…"), func() { b.choose(true) })
	b.method = container.NewBorder(nil, nil, b.picture, container.NewVBox(other), container.New(&kit.Tight{}, b.name, b.how))
	b.chooser = b.newChooser()
	rows := container.NewVBox(b.chooser, b.method, form.Stacked([]form.Row{p.form.SeenFromRow(b.section)}), b.editor.Content, b.drawing.Content, b.other.Content)
	b.content = container.NewVScroll(container.New(&kit.BesideBar{}, rows))
	b.show()
	return b
}

// newChooser returns the pictures of all methods.
func (b *bench) newChooser() *fyne.Container {
	grid := container.New(&kit.WrapLayout{})
	widest := fyne.NewSize(0, 0)
	for i := range job.Methods {
		_, short, _ := form.MethodWords(job.Methods[i])
		c := widgets.NewCard(short, b.methodPicture(i))
		c.OnChosen = func() { b.take(i) }
		b.cards = append(b.cards, c)
		widest = widest.Max(c.MinSize())
		grid.Add(c)
	}
	grid.Layout = &kit.WrapLayout{Cell: widest}
	b.keep = widget.NewButton(tr("Keep the present method"), func() { b.choose(false) })
	heading := container.NewBorder(nil, nil, nil, b.keep, widget.NewLabel(tr("How was it measured?")))
	return container.NewVBox(heading, grid)
}

// methodPicture draws how one of the ways of measuring is done for this feature.
func (b *bench) methodPicture(measuring int) func(figure.Box) figure.Drawing {
	kind := figure.MethodKind(job.Methods[measuring].Picture)
	if b.feature == figure.KeywayFromThrow {
		kind = kind.FromThrow()
	}
	return func(box figure.Box) figure.Drawing { return figure.MethodPicture(kind, box) }
}

// choose shows all methods, or only the one in use.
func (b *bench) choose(on bool) {
	b.choosing = on
	b.show()
	if b.choosing {
		b.content.ScrollToTop()
		if m := b.now().Shown; m >= 0 {
			b.p.u.Window.Canvas().Focus(b.cards[m])
		}
	}
}

// take measures by another method from now on; there is a reading from then on.
func (b *bench) take(m int) {
	e := b.now()
	e.SetMethod(m)
	b.choosing = false
	b.show()
	if fields := e.Inputs[e.Shown]; len(fields) > 0 && m != form.Photograph {
		b.p.u.Window.Canvas().Focus(fields[0].Focus())
	}
}

// now is the editor of the readings shown: of the chosen part, or of what was measured.
func (b *bench) now() *form.ReadingEditor {
	if b.p.parts == nil {
		return b.editor
	}
	switch b.p.parts.which(b.section) {
	case "drawing":
		return b.drawing
	case form.Other:
		return b.other
	}
	return b.editor
}

// lay shows the editors that count: of several parts that of the chosen one, and what
// the job has beside its parts.
func (b *bench) lay() {
	if b.p.parts == nil {
		return
	}
	b.shows = b.present()
	several, now, f := b.shows.several, b.shows.editor, b.shows
	b.editor.ByCards, b.drawing.ByCards, b.other.ByCards = true, several && now == b.drawing, true
	kit.SetShown(b.editor.Content, !several || now == b.editor || f.measured)
	kit.SetShown(b.drawing.Content, !several || now == b.drawing || f.drawing)
	kit.SetShown(b.other.Content, now == b.other)
	for _, e := range []*form.ReadingEditor{b.editor, b.drawing, b.other} {
		kit.SetShown(e.Method, e.Shown >= 0 && !e.ByCards)
	}
}

// present is what decides now.
func (b *bench) present() benchShows {
	j := b.p.u.Session.Job()
	s := benchShows{editor: b.now(), several: b.p.parts.several(), measuredBy: b.editor.Shown, drawnBy: b.drawing.Shown}
	s.method = s.editor.Shown
	if f := *desk.FeatureOf(b.section)(&j); f != nil {
		s.measured, s.drawing = f.Measured != nil, f.Drawing != nil
	}
	return s
}

// load shows the editors that count, where they are others than before.
func (b *bench) load() {
	if b.shows != b.present() {
		b.show()
	}
}

// show shows the method in use, or all of them where there is none.
func (b *bench) show() {
	b.lay()
	m := b.now().Shown
	for i, c := range b.cards {
		c.SetSelected(i == m)
	}
	all := b.choosing || m < 0
	b.keep.Hidden = m < 0
	b.chooser.Hidden, b.method.Hidden = !all, all
	if m >= 0 {
		name, _, how := form.MethodWords(job.Methods[m])
		b.name.SetText(upper(name))
		b.how.SetText(how)
		b.picture.SetFigure(name, b.methodPicture(m))
	}
	b.content.Refresh()
	b.p.showFigure()
}
