package desk

import (
	"context"
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
)

// keeping keeps the open job against a crash, on another goroutine.
type keeping struct {
	Keeper *kit.Latest[keepNow]
	Held   []*Leftover // of the session taken back: removed once that is kept anew
	Of     *Session    // that session
	again  *time.Timer // tries once more after a failure; nil for none
}

// retryKeeping is how long after a failure it is tried again though nothing changed.
const retryKeeping = 10 * time.Second

// keepNow is a session to be kept as it was when this was made.
type keepNow struct {
	of *Session
	to *Recovery
	Snapshot
}

// KeepIn begins to keep the open job in a place for this run's snapshots. Without one
// the program works all the same, and says so.
func (u *Desk) KeepIn(r *Recovery, err error) {
	u.Keeping.Keeper.CallOff()
	u.Recovery = r
	if r == nil {
		u.warnUnkept(err)
		return
	}
	u.Keep()
}

// NewKeeper writes snapshots, the newest only.
func NewKeeper(u *Desk) *kit.Latest[keepNow] {
	return kit.NewLatest(&u.InTurn, func(_ context.Context, k keepNow) func() {
		err := k.to.Keep(k.Snapshot)
		return func() { u.kept(k.of, err) }
	})
}

// Keep hands over the present state to be kept.
func (u *Desk) Keep() {
	if u.Recovery != nil && !u.Leaving {
		u.Keeping.Keeper.Give(keepNow{u.Session, u.Recovery, u.Session.Snapshot()})
	}
}

// kept says that a session's state was kept, or why it was not, and then tries again
// after a while.
func (u *Desk) kept(of *Session, err error) {
	k := &u.Keeping
	u.warnUnkept(err)
	switch {
	case err != nil && k.again == nil && !u.InTurn:
		k.again = time.AfterFunc(retryKeeping, func() {
			fyne.Do(func() {
				k.again = nil
				u.Keep()
			})
		})
	case err == nil && k.Of == of && len(k.Held) > 0:
		held := k.Held
		k.Held, k.Of = nil, nil
		u.Background(func() func() {
			err := DiscardAll(held)
			return func() { u.Logged("a job that was taken back is still kept", err) }
		})
	}
}

// warnUnkept says why the open job cannot be kept against a crash; nil ends that.
func (u *Desk) warnUnkept(err error) {
	words := ""
	if err != nil {
		words = with("Unsaved changes cannot be kept in case the program ends unexpectedly: {{.Why}}. Save the job yourself.",
			map[string]any{"Why": kit.InFull(kit.Reason(err))})
	}
	u.Warnings.Set(kit.AboutSnapshot, words)
}

// WarnUnchosen says why choices cannot be kept; nil ends that.
func (u *Desk) WarnUnchosen(err error) {
	words := ""
	if err != nil {
		words = with("Settings cannot be kept for the next start: {{.Why}}.", map[string]any{"Why": kit.InFull(kit.Reason(err))})
	}
	u.Warnings.Set(kit.AboutChoices, words)
}

func (u *Desk) Logged(what string, err error) {
	if err != nil {
		fyne.LogError(what, err)
	}
}

func DiscardAll(list []*Leftover) (err error) {
	for _, l := range list {
		err = errors.Join(err, l.Discard())
	}
	return err
}
