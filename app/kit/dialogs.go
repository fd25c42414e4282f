package kit

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// Box is a dialog. Escape closes it, wherever in it the keyboard is. Enter presses the
// button that has the keyboard, and anywhere else the marked one. What lies below it
// gets no key.
type Box struct {
	*dialog.CustomDialog
	title   string
	Marked  *DialogButton
	Content fyne.CanvasObject // in which what has the keyboard is scrolled into sight
}

// NewBox makes a dialog with a row of buttons below its content, of which the last is
// marked.
func (u *Frame) NewBox(title string, content fyne.CanvasObject, buttons ...*DialogButton) *Box {
	b := &Box{CustomDialog: dialog.NewCustomWithoutButtons(title, content, u.Window), title: title, Marked: buttons[len(buttons)-1]}
	if len(buttons) > 1 {
		b.Marked.Importance = widget.HighImportance
	}
	row := make([]fyne.CanvasObject, len(buttons))
	for i, button := range buttons {
		row[i] = button
		button.keys = u.BoxKey
	}
	b.SetButtons(row)
	u.listen(content)
	return b
}

// Closing is a button that closes the dialog on top.
func (u *Frame) Closing(text string) *DialogButton { return NewDialogButton(text, u.Dismiss) }

// ShowBox shows a dialog. What is in it is wanted where it can be scrolled, so that Tab
// leads to nothing out of sight.
func (u *Frame) ShowBox(b *Box, scrolled ...fyne.CanvasObject) {
	b.Content = container.NewWithoutLayout(scrolled...)
	u.Dialogs = append(u.Dialogs, b)
	b.SetOnClosed(func() {
		u.Dialogs = slices.DeleteFunc(u.Dialogs, func(o *Box) bool { return o == b })
	})
	b.Show()
	if u.Window.Canvas().Focused() == nil && !b.Marked.Disabled() {
		u.Window.Canvas().Focus(b.Marked)
	}
}

// Dismiss closes the dialog on top, without an answer.
func (u *Frame) Dismiss() {
	if n := len(u.Dialogs); n > 0 {
		u.Dialogs[n-1].Dismiss()
	}
}

// accept presses the marked button of the dialog on top.
func (u *Frame) accept() {
	if n := len(u.Dialogs); n > 0 {
		u.Dialogs[n-1].Marked.Tapped(nil)
	}
}

// BoxKey acts on a key that nothing in a dialog has a use for, and tells whether it
// did.
func (u *Frame) BoxKey(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeyEscape:
		u.Dismiss()
	case fyne.KeyReturn, fyne.KeyEnter:
		u.accept()
	default:
		return false
	}
	return true
}

// keyed is what hands on keys that it has no use for.
type keyed interface {
	HandOn(keys func(*fyne.KeyEvent) bool)
}

// listen makes all that can have the keyboard in a dialog hand its keys on.
func (u *Frame) listen(o fyne.CanvasObject) {
	if k, ok := o.(keyed); ok {
		k.HandOn(u.BoxKey)
	}
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			u.listen(c)
		}
	case *container.Scroll:
		u.listen(o.Content)
	case *container.Split:
		u.listen(o.Leading)
		u.listen(o.Trailing)
	case *container.AppTabs:
		for _, t := range o.Items {
			u.listen(t.Content)
		}
	}
}

// Reply is one of the answers that a question can be given.
type Reply struct {
	Text string
	Then func() // nil: nothing
}

// Question is a dialog of a few words.
type Question struct {
	Title, Words string
	Answers      []Reply // the last is marked
	Closed       func()  // it was closed without an answer; may be nil
}

// Inquire asks a question.
func (u *Frame) Inquire(q Question) *Box {
	words := Wrapped(q.Words)
	answered := false
	var b *Box
	var buttons []*DialogButton
	for _, a := range q.Answers {
		buttons = append(buttons, NewDialogButton(a.Text, func() {
			answered = true
			b.Hide()
			if a.Then != nil {
				fyne.Do(a.Then) // once the key is let go of: it would be typed into the next dialog
			}
		}))
	}
	b = u.NewBox(q.Title, container.NewVScroll(words), buttons...)
	b.SetOnClosed(func() {
		if !answered && q.Closed != nil {
			q.Closed()
		}
	})
	s, k := u.Window.Canvas().Size(), u.Look.Scale
	width := min(560*k, s.Width-40)
	words.Resize(fyne.NewSize(width-40, 0)) // words are wrapped to the width first
	b.Resize(fyne.NewSize(width, min(words.MinSize().Height+130*k, s.Height-40)))
	u.ShowBox(b)
	return b
}

// Confirm does something after asking whether it is meant.
func (u *Frame) Confirm(title, words, yesText string, yes func()) {
	u.Inquire(Question{Title: title, Words: words, Answers: []Reply{{Tr("Cancel"), nil}, {yesText, yes}}})
}

// Tell shows what went wrong.
func (u *Frame) Tell(err error) {
	u.Inquire(Question{Title: Tr("That did not work"), Words: InFull(err), Answers: []Reply{{Tr("Close"), nil}}})
}

// Inform shows something to be read.
func (u *Frame) Inform(title string, content fyne.CanvasObject) {
	text := NewReader(content, u.Key)
	b := u.NewBox(title, text, u.Closing(Tr("Close")))
	s, k := u.Window.Canvas().Size(), u.Look.Scale
	b.Resize(fyne.NewSize(min(760*k, s.Width-40), min(600*k, s.Height-40)))
	u.ShowBox(b)
	u.Window.Canvas().Focus(text)
}

// AskFor asks for something to be typed or chosen. accept is told once it is, with the
// dialog gone.
func (u *Frame) AskFor(title, yesText string, content fyne.CanvasObject, size fyne.Size, accept func()) *Box {
	var b *Box
	yes := NewDialogButton(yesText, func() {
		b.Hide()
		fyne.Do(accept) // once the key is let go of: it would be typed into the next dialog
	})
	scroll := container.NewVScroll(content)
	b = u.NewBox(title, scroll, u.Closing(Tr("Cancel")), yes)
	s := u.Window.Canvas().Size()
	b.Resize(fyne.NewSize(min(size.Width, s.Width-40), min(size.Height, s.Height-40)))
	u.ShowBox(b, scroll)
	return b
}

// AskName asks for a name.
func (u *Frame) AskName(title, suggest string, then func(name string)) {
	entry := NewDialogEntry()
	entry.SetText(suggest)
	accept := func() {
		name := strings.Join(strings.Fields(entry.Text), " ")
		if name == "" {
			u.Tell(errors.New(Tr("It needs a name.")))
			return
		}
		then(name)
	}
	u.AskFor(title, Tr("Save"), container.NewVBox(widget.NewLabel(Tr("Name")), entry), fyne.NewSize(560*u.Look.Scale, 180*u.Look.Scale), accept)
	u.Window.Canvas().Focus(entry)
}
