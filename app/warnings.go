package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// warnings are a line below the answer that says what the program cannot do now,
// until it can again. They outlive a change of language.
type warnings struct {
	list    []warning
	hidden  bool // the user has read them
	content *fyne.Container
	words   *widget.Label
}

type warning struct{ about, words string }

// What is warned of.
const (
	aboutSnapshot = "snapshot" // the open job is not kept against a crash
	aboutChoices  = "choices"  // settings are not kept
	aboutOldOnes  = "old"      // settings could not be read
	aboutWriting  = "writing"  // a file takes long to be written
)

// build makes what is shown, in the present language.
func (w *warnings) build(u *frame) fyne.CanvasObject {
	w.words = prose()
	w.words.Importance = widget.WarningImportance
	hide := u.newTipButton(theme.CancelIcon(), tr("Hide"), w.hide)
	w.content = container.NewBorder(nil, nil, nil, container.NewVBox(hide), w.words)
	w.load()
	return w.content
}

// hide takes it away: the user has read it.
func (w *warnings) hide() {
	w.hidden = true
	w.load()
}

// set warns of something, or no longer where words are "". What is said anew is shown
// though others were hidden.
func (w *warnings) set(about, words string) {
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

// of is what is said about something, "" for nothing.
func (w *warnings) of(about string) string {
	for _, o := range w.list {
		if o.about == about {
			return o.words
		}
	}
	return ""
}

// said is what is warned of now.
func (w *warnings) said() string {
	var lines []string
	for _, o := range w.list {
		lines = append(lines, o.words)
	}
	return strings.Join(lines, "\n")
}

func (w *warnings) load() {
	w.words.SetText(w.said())
	if len(w.list) == 0 || w.hidden {
		w.content.Hide()
	} else {
		w.content.Show()
	}
}
