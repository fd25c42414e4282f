package app

import (
	"errors"
	"io/fs"
	"path/filepath"
	"time"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// opening is a file on its way into the window. It is read on another goroutine: a
// disk that is asleep or a network that is gone may keep that waiting for ever,
// and the window goes on meanwhile. Only the file asked for last is of interest.
type opening struct {
	u      *desk
	number int    // of the file asked for last; what comes of another one is dropped
	path   string // "" when nothing is on its way
	told   func() // takes away what says so; nil while nothing does
}

// openingDelay is how long a file may take before the window says that it is on its
// way. Most are there at once.
const openingDelay = 300 * time.Millisecond

// start reads a file and then shows what came of it. read must not touch the window.
func (o *opening) start(path string, read func() (show func())) {
	u := o.u
	o.stop()
	o.path = path
	number := o.number
	u.after(openingDelay, func() {
		if number == o.number {
			o.say()
		}
	})
	u.background(func() func() {
		show := read()
		return func() { o.arrived(number, show) }
	})
}

// say says that a file is on its way.
func (o *opening) say() {
	o.told = o.u.notice.underway(with("Opening “{{.Name}}”…", map[string]any{"Name": filepath.Base(o.path)}), o.stop)
}

// arrived shows what came of a file. What lies over the page is gone first: it
// speaks of the job that is open now, as the question where to save it does.
func (o *opening) arrived(number int, show func()) {
	if number != o.number {
		return
	}
	if o.u.covered() && !o.u.inTurn {
		o.u.after(openingDelay, func() { o.arrived(number, show) })
		return
	}
	o.stop()
	show()
}

// stop lets go of the file on its way: when it comes it is dropped.
func (o *opening) stop() {
	o.number++
	o.path = ""
	if o.told != nil {
		o.told()
		o.told = nil
	}
}

// jobFile is what came of reading a job file.
type jobFile struct {
	path string
	doc  *job.Document
	err  error
}

func readJob(path string) jobFile {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	doc, err := job.ReadFile(path)
	return jobFile{path, doc, err}
}

// openFile opens a job file, or says what is wrong with it and keeps the job
// that is open. What is changed in that meanwhile is asked about.
func (u *ui) openFile(path string) {
	was := u.session.Job()
	u.opening.start(path, func() func() {
		f := readJob(path)
		return func() {
			if u.session.Job().Equal(was) {
				u.opened(f)
				return
			}
			u.sure(func() { u.opened(f) })
		}
	})
}

// opened makes a job file that was read the open job.
func (u *ui) opened(f jobFile) {
	if f.err != nil {
		if errors.Is(f.err, fs.ErrNotExist) {
			u.prefs.Forget(f.path)
			u.menu.load()
		}
		u.tell(f.err)
		return
	}
	u.prefs.Opened(f.path)
	u.begin(newSession(f.path, f.doc, f.doc.Bytes()))
}

// firstWait is how long the window waits to be shown for the job that it is started
// on, so that it does not show another one for a moment.
const firstWait = 150 * time.Millisecond

// openFirst opens what the program was started for and then goes on. A file that
// was open last and is no more is no fault.
func (u *ui) openFirst(name string, then func()) {
	path, last := name, name == ""
	if last {
		path = u.prefs.p.String(prefLast)
	}
	if path == "" || !last && name == assets.DemoName {
		then()
		return
	}
	show := func(f jobFile) {
		if last && errors.Is(f.err, fs.ErrNotExist) {
			u.prefs.Forget(f.path)
			u.menu.load()
		} else {
			u.opened(f)
		}
		then()
	}
	read := make(chan jobFile, 1)
	go func() { read <- readJob(path) }()
	select {
	case f := <-read:
		show(f)
	case <-time.After(firstWait):
		u.opening.start(path, func() func() {
			f := <-read
			return func() { show(f) }
		})
	}
}
