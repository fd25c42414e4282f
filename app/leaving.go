package app

import (
	"errors"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
)

// offer asks, one after the other, about jobs that were open when the program
// was killed, until one is taken back: the others wait for the next start, as do all
// when the question is closed without an answer.
func (u *ui) offer(left []*leftover) {
	if len(left) == 0 {
		return
	}
	l := left[0]
	wait := func(list []*leftover) {
		for _, other := range list {
			other.Leave()
		}
	}
	u.inquire(question{
		title: tr("Restore unsaved job?"),
		words: offerWords(l),
		answers: []reply{
			{tr("Discard"), func() {
				u.background(func() func() {
					err := l.Discard()
					return func() { u.logged("a job that was thrown away is still kept", err) }
				})
				u.offer(left[1:])
			}},
			{tr("Restore"), func() {
				s, err := l.Session()
				if err != nil {
					l.Leave()
					u.tell(err)
					return
				}
				u.keeping.held, u.keeping.of = append(u.keeping.held, l), s
				u.begin(s)
				wait(left[1:])
			}},
		},
		closed: func() { wait(left) },
	})
}

// offerWords say what the job is, where it belongs, when it was last changed, and which
// of the two is newer.
func offerWords(l *leftover) string {
	data := map[string]any{"Name": l.Name(), "Kept": moment(l.Changed)}
	if l.Path == "" {
		return with("“{{.Name}}” was not saved when the program ended. It has no file yet. Its last change, of {{.Kept}}, was kept.", data)
	}
	data["File"] = l.Path
	if l.saved.IsZero() {
		return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. Its file {{.File}} cannot be found now.", data)
	}
	data["Saved"] = moment(l.saved)
	if l.saved.After(l.Changed) {
		return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. Its file {{.File}} is newer: it was written {{.Saved}}.", data)
	}
	return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. That is newer than its file {{.File}}, which was written {{.Saved}}.", data)
}

// moment writes a day and the time of day.
func moment(t time.Time) string { return voice().Date(t) + ", " + t.Format("15:04:05") }

// quit ends the program, after asking about unsaved changes and files that are still
// being written.
func (u *ui) quit() {
	if u.leaving {
		return
	}
	if n := len(u.writing.paths); n > 0 {
		u.waitForWriting(u.writing.paths[n-1])
		return
	}
	u.sure(u.leave)
}

// waitForWriting ends the program when all files are written, unless the user thinks
// better of it or does not want to wait.
func (u *ui) waitForWriting(path string) {
	if u.writing.rest != nil { // it is asked already
		return
	}
	b := u.inquire(question{
		title: tr("Still writing"),
		words: with("“{{.Name}}” is still being written. The program ends when that is done.", map[string]any{"Name": filepath.Base(path)}),
		answers: []reply{
			{tr("Quit without waiting"), u.leave},
			{tr("Go on working"), func() { u.writing.rest = nil }},
		},
		closed: func() { u.writing.rest = nil },
	})
	u.writing.rest = func() {
		b.Hide()
		u.quit()
	}
}

// mostWait is how long the program waits at its end for what is being written.
const mostWait = 5 * time.Second

// leave ends the program: what is chosen is kept, and the snapshot goes, for the
// program ends of its own will.
func (u *ui) leave() {
	for _, p := range u.pages.built {
		p.end()
	}
	u.rememberLayout()
	u.leaving = true
	u.keeping.keeper.end()
	work := func() {
		u.keeping.keeper.settle()
		for _, settle := range u.settles {
			settle()
		}
		var err error
		if u.recovery != nil {
			err = u.recovery.End()
		}
		err = errors.Join(err, discardAll(u.keeping.held))
		u.prefs.settle()
		u.logged("the open job is still kept against a crash", err)
	}
	closing := func() {
		u.window.SetCloseIntercept(nil)
		u.window.Close()
	}
	if u.inTurn {
		work()
		closing()
		return
	}
	done := make(chan bool)
	go func() {
		work()
		close(done)
	}()
	go func() {
		select {
		case <-done:
		case <-time.After(mostWait): // the disk does not answer
		}
		fyne.Do(closing)
	}()
}

func (u *ui) rememberLayout() {
	if size := u.window.Canvas().Size(); !u.window.FullScreen() && size.Width > 0 {
		u.prefs.SetFloat(prefWidth, float64(size.Width))
		u.prefs.SetFloat(prefHeight, float64(size.Height))
	}
	u.pages.remember()
}
