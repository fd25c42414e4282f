package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// show shows a dialog and remembers it while it is there, so that Escape closes
// it: the toolkit's dialogs do not listen to keys. What is in the dialog is wanted
// where it can be scrolled, so that Tab leads to nothing out of sight.
func (u *ui) show(d dialog.Dialog, scrolled ...fyne.CanvasObject) {
	u.dialogs = append(u.dialogs, openDialog{d, container.NewWithoutLayout(scrolled...)})
	d.SetOnClosed(func() {
		u.dialogs = slices.DeleteFunc(u.dialogs, func(o openDialog) bool { return o.Dialog == d })
	})
	d.Show()
}

// openDialog is a dialog that is shown.
type openDialog struct {
	dialog.Dialog
	content fyne.CanvasObject
}

// dismiss closes the dialog on top, as if its dismissing button had been
// pressed.
func (u *ui) dismiss() {
	if n := len(u.dialogs); n > 0 {
		u.dialogs[n-1].Dismiss()
	}
}

// dialogButton is a button of a dialog, which Escape closes.
type dialogButton struct {
	widget.Button
	escape func()
}

func newDialogButton(text string, tapped, escape func()) *dialogButton {
	b := &dialogButton{escape: escape}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey implements [fyne.Focusable].
func (b *dialogButton) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		b.escape()
		return
	}
	b.Button.TypedKey(k)
}

// dialogEntry is an entry of a dialog, which Escape closes.
type dialogEntry struct {
	widget.Entry
	escape func()
}

func newDialogEntry(escape func()) *dialogEntry {
	e := &dialogEntry{escape: escape}
	e.ExtendBaseWidget(e)
	return e
}

// TypedKey implements [fyne.Focusable].
func (e *dialogEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.escape()
		return
	}
	e.Entry.TypedKey(k)
}

// dialogSelect is a list of a dialog, which Escape closes.
type dialogSelect struct {
	widget.Select
	escape func()
}

func newDialogSelect(ways []string, escape func()) *dialogSelect {
	s := &dialogSelect{escape: escape}
	s.Options = ways
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey implements [fyne.Focusable].
func (s *dialogSelect) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		s.escape()
		return
	}
	s.Select.TypedKey(k)
}
