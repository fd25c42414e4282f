package samples

import (
	"errors"
	"io"

	"pinphase.org/pinphase/timing/phrase"
)

// words cuts a text at blanks and counts its lines.
type words struct {
	in     io.Reader
	buf    []byte
	at, to int // the unread part of buf
	ended  error
	line   int
}

// newWords reads words up to half as long as what is held of the text.
func newWords(in io.Reader, held int) words { return words{in: in, buf: make([]byte, held), line: 1} }

// next returns the next word, of one character at least; it holds until the next is read.
// It is [io.EOF] after the last.
func (w *words) next() ([]byte, error) {
	for {
		for w.at < w.to && w.buf[w.at] <= ' ' {
			if w.buf[w.at] == '\n' {
				w.line++
			}
			w.at++
		}
		for i := w.at; i < w.to; i++ {
			if w.buf[i] <= ' ' {
				word := w.buf[w.at:i]
				w.at = i
				return word, nil
			}
		}
		if w.to-w.at > len(w.buf)/2 {
			return nil, phrase.Errorf("line %d is longer than %d characters: %v", w.line, len(w.buf)/2, ErrBinary)
		}
		if w.ended != nil {
			if word := w.buf[w.at:w.to]; len(word) > 0 && errors.Is(w.ended, io.EOF) {
				w.at = w.to
				return word, nil
			}
			return nil, w.ended
		}
		w.fill()
	}
}

// fill reads more of the text behind what is unread.
func (w *words) fill() {
	w.to = copy(w.buf, w.buf[w.at:w.to])
	w.at = 0
	n := 0
	if n, w.ended = w.in.Read(w.buf[w.to:]); n > 0 {
		w.to += n
	}
}

// ahead is the text that follows, as much as is held at a time.
func (w *words) ahead() []byte {
	for w.ended == nil && (w.at > 0 || w.to < len(w.buf)) {
		w.fill()
	}
	return w.buf[w.at:w.to]
}
