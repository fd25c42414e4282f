package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/widgets"
)

// DialogButton is a button that hands on its keys, and that Enter presses in a dialog.
type DialogButton struct {
	widget.Button
	keys func(*fyne.KeyEvent) bool // nil outside dialogs
}

func NewDialogButton(text string, tapped func()) *DialogButton {
	b := &DialogButton{}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

func (b *DialogButton) HandOn(keys func(*fyne.KeyEvent) bool) { b.keys = keys }

// TypedKey implements [fyne.Focusable].
func (b *DialogButton) TypedKey(e *fyne.KeyEvent) {
	switch {
	case b.keys != nil && (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter):
		b.Tapped(nil)
	case b.keys != nil && b.keys(e):
	default:
		b.Button.TypedKey(e)
	}
}

// DialogEntry is an entry that hands on Escape and Enter.
type DialogEntry struct {
	widget.Entry
	Keys func(*fyne.KeyEvent) bool
}

func NewDialogEntry() *DialogEntry {
	e := &DialogEntry{}
	e.ExtendBaseWidget(e)
	return e
}

func (e *DialogEntry) HandOn(keys func(*fyne.KeyEvent) bool) { e.Keys = keys }

// TypedKey implements [fyne.Focusable].
func (e *DialogEntry) TypedKey(k *fyne.KeyEvent) {
	if e.Keys == nil || !e.Keys(k) {
		e.Entry.TypedKey(k)
	}
}

// TypedShortcut implements [fyne.Shortcutable]: no more is pasted than can be edited.
func (e *DialogEntry) TypedShortcut(s fyne.Shortcut) {
	s, _ = widgets.Bounded(&e.Entry, s)
	e.Entry.TypedShortcut(s)
}

// DialogSelect is a list of words that hands on Escape and Enter.
type DialogSelect struct {
	widget.Select
	keys func(*fyne.KeyEvent) bool
}

func NewDialogSelect(ways []string, chose func(string)) *DialogSelect {
	s := &DialogSelect{}
	s.Options, s.OnChanged = ways, chose
	s.ExtendBaseWidget(s)
	return s
}

func (s *DialogSelect) HandOn(keys func(*fyne.KeyEvent) bool) { s.keys = keys }

// TypedKey implements [fyne.Focusable].
func (s *DialogSelect) TypedKey(k *fyne.KeyEvent) {
	if s.keys == nil || !s.keys(k) {
		s.Select.TypedKey(k)
	}
}
