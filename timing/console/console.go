// Package console makes text fit to be shown on a terminal, which obeys what it is
// sent: a control character out of a stranger's file may move the cursor, change the
// title, answer for the user or turn the rest of a line round.
//
// What is obeyed and not shown is written as its code instead, \u001b for escape, the
// way JSON writes it too, so that JSON stays what it says.
//
// # Choices
//
// Nothing that was read gives a terminal orders. All that pincalc says goes
// through console.Writer, which writes control and format characters as their
// codes, JSON too, so that one rule holds for both. Files on standard output are
// not text and go round it, never to a terminal. hostile_test.go tries every
// text of a job, a recording, a name and the command line; a new option is found
// there by itself.
package console

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// obeyed tells whether a terminal, or whatever lays a line out, takes a character
// for an order: the control characters (Unicode's Cc: C0, delete, C1), the format
// characters (Cf: those that set the direction, that join, that have no width) and
// the separators of lines and paragraphs (Zl, Zp). Line feed and tab are among them.
func obeyed(r rune) bool {
	return r >= 0x7f && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || r < ' '
}

// appendCode appends a character's code. Characters beyond the first 65,536 take two,
// as in JSON (RFC 8259, section 7).
func appendCode(b []byte, r rune) []byte {
	if r > 0xffff {
		high, low := utf16.EncodeRune(r)
		return fmt.Appendf(b, `\u%04x\u%04x`, high, low)
	}
	return fmt.Appendf(b, `\u%04x`, r)
}

// appendSafe appends text; what is obeyed as its code but for what stays, bytes that
// are no UTF-8 as \x9b.
func appendSafe(b, text []byte, stays func(rune) bool) []byte {
	for len(text) > 0 {
		r, n := utf8.DecodeRune(text)
		switch {
		case r == utf8.RuneError && n == 1:
			b = fmt.Appendf(b, `\x%02x`, text[0])
		case obeyed(r) && !stays(r):
			b = appendCode(b, r)
		default:
			b = append(b, text[:n]...)
		}
		text = text[n:]
	}
	return b
}

// Line returns a text on one line: what is obeyed is written as its code, line feed
// and tab as \n and \t. It is for what comes from a file, a name or an option and
// goes into a line of our own.
func Line(text string) string {
	if strings.IndexFunc(text, obeyed) < 0 && utf8.ValidString(text) {
		return text
	}
	text = strings.NewReplacer("\n", `\n`, "\t", `\t`).Replace(text)
	return string(appendSafe(nil, []byte(text), func(rune) bool { return false }))
}

// Writer hands text on to a terminal, or to whatever may show it on one. It lets
// through what is shown, line feeds and tabs.
type Writer struct {
	to   io.Writer
	rest []byte // the beginning of a character whose end is still to come
}

// NewWriter returns a writer to another.
func NewWriter(to io.Writer) *Writer { return &Writer{to: to} }

// Write writes text. A character may come in parts. The count is of the bytes taken,
// all of them unless the error says otherwise.
func (w *Writer) Write(text []byte) (int, error) {
	all := append(w.rest, text...)
	whole := len(all)
	for back := 1; back < utf8.UTFMax && back <= len(all); back++ {
		if tail := all[len(all)-back:]; utf8.RuneStart(tail[0]) {
			if !utf8.FullRune(tail) {
				whole -= back
			}
			break
		}
	}
	w.rest = append([]byte(nil), all[whole:]...)
	if _, err := w.to.Write(appendSafe(nil, all[:whole], ours)); err != nil {
		return 0, err
	}
	return len(text), nil
}

func ours(r rune) bool { return r == '\n' || r == '\t' }

// Flush writes what is left of a character that did not come to its end.
func (w *Writer) Flush() error {
	rest := w.rest
	w.rest = nil
	if len(rest) == 0 {
		return nil
	}
	_, err := w.to.Write(appendSafe(nil, rest, ours))
	return err
}
