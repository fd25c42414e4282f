package lesson

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/widgets"
)

// preview is the page that is edited, as the class will see it.
type preview struct {
	view          *widgets.FigureView
	which         *kit.LineLabel
	back, forward *kit.KeyButton
	answers       *kit.KeyButton
	deck          chart.Deck
	page          int // of the deck
	answer        bool
}

func (p *page) buildPreview() fyne.CanvasObject {
	v := &p.preview
	v.view, v.which = widgets.NewFigureView(fyne.NewSize(240, 135)), kit.NewLineLabel()
	step := func(by int) func() {
		return func() {
			v.page, v.answer = v.page+by, false
			p.loadPreview()
		}
	}
	v.back, v.forward = kit.NewKeyButton("←", step(-1)), kit.NewKeyButton("→", step(+1))
	v.answers = kit.NewKeyButton("", func() {
		v.answer = !v.answer
		p.loadPreview()
	})
	return container.NewBorder(nil, container.NewBorder(nil, nil, container.NewHBox(v.back, v.forward, v.answers), nil, v.which), nil, nil,
		container.New(wide{}, v.view))
}

// loadPreview shows the page.
func (p *page) loadPreview() {
	v := &p.preview
	l := plan.Lesson{Engines: p.lesson.Engines}
	if p.at < len(p.lesson.Pages) {
		l.Pages = p.lesson.Pages[p.at : p.at+1]
	}
	deck, err := chart.NewLessonDeck(l, chart.DeckOptions{ByNumber: p.u.ByNumber, From: p.u.From, Say: say})
	if err != nil {
		return // its jobs are sound
	}
	v.deck = deck
	v.page = max(0, min(v.page, deck.Len()-1))
	in := deck.Page(v.page, chart.PageView{Answer: v.answer})
	v.view.SetFigure(in.Sentence+" "+in.Desc, func(b figure.Box) figure.Drawing { return figure.Board(in, b.W/b.H) })
	words := tr("Show the answer")
	if v.answer {
		words = tr("Show the question")
	}
	v.answers.SetText(words)
	v.which.SetText(with("{{.N}} of {{.Count}}", map[string]any{"N": v.page + 1, "Count": deck.Len()}))
	enable(v.back, v.page > 0)
	enable(v.forward, v.page < deck.Len()-1)
}

// wide gives its object the shape of a projector's picture, in the middle.
type wide struct{}

func (wide) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(240, 135) }

func (wide) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	const aspect = 16.0 / 9
	s := fyne.NewSize(size.Width, size.Width/aspect)
	if s.Height > size.Height {
		s = fyne.NewSize(size.Height*aspect, size.Height)
	}
	objects[0].Resize(s)
	objects[0].Move(fyne.NewPos((size.Width-s.Width)/2, (size.Height-s.Height)/2))
}
