package app

import (
	"errors"
	"io/fs"
	"path/filepath"
	"time"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/lesson/plan"
)

// jobFile is what came of reading a job file.
type jobFile struct {
	desk.JobFile
	path string
	err  error
}

func readJob(path string) jobFile {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	f, err := desk.ReadJobFile(path)
	return jobFile{f, path, err}
}

// openFile opens a job file, or says what is wrong with it and keeps the job
// that is open. What is changed in that meanwhile is asked about.
func (u *ui) openFile(path string) {
	was := u.Session.Job()
	u.Opening.Start(path, func() func() {
		f := readJob(path)
		return func() {
			if u.Session.Job().Equal(was) {
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
			u.Prefs.Forget(f.path)
			u.menu.load()
		}
		u.Tell(f.err)
		return
	}
	u.Prefs.Opened(f.path)
	u.Begin(f.Session())
}

// firstWait is how long the window waits to be shown for the job that it is started
// on, so that it does not show another one for a moment.
const firstWait = 150 * time.Millisecond

// openFirst opens what the program was started for and then goes on. A file that
// was open last and is no more is no fault. A lesson goes to its page, beside the job
// that was open last.
func (u *ui) openFirst(name string, then func()) {
	if desk.FileEnding(name) == plan.Ending {
		u.openFirst("", func() {
			then()
			u.takeFile(name)
		})
		return
	}
	path, last := name, name == ""
	if last {
		path = u.Prefs.String(desk.PrefLast)
	}
	if path == "" || !last && name == assets.DemoName {
		then()
		return
	}
	show := func(f jobFile) {
		if last && errors.Is(f.err, fs.ErrNotExist) {
			u.Prefs.Forget(f.path)
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
		u.Opening.Start(path, func() func() {
			f := <-read
			return func() { show(f) }
		})
	}
}
