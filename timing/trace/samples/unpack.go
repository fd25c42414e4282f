package samples

import (
	"errors"
	"io"

	"pinphase.org/pinphase/timing/phrase"
)

// counting counts the bytes that are read from the file itself, for progress.
type counting struct {
	r io.Reader
	n int64
}

func (c *counting) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// A packed recording of scopes and loggers is a fifth to a twentieth of its text,
// one of nothing but the same row a thousandth at the least. What unpacks to more
// than maxUnpacked bytes and more than maxRatio times what was read of it would keep
// the reader busy for hours for a file of no size.
const (
	maxUnpacked = 64 << 20
	maxRatio    = 200
)

// unpacking counts what comes out of a packed file and stops where that is more
// than a recording can be.
type unpacking struct {
	z      io.Reader
	packed *counting
	n      int64
}

func (u *unpacking) Read(p []byte) (int, error) {
	if u.n > maxUnpacked && u.n > maxRatio*u.packed.n {
		return 0, ErrBomb
	}
	n, err := u.z.Read(p)
	u.n += int64(n)
	if err != nil && !errors.Is(err, io.EOF) {
		if errors.Is(err, io.ErrUnexpectedEOF) {
			return n, phrase.Errorf("the packed file was cut off: %v", err)
		}
		return n, phrase.Errorf("unpacking: %v", err)
	}
	return n, err
}
