package app

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// box is a dialog. Escape closes it, wherever in it the keyboard is. Enter presses the
// button that has the keyboard, and anywhere else the marked one. What lies below it
// gets no key.
type box struct {
	*dialog.CustomDialog
	title   string
	marked  *dialogButton
	content fyne.CanvasObject // in which what has the keyboard is scrolled into sight
}

// newBox makes a dialog with a row of buttons below its content, of which the last is
// marked.
func (u *frame) newBox(title string, content fyne.CanvasObject, buttons ...*dialogButton) *box {
	b := &box{CustomDialog: dialog.NewCustomWithoutButtons(title, content, u.window), title: title, marked: buttons[len(buttons)-1]}
	if len(buttons) > 1 {
		b.marked.Importance = widget.HighImportance
	}
	row := make([]fyne.CanvasObject, len(buttons))
	for i, button := range buttons {
		row[i] = button
		button.keys = u.boxKey
	}
	b.SetButtons(row)
	u.listen(content)
	return b
}

// closing is a button that closes the dialog on top.
func (u *frame) closing(text string) *dialogButton { return newDialogButton(text, u.dismiss) }

// showBox shows a dialog. What is in it is wanted where it can be scrolled, so that Tab
// leads to nothing out of sight.
func (u *frame) showBox(b *box, scrolled ...fyne.CanvasObject) {
	b.content = container.NewWithoutLayout(scrolled...)
	u.dialogs = append(u.dialogs, b)
	b.SetOnClosed(func() {
		u.dialogs = slices.DeleteFunc(u.dialogs, func(o *box) bool { return o == b })
	})
	b.Show()
	if u.window.Canvas().Focused() == nil && !b.marked.Disabled() {
		u.window.Canvas().Focus(b.marked)
	}
}

// dismiss closes the dialog on top, without an answer.
func (u *frame) dismiss() {
	if n := len(u.dialogs); n > 0 {
		u.dialogs[n-1].Dismiss()
	}
}

// accept presses the marked button of the dialog on top.
func (u *frame) accept() {
	if n := len(u.dialogs); n > 0 {
		u.dialogs[n-1].marked.Tapped(nil)
	}
}

// boxKey acts on a key that nothing in a dialog has a use for, and tells whether it
// did.
func (u *frame) boxKey(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeyEscape:
		u.dismiss()
	case fyne.KeyReturn, fyne.KeyEnter:
		u.accept()
	default:
		return false
	}
	return true
}

// keyed is what hands on keys that it has no use for.
type keyed interface {
	handOn(keys func(*fyne.KeyEvent) bool)
}

// listen makes all that can have the keyboard in a dialog hand its keys on.
func (u *frame) listen(o fyne.CanvasObject) {
	if k, ok := o.(keyed); ok {
		k.handOn(u.boxKey)
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

// reply is one of the answers that a question can be given.
type reply struct {
	text string
	then func() // nil: nothing
}

// question is a dialog of a few words.
type question struct {
	title, words string
	answers      []reply // the last is marked
	closed       func()  // it was closed without an answer; may be nil
}

// inquire asks a question.
func (u *frame) inquire(q question) *box {
	words := wrapped(q.words)
	answered := false
	var b *box
	var buttons []*dialogButton
	for _, a := range q.answers {
		buttons = append(buttons, newDialogButton(a.text, func() {
			answered = true
			b.Hide()
			if a.then != nil {
				fyne.Do(a.then) // once the key is let go of: it would be typed into the next dialog
			}
		}))
	}
	b = u.newBox(q.title, container.NewVScroll(words), buttons...)
	b.SetOnClosed(func() {
		if !answered && q.closed != nil {
			q.closed()
		}
	})
	s, k := u.window.Canvas().Size(), u.look.scale
	width := min(560*k, s.Width-40)
	words.Resize(fyne.NewSize(width-40, 0)) // words are wrapped to the width first
	b.Resize(fyne.NewSize(width, min(words.MinSize().Height+130*k, s.Height-40)))
	u.showBox(b)
	return b
}

// confirm does something after asking whether it is meant.
func (u *frame) confirm(title, words, yesText string, yes func()) {
	u.inquire(question{title: title, words: words, answers: []reply{{tr("Cancel"), nil}, {yesText, yes}}})
}

// tell shows what went wrong.
func (u *frame) tell(err error) {
	u.inquire(question{title: tr("That did not work"), words: inFull(err), answers: []reply{{tr("Close"), nil}}})
}

// inform shows something to be read.
func (u *frame) inform(title string, content fyne.CanvasObject) {
	text := newReader(content, u.key)
	b := u.newBox(title, text, u.closing(tr("Close")))
	s, k := u.window.Canvas().Size(), u.look.scale
	b.Resize(fyne.NewSize(min(760*k, s.Width-40), min(600*k, s.Height-40)))
	u.showBox(b)
	u.window.Canvas().Focus(text)
}

// askFor asks for something to be typed or chosen. accept is told once it is, with the
// dialog gone.
func (u *frame) askFor(title, yesText string, content fyne.CanvasObject, size fyne.Size, accept func()) *box {
	var b *box
	yes := newDialogButton(yesText, func() {
		b.Hide()
		fyne.Do(accept) // once the key is let go of: it would be typed into the next dialog
	})
	scroll := container.NewVScroll(content)
	b = u.newBox(title, scroll, u.closing(tr("Cancel")), yes)
	s := u.window.Canvas().Size()
	b.Resize(fyne.NewSize(min(size.Width, s.Width-40), min(size.Height, s.Height-40)))
	u.showBox(b, scroll)
	return b
}

// askName asks for a name.
func (u *frame) askName(title, suggest string, then func(name string)) {
	entry := newDialogEntry()
	entry.SetText(suggest)
	accept := func() {
		name := strings.Join(strings.Fields(entry.Text), " ")
		if name == "" {
			u.tell(errors.New(tr("It needs a name.")))
			return
		}
		then(name)
	}
	u.askFor(title, tr("Save"), container.NewVBox(widget.NewLabel(tr("Name")), entry), fyne.NewSize(560*u.look.scale, 180*u.look.scale), accept)
	u.window.Canvas().Focus(entry)
}
