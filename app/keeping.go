package app

import (
	"context"
	"errors"
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
