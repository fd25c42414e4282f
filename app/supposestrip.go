package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/known"
)

// supposeStrip stands below the answer while something is supposed: it says what, takes
// it back, or puts it into the job.
type supposeStrip struct {
	u       *ui
	content *fyne.Container
	ground  *canvas.Rectangle
	words   *widget.Label
	back    *widget.Button
	keep    *widget.Button
}

func newSupposeStrip(u *ui) *supposeStrip {
	s := &supposeStrip{u: u, ground: canvas.NewRectangle(nil), words: kit.Prose()}
	s.ground.StrokeWidth, s.ground.CornerRadius = 2, 6
	s.words.TextStyle.Bold = true
	s.back = widget.NewButton(tr("As measured"), u.AsMeasured)
	s.back.Importance = widget.HighImportance
	s.keep = widget.NewButton(tr("Enter it in the job"), u.KeepSupposed)
	buttons := container.NewHBox(s.back, s.keep)
	s.content = container.NewStack(s.ground, container.NewPadded(container.NewBorder(nil, nil, nil, container.NewCenter(buttons), s.words)))
	s.content.Hide()
	return s
}

// load says what is supposed now, and tells whether that takes more or less room than
// before.
func (s *supposeStrip) load() (changed bool) {
	was := s.height()
	what, ok := finding.Supposing(s.u.Shown())
	text := ""
	if ok {
		text = known.Supposed.Mark() + " " + with("What if: {{.What}}. The job stays as it is.", map[string]any{"What": what})
	}
	s.ground.FillColor, s.ground.StrokeColor = s.u.Look.FigureColor(figure.Band), s.u.Look.FigureColor(figure.Cursor)
	kit.SetText(s.words, text)
	kit.SetShown(s.content, ok)
	s.ground.Refresh()
	return s.height() != was
}

func (s *supposeStrip) height() float32 {
	if !s.content.Visible() {
		return 0
	}
	return s.content.MinSize().Height
}
