package kit

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Warnings are a line below the answer that says what the program cannot do now,
// until it can again. They outlive a change of language.
type Warnings struct {
	list    []warning
	hidden  bool // the user has read them
	Content *fyne.Container
	Words   *widget.Label
}

type warning struct{ about, words string }

// What is warned of.
const (
	AboutSnapshot = "snapshot" // the open job is not kept against a crash
	AboutChoices  = "choices"  // settings are not kept
	AboutOldOnes  = "old"      // settings could not be read
	AboutWriting  = "writing"  // a file takes long to be written
)

// Build makes what is shown, in the present language.
func (w *Warnings) Build(u *Frame) fyne.CanvasObject {
	w.Words = Prose()
	w.Words.Importance = widget.WarningImportance
	hide := u.NewTipButton(theme.CancelIcon(), Tr("Hide"), w.Hide)
	w.Content = container.NewBorder(nil, nil, nil, container.NewVBox(hide), w.Words)
	w.load()
	return w.Content
}

// Hide takes it away: the user has read it.
func (w *Warnings) Hide() {
	w.hidden = true
	w.load()
}

// Set warns of something, or no longer where words are "". What is said anew is shown
// though others were hidden.
func (w *Warnings) Set(about, words string) {
	i := slices.IndexFunc(w.list, func(o warning) bool { return o.about == about })
	switch {
	case i < 0 && words == "":
		return
	case i < 0:
		w.list = append(w.list, warning{about, words})
		w.hidden = false
	case words == "":
		w.list = slices.Delete(w.list, i, i+1)
	case words == w.list[i].words:
		return
	default:
		w.list[i].words = words
	}
	w.load()
}

// Of is what is said about something, "" for nothing.
func (w *Warnings) Of(about string) string {
	for _, o := range w.list {
		if o.about == about {
			return o.words
		}
	}
	return ""
}

// Said is what is warned of now.
func (w *Warnings) Said() string {
	var lines []string
	for _, o := range w.list {
		lines = append(lines, o.words)
	}
	return strings.Join(lines, "\n")
}

func (w *Warnings) load() {
	w.Words.SetText(w.Said())
	if len(w.list) == 0 || w.hidden {
		w.Content.Hide()
	} else {
		w.Content.Show()
	}
}
