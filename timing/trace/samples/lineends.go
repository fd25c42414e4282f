package samples

import (
	"bytes"
	"io"
)

// lineEnds makes line feeds of the carriage returns of a text that has no others.
type lineEnds struct{ r io.Reader }

func (l lineEnds) Read(p []byte) (int, error) {
	n, err := l.r.Read(p)
	for i, c := range p[:n] {
		if c == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}

// onlyReturns tells whether lines end with carriage returns alone.
func onlyReturns(head []byte) bool {
	return bytes.IndexByte(head, '\r') >= 0 && bytes.IndexByte(head, '\n') < 0
}
