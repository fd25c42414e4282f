package kit

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

func Prose() *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	return l
}

func Lines(list []phrase.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = Say(s)
	}
	return strings.Join(words, "\n\n")
}

// LineLabel is a line of text that is cut short where there is no room, and can
// say how much it may come to show.
type LineLabel struct {
	widget.Label
	Room string // the longest it may become, so that its neighbours stay where they are; "" for its text
}

func NewLineLabel() *LineLabel {
	l := &LineLabel{}
	l.Truncation = fyne.TextTruncateEllipsis
	l.ExtendBaseWidget(l)
	return l
}

// String returns the longest line.
func (l *LineLabel) String() string {
	if l.Room != "" {
		return l.Room
	}
	return l.Text
}

func Heading(text string) fyne.CanvasObject {
	l := Wrapped(text).(*widget.Label)
	l.TextStyle.Bold = true
	return l
}

func Wrapped(text string) fyne.CanvasObject {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// MessageLabel is where a fault is shown below something that is no field.
func MessageLabel() *widget.Label {
	l := widget.NewLabel("")
	l.Importance = widget.DangerImportance
	l.Wrapping = fyne.TextWrapWord
	l.Hide()
	return l
}

func ShowMessage(l *widget.Label, message string) {
	if l.Text == message {
		return
	}
	l.SetText(message)
	if message == "" {
		l.Hide()
	} else {
		l.Show()
	}
}

// SetText shows a text, without a refresh where it is shown already.
func SetText(l *widget.Label, text string) {
	if l.Text != text {
		l.SetText(text)
	}
}

// SetShown shows or hides a widget, where it is not so already.
func SetShown(o fyne.CanvasObject, on bool) {
	switch {
	case on && !o.Visible():
		o.Show()
	case !on && o.Visible():
		o.Hide()
	}
}

// Able greys a button out, or not.
func Able(b fyne.Disableable, on bool) {
	switch {
	case on && b.Disabled():
		b.Enable()
	case !on && !b.Disabled():
		b.Disable()
	}
}

// Stand puts an object into a room that holds one, in place of what is there.
func Stand(room *fyne.Container, o fyne.CanvasObject) {
	if room.Objects[0] != o {
		room.Objects = []fyne.CanvasObject{o}
		room.Refresh()
	}
}

// Cautions are the usual ones as a text.
func Cautions() fyne.CanvasObject {
	l := Prose()
	var list []string
	for _, c := range finding.Cautions {
		list = append(list, Tr(c))
	}
	l.SetText("• " + strings.Join(list, "\n• "))
	return l
}
