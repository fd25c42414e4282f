package app

import (
	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/figure"
)

// page is one view of the open job, below the head that all pages share. It may
// implement [keyPage], [stripped], [shower], [turner], [drawer], [taker], [stopper], [leaver],
// [former], [guided] too.
type page interface {
	body() fyne.CanvasObject
	load()     // the job has changed, or the page is shown again
	moved()    // the crank has moved
	remember() // where dividers stand
	end()      // the window is about to close: what is being worked out is given up
}

// pageKind is what is known of a page before it is built, which it is when it is first
// shown.
type pageKind struct {
	name    string                         // by which it is opened
	title   string                         // in English
	figures []string                       // those of plate.Names that it draws; the first is at hand while it is shown
	takes   []string                       // endings of the files that it takes, in small letters
	holds   func(d *desk, key string) bool // whether the field of a key is on it; nil: none is
	actions []pageAction
	build   func(d *desk, old page) page // old is the page before the window was built anew, nil for none
}

// pageAction is something of a page's that stands in the File menu.
type pageAction struct {
	title    string // in English
	opens    bool   // it opens something, and stands beside the others that do
	shortcut fyne.Shortcut
	do       func(p page)
}

// keyPage acts on keys that nothing else wanted.
type keyPage interface{ key(*fyne.KeyEvent) bool }

// stripped has a strip of its own that moves the crank.
type stripped interface{ strip() *transport }

// shower gives the keyboard to the field of a key that it holds.
type shower interface{ showField(key string) }

// turner shows what is called so on it.
type turner interface{ turnTo(at string) }

// guided has parts that the tour points at.
type guided interface {
	tourPart(name string) fyne.CanvasObject
}

// drawer draws one of its figures as it stands on the screen.
type drawer interface {
	drawn(name string, box figure.Box) (figure.Drawing, error)
}

// taker takes a file of one of the endings.
type taker interface{ take(path string) }

// stopper is doing something that Escape calls off.
type stopper interface{ callOff() }

// leaver lets go of what belongs to the job before another is opened.
type leaver interface{ leave() }

// former has the job's form, which can be hidden.
type former interface {
	showForm(on bool)
	formShown() bool
}
