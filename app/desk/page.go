package desk

import (
	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// Page is one view of the open job, below the head that all pages share. It may
// implement [KeyPage], [Stripped], [Shower], [Turner], [Drawer], [Taker], [Stopper], [Leaver],
// [Former], [Guided] too.
type Page interface {
	Body() fyne.CanvasObject
	Load()     // the job has changed, or the page is shown again
	Moved()    // the crank has moved
	Remember() // where dividers stand
	End()      // the window is about to close: what is being worked out is given up
}

// PageKind is what is known of a page before it is built, which it is when it is first
// shown.
type PageKind struct {
	Name    string                         // by which it is opened
	Title   phrase.Text                    // in English
	Figures []string                       // those of chart.Names that it draws; the first is at hand while it is shown
	Takes   []string                       // endings of the files that it takes, in small letters
	Holds   func(d *Desk, key string) bool // whether the field of a key is on it; nil: none is
	Actions []PageAction
	Build   func(d *Desk, old Page) Page // old is the page before the window was built anew, nil for none
}

// PageAction is something of a page's that stands in the File menu.
type PageAction struct {
	Title    phrase.Text // in English
	Opens    bool        // it opens something, and stands beside the others that do
	Shortcut fyne.Shortcut
	Do       func(p Page)
}

// KeyPage acts on keys that nothing else wanted.
type KeyPage interface{ Key(*fyne.KeyEvent) bool }

// Stripped has a strip of its own that moves the crank.
type Stripped interface{ Strip() *Transport }

// Shower gives the keyboard to the field of a key that it holds.
type Shower interface{ ShowField(key string) }

// Turner shows what is called so on it.
type Turner interface{ TurnTo(at string) }

// Guided has parts that the tour points at.
type Guided interface {
	TourPart(name string) fyne.CanvasObject
}

// Drawer draws one of its figures as it stands on the screen.
type Drawer interface {
	Drawn(name string, box figure.Box) (figure.Drawing, error)
}

// Taker takes a file of one of the endings.
type Taker interface{ Take(path string) }

// Stopper is doing something that Escape calls off.
type Stopper interface{ CallOff() }

// Leaver lets go of what belongs to the job before another is opened.
type Leaver interface{ Leave() }

// Former has the job's form, which can be hidden.
type Former interface {
	ShowForm(on bool)
	FormShown() bool
}
