package app

import (
	"bytes"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/store"
)

// writing is what is being written, on other goroutines.
type writing struct {
	paths []string // in the order in which it began
	rest  func()   // to be done when nothing is being written any more; nil for nothing
}

// slow is how long a file may take before the window says that it is being written.
const slow = time.Second

// output is a file to be written. make and write are called on another goroutine: what
// they need they have been given. done is called on the main goroutine once the file
// is there; without it the window only says what the file could not keep.
type output struct {
	path string
	make func() ([]byte, error)
	done func()
	fail func(error) // in place of telling the error

	after func() // called on the other goroutine after an error
}

// writeOut writes a file, whole or not at all, while the window can be used.
func (u *desk) writeOut(o output) {
	u.writing.paths = append(u.writing.paths, o.path)
	stop := u.watchWriting(o.path)
	files := u.files
	u.background(func() func() {
		data, err := o.make()
		var lost []store.Loss
		if err == nil {
			lost, err = store.Replace(files, o.path, data, 0o666)
		}
		if err != nil && o.after != nil {
			o.after()
		}
		return func() {
			stop()
			i := slices.Index(u.writing.paths, o.path)
			u.writing.paths = slices.Delete(u.writing.paths, i, i+1)
			u.loadWriting(false)
			switch {
			case err != nil && o.fail != nil:
				o.fail(err)
			case err != nil:
				u.tellUnwritten(o.path, err)
			case o.done != nil:
				o.done()
			}
			if len(lost) > 0 {
				u.notice.done(writtenWords(o.path) + " " + lossWords(lost))
			}
			if rest := u.writing.rest; rest != nil && len(u.writing.paths) == 0 {
				u.writing.rest = nil
				rest()
			}
		}
	})
}

// writeFile writes what a function makes, which is called on another goroutine.
func (u *desk) writeFile(path string, write func(*bytes.Buffer) error, done func()) {
	u.writeOut(output{path: path, done: done, make: func() ([]byte, error) {
		var b bytes.Buffer
		err := write(&b)
		return b.Bytes(), err
	}})
}

// watchWriting says that a file is being written when it takes long, until stopped.
func (u *desk) watchWriting(path string) (stop func()) {
	if u.inTurn { // nobody waits
		return func() {}
	}
	timer := time.AfterFunc(slow, func() {
		fyne.Do(func() {
			if slices.Contains(u.writing.paths, path) {
				u.loadWriting(true)
			}
		})
	})
	return func() { timer.Stop() }
}

// loadWriting says what is being written, from when on that took long.
func (u *desk) loadWriting(long bool) {
	words := ""
	if n := len(u.writing.paths); n > 0 && (long || u.warnings.of(aboutWriting) != "") {
		words = with("“{{.Name}}” is still being written.", map[string]any{"Name": filepath.Base(u.writing.paths[n-1])})
	}
	u.warnings.set(aboutWriting, words)
}

// tellUnwritten says why a file could not be written.
func (u *desk) tellUnwritten(path string, err error) {
	u.tell(errors.New(with("“{{.Name}}” could not be written to the folder {{.Folder}}: {{.Why}}.",
		map[string]any{"Name": filepath.Base(path), "Folder": filepath.Dir(path), "Why": inFull(reason(err))})))
}

// lossWords say what a file could not keep.
func lossWords(lost []store.Loss) string {
	words := make([]string, len(lost))
	for i, l := range lost {
		words[i] = voice().Phrase(l.Says())
	}
	return strings.Join(words, " ")
}
