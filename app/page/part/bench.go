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
	marks   map[string]*marksPanel // of their photographs, by "measured" and "drawing"

	picture   *widgets.FigureView // how it is measured
	name, how *widget.Label
	method    *fyne.Container // the method in use
	cards     []*widgets.Card
	keep      *widget.Button
	chooser   *fyne.Container // all methods
	choosing  bool            // though there is a method in use
}

func newBench(p *page, feature figure.PartFeature) *bench {
	b := &bench{
		p: p, feature: feature, section: desk.SectionOf(feature),
		picture: widgets.NewFigureView(fyne.NewSize(108, 84)), name: kit.Wrapped("").(*widget.Label), how: kit.Prose(),
	}
	b.name.TextStyle.Bold = true
	b.editor = form.NewReadingEditor(p.form, b.section, "measured")
	b.editor.ByCards = true
	b.drawing = form.NewReadingEditor(p.form, b.section, "drawing")
	b.drawing.OnShown = func(int) { p.showFigure() }
	b.marks = map[string]*marksPanel{}
	for _, e := range []*form.ReadingEditor{b.editor, b.drawing} {
		m := newMarksPanel(p, b, e.Which)
		b.marks[e.Which] = m
		e.Picture.Objects = []fyne.CanvasObject{m.content}
	}

	other := widget.NewButton(tr("Another method…"), func() { b.choose(true) })
	b.method = container.NewBorder(nil, nil, b.picture, container.NewVBox(other), container.New(&kit.Tight{}, b.name, b.how))
	b.chooser = b.newChooser()
	b.editor.OnShown = func(int) { b.show() }
	rows := container.NewVBox(b.chooser, b.method, form.Stacked([]form.Row{p.form.SeenFromRow(b.section)}), b.editor.Content, b.drawing.Content)
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
		if m := b.editor.Shown; m >= 0 {
			b.p.u.Window.Canvas().Focus(b.cards[m])
		}
	}
}

// take measures by another method from now on; there is a reading from then on.
func (b *bench) take(m int) {
	b.editor.SetMethod(m)
	b.choosing = false
	b.show()
	if fields := b.editor.Inputs[b.editor.Shown]; len(fields) > 0 && m != form.Photograph {
		b.p.u.Window.Canvas().Focus(fields[0].Focus())
	}
}

// show shows the method in use, or all of them where there is none.
func (b *bench) show() {
	m := b.editor.Shown
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
