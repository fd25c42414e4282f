package desk

import (
	"bytes"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/store"
)

// writing is what is being written, on other goroutines.
type writing struct {
	Paths []string // in the order in which it began
	Rest  func()   // to be done when nothing is being written any more; nil for nothing
}

// slow is how long a file may take before the window says that it is being written.
const slow = time.Second

// Output is a file to be written. make and write are called on another goroutine: what
// they need they have been given. done is called on the main goroutine once the file
// is there; without it the window only says what the file could not keep.
type Output struct {
	Path string
	Make func() ([]byte, error)
	Done func()
	Fail func(error) // in place of telling the error

	After func() // called on the other goroutine after an error
}

// WriteOut writes a file, whole or not at all, while the window can be used.
func (u *Desk) WriteOut(o Output) {
	u.Writing.Paths = append(u.Writing.Paths, o.Path)
	stop := u.watchWriting(o.Path)
	files := u.Files
	u.Background(func() func() {
		data, err := o.Make()
		var lost []store.Loss
		if err == nil {
			lost, err = store.Replace(files, o.Path, data, 0o666)
		}
		if err != nil && o.After != nil {
			o.After()
		}
		return func() {
			stop()
			i := slices.Index(u.Writing.Paths, o.Path)
			u.Writing.Paths = slices.Delete(u.Writing.Paths, i, i+1)
			u.loadWriting(false)
			switch {
			case err != nil && o.Fail != nil:
				o.Fail(err)
			case err != nil:
				u.TellUnwritten(o.Path, err)
			case o.Done != nil:
				o.Done()
			}
			if len(lost) > 0 {
				u.Notice.Done(writtenWords(o.Path) + " " + lossWords(lost))
			}
			if rest := u.Writing.Rest; rest != nil && len(u.Writing.Paths) == 0 {
				u.Writing.Rest = nil
				rest()
			}
		}
	})
}

// WriteFile writes what a function makes, which is called on another goroutine.
func (u *Desk) WriteFile(path string, write func(*bytes.Buffer) error, done func()) {
	u.WriteOut(Output{Path: path, Done: done, Make: func() ([]byte, error) {
		var b bytes.Buffer
		err := write(&b)
		return b.Bytes(), err
	}})
}

// watchWriting says that a file is being written when it takes long, until stopped.
func (u *Desk) watchWriting(path string) (stop func()) {
	if u.InTurn { // nobody waits
		return func() {}
	}
	timer := time.AfterFunc(slow, func() {
		fyne.Do(func() {
			if slices.Contains(u.Writing.Paths, path) {
				u.loadWriting(true)
			}
		})
	})
	return func() { timer.Stop() }
}

// loadWriting says what is being written, from when on that took long.
func (u *Desk) loadWriting(long bool) {
	words := ""
	if n := len(u.Writing.Paths); n > 0 && (long || u.Warnings.Of(kit.AboutWriting) != "") {
		words = with("“{{.Name}}” is still being written.", map[string]any{"Name": filepath.Base(u.Writing.Paths[n-1])})
	}
	u.Warnings.Set(kit.AboutWriting, words)
}

// TellUnwritten says why a file could not be written.
func (u *Desk) TellUnwritten(path string, err error) {
	u.Tell(errors.New(with("“{{.Name}}” could not be written to the folder {{.Folder}}: {{.Why}}.",
		map[string]any{"Name": filepath.Base(path), "Folder": filepath.Dir(path), "Why": kit.InFull(kit.Reason(err))})))
}

// lossWords say what a file could not keep.
func lossWords(lost []store.Loss) string {
	words := make([]string, len(lost))
	for i, l := range lost {
		words[i] = voice().Say(l.Says())
	}
	return strings.Join(words, " ")
}
