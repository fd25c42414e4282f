package app

import (
	"errors"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
)

// offer asks, one after the other, about jobs that were open when the program
// was killed, until one is taken back: the others wait for the next start, as do all
// when the question is closed without an answer.
func (u *ui) offer(left []*desk.Leftover) {
	if len(left) == 0 {
		return
	}
	l := left[0]
	wait := func(list []*desk.Leftover) {
		for _, other := range list {
			other.Leave()
		}
	}
	u.Inquire(kit.Question{
		Title: tr("Restore unsaved job?"),
		Words: offerWords(l),
		Answers: []kit.Reply{
			{Text: tr("Discard"), Then: func() {
				u.Background(func() func() {
					err := l.Discard()
					return func() { u.Logged("a job that was thrown away is still kept", err) }
				})
				u.offer(left[1:])
			}},
			{Text: tr("Restore"), Then: func() {
				s, err := l.Session()
				if err != nil {
					l.Leave()
					u.Tell(err)
					return
				}
				u.Keeping.Held, u.Keeping.Of = append(u.Keeping.Held, l), s
				u.Begin(s)
				wait(left[1:])
			}},
		},
		Closed: func() { wait(left) },
	})
}

// offerWords say what the job is, where it belongs, when it was last changed, and which
// of the two is newer.
func offerWords(l *desk.Leftover) string {
	data := map[string]any{"Name": l.Name(), "Kept": moment(l.Changed)}
	if l.Path == "" {
		return with("“{{.Name}}” was not saved when the program ended. It has no file yet. Its last change, of {{.Kept}}, was kept.", data)
	}
	data["File"] = l.Path
	if l.Saved.IsZero() {
		return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. Its file {{.File}} cannot be found now.", data)
	}
	data["Saved"] = moment(l.Saved)
	if l.Saved.After(l.Changed) {
		return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. Its file {{.File}} is newer: it was written {{.Saved}}.", data)
	}
	return with("“{{.Name}}” was not saved when the program ended. Its last change, of {{.Kept}}, was kept. That is newer than its file {{.File}}, which was written {{.Saved}}.", data)
}

// moment writes a day and the time of day.
func moment(t time.Time) string { return voice().Date(t) + ", " + t.Format("15:04:05") }

// quit ends the program, after asking about unsaved changes and files that are still
// being written.
func (u *ui) quit() {
	if u.Leaving {
		return
	}
	if n := len(u.Writing.Paths); n > 0 {
		u.waitForWriting(u.Writing.Paths[n-1])
		return
	}
	u.sure(u.Leave)
}

// waitForWriting ends the program when all files are written, unless the user thinks
// better of it or does not want to wait.
func (u *ui) waitForWriting(path string) {
	if u.Writing.Rest != nil { // it is asked already
		return
	}
	b := u.Inquire(kit.Question{
		Title: tr("Still writing"),
		Words: with("“{{.Name}}” is still being written. The program ends when that is done.", map[string]any{"Name": filepath.Base(path)}),
		Answers: []kit.Reply{
			{Text: tr("Quit without waiting"), Then: u.Leave},
			{Text: tr("Keep working"), Then: func() { u.Writing.Rest = nil }},
		},
		Closed: func() { u.Writing.Rest = nil },
	})
	u.Writing.Rest = func() {
		b.Hide()
		u.quit()
	}
}

// mostWait is how long the program waits at its end for what is being written.
const mostWait = 5 * time.Second

// Leave ends the program: what is chosen is kept, and the snapshot goes, for the
// program ends of its own will.
func (u *ui) Leave() {
	for _, p := range u.pages.built {
		p.End()
	}
	u.rememberLayout()
	u.Leaving = true
	u.Keeping.Keeper.End()
	work := func() {
		u.Keeping.Keeper.Settle()
		for _, settle := range u.Settles {
			settle()
		}
		var err error
		if u.Recovery != nil {
			err = u.Recovery.End()
		}
		err = errors.Join(err, desk.DiscardAll(u.Keeping.Held))
		u.Prefs.Settle()
		u.TidyAll()
		u.Logged("the open job is still kept against a crash", err)
	}
	closing := func() {
		u.Window.SetCloseIntercept(nil)
		u.Window.Close()
	}
	if u.InTurn {
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
	if size := u.Window.Canvas().Size(); !u.Window.FullScreen() && size.Width > 0 {
		u.Prefs.SetFloat(desk.PrefWidth, float64(size.Width))
		u.Prefs.SetFloat(desk.PrefHeight, float64(size.Height))
	}
	u.pages.remember()
}
