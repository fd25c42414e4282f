package widgets

import (
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Bounded returns a shortcut that puts no more into an entry than it can show in time
// ([mostShown]), and whether that is less than was to be pasted. Every other shortcut
// stays as it is.
func Bounded(e *widget.Entry, s fyne.Shortcut) (bounded fyne.Shortcut, cut bool) {
	paste, ok := s.(*fyne.ShortcutPaste)
	if !ok {
		return s, false
	}
	room := max(0, mostShown-len(e.Text)+len(e.SelectedText()))
	text := paste.Clipboard.Content()
	if len(text) <= room {
		return s, false
	}
	for room > 0 && !utf8.RuneStart(text[room]) {
		room--
	}
	return &fyne.ShortcutPaste{Clipboard: held(text[:room])}, true
}

// held is a clipboard that holds a text.
type held string

// Content implements [fyne.Clipboard].
func (h held) Content() string { return string(h) }

// SetContent implements [fyne.Clipboard].
func (held) SetContent(string) {}
