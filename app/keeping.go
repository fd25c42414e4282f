package app

import (
	"context"
	"errors"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
)

// keeping keeps the open job against a crash, on another goroutine.
type keeping struct {
	keeper *latest[keepNow]
	held   []*leftover // of the session taken back: removed once that is kept anew
	of     *session    // that session
	again  *time.Timer // tries once more after a failure; nil for none
}

// retryKeeping is how long after a failure it is tried again though nothing changed.
const retryKeeping = 10 * time.Second

// keepNow is a session to be kept as it was when this was made.
type keepNow struct {
	of *session
	to *recovery
	snapshot
}

// keepIn begins to keep the open job in a place for this run's snapshots. Without one
// the program works all the same, and says so.
func (u *desk) keepIn(r *recovery, err error) {
	u.keeping.keeper.callOff()
	u.recovery = r
	if r == nil {
		u.warnUnkept(err)
		return
	}
	u.keep()
}

// newKeeper writes snapshots, the newest only.
func newKeeper(u *desk) *latest[keepNow] {
	return newLatest(&u.inTurn, func(_ context.Context, k keepNow) func() {
		err := k.to.Keep(k.snapshot)
		return func() { u.kept(k.of, err) }
	})
}

// keep hands over the present state to be kept.
func (u *desk) keep() {
	if u.recovery != nil && !u.leaving {
		u.keeping.keeper.give(keepNow{u.session, u.recovery, u.session.snapshot()})
	}
}

// kept says that a session's state was kept, or why it was not, and then tries again
// after a while.
func (u *desk) kept(of *session, err error) {
	k := &u.keeping
	u.warnUnkept(err)
	switch {
	case err != nil && k.again == nil && !u.inTurn:
		k.again = time.AfterFunc(retryKeeping, func() {
			fyne.Do(func() {
				k.again = nil
				u.keep()
			})
		})
	case err == nil && k.of == of && len(k.held) > 0:
		held := k.held
		k.held, k.of = nil, nil
		u.background(func() func() {
			err := discardAll(held)
			return func() { u.logged("a job that was taken back is still kept", err) }
		})
	}
}

// warnUnkept says why the open job cannot be kept against a crash; nil ends that.
func (u *desk) warnUnkept(err error) {
	words := ""
	if err != nil {
		words = with("Unsaved changes cannot be kept in case the program ends unexpectedly: {{.Why}}. Save the job yourself.",
			map[string]any{"Why": inFull(reason(err))})
	}
	u.warnings.set(aboutSnapshot, words)
}

// warnUnchosen says why choices cannot be kept; nil ends that.
func (u *desk) warnUnchosen(err error) {
	words := ""
	if err != nil {
		words = with("Settings cannot be kept for the next start: {{.Why}}.", map[string]any{"Why": inFull(reason(err))})
	}
	u.warnings.set(aboutChoices, words)
}

func (u *desk) logged(what string, err error) {
	if err != nil {
		fyne.LogError(what, err)
	}
}

func discardAll(list []*leftover) (err error) {
	for _, l := range list {
		err = errors.Join(err, l.Discard())
	}
	return err
}

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
		words: l.offer(),
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

// offer says what the job is, where it belongs, when it was last changed, and which
// of the two is newer.
func (l *leftover) offer() string {
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
		u.prefs.p.SetFloat(prefWidth, float64(size.Width))
		u.prefs.p.SetFloat(prefHeight, float64(size.Height))
	}
	u.pages.remember()
}
