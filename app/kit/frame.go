package kit

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Frame is one of the toolkit's windows, with what all that is shown in it shares: the
// look, tips, dialogs, the notice along the bottom, and work on other goroutines.
type Frame struct {
	App       fyne.App
	Window    fyne.Window
	Root      fyne.CanvasObject // all of the window below the menu
	Look      *Look
	Restyling bool // the look is being changed: see [Once]
	Tips      *tips
	Notice    *notice
	Dialogs   []*Box // shown so far, the last on top; see [Frame.ShowBox]

	OtherKey func(*fyne.KeyEvent) // gets the keys that nothing else wanted

	InTurn bool                            // nothing is done on another goroutine, as in tests
	Beside func(work func() (show func())) // in place of [Frame.Background]; nil but in tests
}

// Key acts on a key that nothing else wanted.
func (u *Frame) Key(e *fyne.KeyEvent) { u.OtherKey(e) }

// Covered tells whether a dialog or a menu lies over the page; keys are then
// meant for it.
func (u *Frame) Covered() bool { return u.Window.Canvas().Overlays().Top() != nil }

// Background works on another goroutine and then shows the result on the main one.
// What work needs it must be given; it must not touch the window.
func (u *Frame) Background(work func() (show func())) {
	if u.Beside != nil {
		u.Beside(work)
		return
	}
	if u.InTurn { // tests have no main goroutine to come back to
		work()()
		return
	}
	go func() {
		show := work()
		fyne.Do(show)
	}()
}

// After calls a function on the main goroutine when some time has passed; never in
// tests that do everything in turn.
func (u *Frame) After(d time.Duration, do func()) {
	if u.InTurn {
		return
	}
	time.AfterFunc(d, func() { fyne.Do(do) })
}

func Ctrl(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
}

func CtrlShift(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
}
