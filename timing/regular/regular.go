// Package regular opens files that somebody named: ordinary files, and nothing
// that might make the reader wait for ever or never come to an end, such as a
// pipe, a device, a socket or a folder.
package regular

import (
	"errors"
	"os"

	"pinphase.org/pinphase/timing/phrase"
)

// ErrNotFile is what an error wraps when there is something of the name but no
// ordinary file.
var ErrNotFile = errors.New("is not a file")

// notFile is the message for it, which names the path once.
type notFile struct{ error }

func (e notFile) Unwrap() []error { return []error{e.error, ErrNotFile} }

// Open opens an ordinary file, or a link to one, for reading. Of anything else of
// the name the error reads "PATH: is not a file" and is [ErrNotFile]; a file that
// cannot be opened gives the error of [os.Open].
//
// A pipe without a writer does not hold Open up, and a device is not touched. A
// file system that does not answer, as of a network that is gone, does hold it up:
// whoever must not wait calls it from a goroutine.
func Open(path string) (*os.File, error) {
	// Looked at first: some devices act when they are opened.
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return nil, told(path)
	}
	f, err := os.OpenFile(path, os.O_RDONLY|withoutWaiting, 0)
	if errors.Is(err, inUse) {
		// An ordinary file that another program holds a lease on, which gives it
		// up when it hears of this: fcntl(2), F_SETLEASE. A pipe never says so.
		f, err = os.Open(path)
	}
	if err != nil {
		return nil, err
	}
	// Looked at again: it may have become another in between.
	st, err := f.Stat()
	if err == nil && !st.Mode().IsRegular() {
		err = told(path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

func told(path string) error { return notFile{phrase.Errorf("%s: is not a file", path)} }
