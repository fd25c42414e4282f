package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// frame is one of the toolkit's windows, with what all that is shown in it shares: the
// look, tips, dialogs, the notice along the bottom, and work on other goroutines.
type frame struct {
	app       fyne.App
	window    fyne.Window
	root      fyne.CanvasObject // all of the window below the menu
	look      *look
	restyling bool // the look is being changed: see [once]
	tips      *tips
	notice    *notice
	dialogs   []*box // shown so far, the last on top; see [frame.showBox]

	otherKey func(*fyne.KeyEvent) // gets the keys that nothing else wanted

	inTurn bool                            // nothing is done on another goroutine, as in tests
	beside func(work func() (show func())) // in place of [frame.background]; nil but in tests
}

// key acts on a key that nothing else wanted.
func (u *frame) key(e *fyne.KeyEvent) { u.otherKey(e) }

// covered tells whether a dialog or a menu lies over the page; keys are then
// meant for it.
func (u *frame) covered() bool { return u.window.Canvas().Overlays().Top() != nil }

// background works on another goroutine and then shows the result on the main one.
// What work needs it must be given; it must not touch the window.
func (u *frame) background(work func() (show func())) {
	if u.beside != nil {
		u.beside(work)
		return
	}
	if u.inTurn { // tests have no main goroutine to come back to
		work()()
		return
	}
	go func() {
		show := work()
		fyne.Do(show)
	}()
}

// after calls a function on the main goroutine when some time has passed; never in
// tests that do everything in turn.
func (u *frame) after(d time.Duration, do func()) {
	if u.inTurn {
		return
	}
	time.AfterFunc(d, func() { fyne.Do(do) })
}

func ctrl(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
}

func ctrlShift(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
}
