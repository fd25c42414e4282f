package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
)

// startRecovery finds a place for this run's snapshots, and what earlier runs
// left there. Without such a place the program works all the same.
func (u *ui) startRecovery(folder string) []*leftover {
	r, left, err := startRecovery(folder)
	if err != nil {
		fyne.LogError("the open job cannot be kept against a crash", err)
	}
	u.recovery = r
	u.keep()
	return left
}

// keep writes the snapshot of the present state.
func (u *ui) keep() {
	if u.recovery == nil {
		return
	}
	if err := u.recovery.Keep(u.session); err != nil {
		fyne.LogError("the open job could not be kept against a crash", err)
	}
}

// offer asks, one after the other, about jobs that were open when the program
// was killed, until one is taken back: the others wait for the next start.
func (u *ui) offer(left []*leftover) {
	if len(left) == 0 {
		return
	}
	l := left[0]
	d := dialog.NewConfirm(
		tr("Take the job back?"),
		with("The program ended before “{{.Name}}” was saved. Its changes were kept.", map[string]any{"Name": l.Name()}),
		func(yes bool) {
			if !yes {
				l.Discard()
				u.offer(left[1:])
				return
			}
			s, err := l.Session()
			if err != nil {
				u.tell(err)
				return
			}
			u.begin(s)
			l.Discard() // begin has kept it anew
			for _, other := range left[1:] {
				other.Leave()
			}
		}, u.window)
	d.SetConfirmText(tr("Take it back"))
	d.SetDismissText(tr("Throw it away"))
	d.Show() // not through u.show: Escape must not throw it away
}

// quit ends the program, after asking about unsaved changes.
func (u *ui) quit() {
	u.sure(func() {
		u.light.end()
		u.cause.end()
		u.recorder.stop()
		u.rememberLayout()
		if u.recovery != nil {
			u.recovery.End()
		}
		u.window.SetCloseIntercept(nil)
		u.window.Close()
	})
}

func (u *ui) rememberLayout() {
	if size := u.window.Canvas().Size(); !u.window.FullScreen() && size.Width > 0 {
		u.prefs.p.SetFloat(prefWidth, float64(size.Width))
		u.prefs.p.SetFloat(prefHeight, float64(size.Height))
	}
	for _, p := range u.pages.list {
		p.remember(u.prefs)
	}
}
