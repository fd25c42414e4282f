package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/figure"
	"pinphase/timing/finding"
)

// head is what stands over every page: the answer in a sentence, what must be
// known beside it, and the row of pages.
type head struct {
	u        *ui
	content  fyne.CanvasObject
	bar      colourBar // the colour beside the sentence
	sentence *widget.Label
	notes    *widget.Label
}

func newHead(u *ui, tabs fyne.CanvasObject) *head {
	h := &head{u: u, bar: newColourBar(u), sentence: widget.NewLabel(""), notes: widget.NewLabel("")}
	h.sentence.Wrapping = fyne.TextWrapWord
	h.sentence.SizeName = theme.SizeNameSubHeadingText
	h.sentence.TextStyle.Bold = true
	h.notes.Wrapping = fyne.TextWrapWord
	words := container.New(&steady{}, container.New(&tight{}, h.sentence, h.notes))
	h.content = container.NewVBox(container.NewBorder(nil, nil, h.bar.Rectangle, nil, words), container.NewHScroll(tabs), widget.NewSeparator())
	return h
}

// load says what the session's newest sound job comes to.
func (h *head) load() {
	text, notes, role := "", "", figure.Commanded
	if s, err := finding.ShiftOf(h.u.shown()); err != nil {
		text = tr("Where injection lands cannot be said yet.")
		notes = h.u.why(err)
	} else {
		text = say(s.Says)
		notes = joined(s.Notes, 2)
		if s.Direction != "none" {
			role = figure.Actual
		}
	}
	if wanted := h.u.unfinished(); wanted != "" {
		notes = tr("Not all is measured yet; the figures show the job as it was before.") + " " + wanted
	} else if wrong, _ := h.u.wrong(); wrong != "" {
		notes = tr("The figures show the job as it was before this went wrong:") + " " + strings.ReplaceAll(wrong, "\n", "; ")
		role = figure.Warning
	}
	h.sentence.SetText(text)
	h.notes.SetText(notes)
	h.bar.show(role)
}

// joined puts the first few sentences into one line of text.
func joined(list []finding.Sentence, most int) string {
	var words []string
	for _, s := range list[:min(len(list), most)] {
		words = append(words, say(s))
	}
	return strings.Join(words, " ")
}
