package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/finding"
)

func prose() *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	return l
}

func lines(list []finding.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = say(s)
	}
	return strings.Join(words, "\n\n")
}

// lineLabel is a line of text that is cut short where there is no room, and can
// say how much it may come to show.
type lineLabel struct {
	widget.Label
	room string // the longest it may become, so that its neighbours stay where they are; "" for its text
}

func newLineLabel() *lineLabel {
	l := &lineLabel{}
	l.Truncation = fyne.TextTruncateEllipsis
	l.ExtendBaseWidget(l)
	return l
}

// String returns the longest line.
func (l *lineLabel) String() string {
	if l.room != "" {
		return l.room
	}
	return l.Text
}

func heading(text string) fyne.CanvasObject {
	l := wrapped(text).(*widget.Label)
	l.TextStyle.Bold = true
	return l
}

func wrapped(text string) fyne.CanvasObject {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// messageLabel is where a fault is shown below something that is no field.
func messageLabel() *widget.Label {
	l := widget.NewLabel("")
	l.Importance = widget.DangerImportance
	l.Wrapping = fyne.TextWrapWord
	l.Hide()
	return l
}

func showMessage(l *widget.Label, message string) {
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

// setText shows a text, without a refresh where it is shown already.
func setText(l *widget.Label, text string) {
	if l.Text != text {
		l.SetText(text)
	}
}

// setShown shows or hides a widget, where it is not so already.
func setShown(o fyne.CanvasObject, on bool) {
	switch {
	case on && !o.Visible():
		o.Show()
	case !on && o.Visible():
		o.Hide()
	}
}

// able greys a button out, or not.
func able(b fyne.Disableable, on bool) {
	switch {
	case on && b.Disabled():
		b.Enable()
	case !on && !b.Disabled():
		b.Disable()
	}
}

// stand puts an object into a room that holds one, in place of what is there.
func stand(room *fyne.Container, o fyne.CanvasObject) {
	if room.Objects[0] != o {
		room.Objects = []fyne.CanvasObject{o}
		room.Refresh()
	}
}

// cautions are the usual ones as a text.
func cautions() fyne.CanvasObject {
	l := prose()
	var list []string
	for _, c := range finding.Cautions {
		list = append(list, tr(c))
	}
	l.SetText("• " + strings.Join(list, "\n• "))
	return l
}
