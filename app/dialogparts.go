package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// dialogButton is a button that hands on its keys, and that Enter presses in a dialog.
type dialogButton struct {
	widget.Button
	keys func(*fyne.KeyEvent) bool // nil outside dialogs
}

func newDialogButton(text string, tapped func()) *dialogButton {
	b := &dialogButton{}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

func (b *dialogButton) handOn(keys func(*fyne.KeyEvent) bool) { b.keys = keys }

// TypedKey implements [fyne.Focusable].
func (b *dialogButton) TypedKey(e *fyne.KeyEvent) {
	switch {
	case b.keys != nil && (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter):
		b.Tapped(nil)
	case b.keys != nil && b.keys(e):
	default:
		b.Button.TypedKey(e)
	}
}

// dialogEntry is an entry that hands on Escape and Enter.
type dialogEntry struct {
	widget.Entry
	keys func(*fyne.KeyEvent) bool
}

func newDialogEntry() *dialogEntry {
	e := &dialogEntry{}
	e.ExtendBaseWidget(e)
	return e
}

func (e *dialogEntry) handOn(keys func(*fyne.KeyEvent) bool) { e.keys = keys }

// TypedKey implements [fyne.Focusable].
func (e *dialogEntry) TypedKey(k *fyne.KeyEvent) {
	if e.keys == nil || !e.keys(k) {
		e.Entry.TypedKey(k)
	}
}

// dialogSelect is a list of words that hands on Escape and Enter.
type dialogSelect struct {
	widget.Select
	keys func(*fyne.KeyEvent) bool
}

func newDialogSelect(ways []string, chose func(string)) *dialogSelect {
	s := &dialogSelect{}
	s.Options, s.OnChanged = ways, chose
	s.ExtendBaseWidget(s)
	return s
}

func (s *dialogSelect) handOn(keys func(*fyne.KeyEvent) bool) { s.keys = keys }

// TypedKey implements [fyne.Focusable].
func (s *dialogSelect) TypedKey(k *fyne.KeyEvent) {
	if s.keys == nil || !s.keys(k) {
		s.Select.TypedKey(k)
	}
}
