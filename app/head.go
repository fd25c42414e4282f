package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
)

// head is what stands over every page: the answer in a sentence, what must be
// known beside it, and the row of pages.
type head struct {
	u        *ui
	content  fyne.CanvasObject
	bar      kit.ColourBar // the colour beside the sentence
	sentence *widget.Label
	notes    *widget.Label
	more     *kit.TipButton // shows the notes where there is no room for them
	words    *fyne.Container
	suppose  *supposeStrip
	around   *fyne.Container // it and the page below; nil while the window is built
	steady   *kit.Steady
	fitted   fyne.Size // the window for which it was last made to fit, with the size of text
	text     float32
}

func newHead(u *ui, tabs fyne.CanvasObject) *head {
	h := &head{u: u, bar: kit.NewColourBar(u.Frame), sentence: widget.NewLabel(""), notes: widget.NewLabel("")}
	h.sentence.Wrapping = fyne.TextWrapWord
	h.sentence.SizeName = theme.SizeNameSubHeadingText
	h.sentence.TextStyle.Bold = true
	h.notes.Wrapping = fyne.TextWrapWord
	h.steady = &kit.Steady{}
	h.words = container.New(h.steady, container.New(&kit.Tight{}, h.sentence, h.notes))
	h.more = u.NewTipButton(theme.InfoIcon(), tr("Remarks"), func() { u.Inform(tr("Remarks"), kit.Wrapped(h.notes.Text)) })
	h.more.Hide()
	h.suppose = newSupposeStrip(u)
	h.content = container.NewVBox(container.NewBorder(nil, nil, h.bar.Rectangle, container.NewVBox(h.more), h.words), h.suppose.content, u.Warnings.Build(u.Frame), container.NewHScroll(tabs), widget.NewSeparator())
	return h
}

// headShare is how much of a window's height the words may take. Where large text
// in a low window would need more, the sentence is set smaller and the notes wait
// behind a button.
const headShare = 0.24

// fit makes the words fit a window. What was short stays so until there is room to
// spare, or the page would jump up and down while something is dragged.
func (h *head) fit(window fyne.Size) {
	text := theme.TextSize()
	if window == h.fitted && text == h.text {
		return
	}
	limit := headShare * window.Height
	if !h.more.Hidden && text == h.text {
		limit *= 0.85
	}
	h.fitted, h.text = window, text
	h.short(false)
	if h.high(window.Width) > limit {
		h.short(true)
	}
	// Words know their height only at their width; what was kept was for others.
	h.content.Resize(fyne.NewSize(window.Width, h.content.MinSize().Height))
	h.steady.Width, h.steady.Height = 0, 0
}

// short shows the sentence alone, or the notes with it.
func (h *head) short(on bool) {
	if on != h.more.Hidden {
		return
	}
	h.more.Hidden, h.notes.Hidden = !on, on || h.notes.Text == ""
	h.sentence.SizeName = theme.SizeNameSubHeadingText
	if on {
		h.sentence.SizeName = theme.SizeNameText
	}
	h.content.Refresh()
}

// high is how high the words are at a width.
func (h *head) high(width float32) float32 {
	high := float32(0)
	for _, l := range []*widget.Label{h.sentence, h.notes} {
		if l.Text != "" {
			l.Resize(fyne.NewSize(width, l.Size().Height))
			high += l.MinSize().Height
		}
	}
	return high
}

// underHead puts a page below the head.
type underHead struct{ head *head }

func (l underHead) MinSize(objects []fyne.CanvasObject) fyne.Size {
	top, page := objects[0].MinSize(), objects[1].MinSize()
	return fyne.NewSize(max(top.Width, page.Width), top.Height+theme.Padding()+page.Height)
}

func (l underHead) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.head.fit(size)
	top, page := objects[0], objects[1]
	high := top.MinSize().Height
	top.Resize(fyne.NewSize(size.Width, high))
	high += theme.Padding()
	page.Move(fyne.NewPos(0, high))
	page.Resize(fyne.NewSize(size.Width, max(0, size.Height-high)))
}

// load says what the session's newest sound job comes to.
func (h *head) load() {
	text, notes, role := "", "", figure.Commanded
	if s, err := finding.ShiftOf(h.u.Shown()); err != nil {
		text = tr("When injection starts is not known yet.")
		notes = h.u.Why(err)
	} else {
		text = say(s.Says)
		notes = joined(s.Notes, 2)
		if s.Direction != "none" {
			role = figure.Actual
		}
	}
	if h.u.Supposes() {
		notes = "" // what is supposed stands there
	}
	if wanted := h.u.Unfinished(); wanted != "" {
		notes = tr("The measurement is not complete yet; the figures show the job as it was before.") + " " + wanted
	} else if wrong, _ := h.u.Wrong(); wrong != "" {
		notes = tr("The figures show the job as it was before this error:") + " " + strings.ReplaceAll(wrong, "\n", "; ")
		role = figure.Warning
	}
	if text != h.sentence.Text || notes != h.notes.Text {
		h.fitted = fyne.Size{} // other words may fit where these did not
	}
	h.sentence.SetText(text)
	h.notes.SetText(notes)
	h.notes.Hidden = notes == "" || !h.more.Hidden
	h.bar.Show(role)
	if h.suppose.load() && h.around != nil { // which the toolkit would only see to for what grows within its room
		h.around.Layout.Layout(h.around.Objects, h.around.Size())
	}
}
