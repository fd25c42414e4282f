package desk

import (
	"path/filepath"
	"time"
)

// opening is a file on its way into the window. It is read on another goroutine: a
// disk that is asleep or a network that is gone may keep that waiting for ever,
// and the window goes on meanwhile. Only the file asked for last is of interest.
type opening struct {
	u      *Desk
	number int    // of the file asked for last; what comes of another one is dropped
	Path   string // "" when nothing is on its way
	told   func() // takes away what says so; nil while nothing does
}

// openingDelay is how long a file may take before the window says that it is on its
// way. Most are there at once.
const openingDelay = 300 * time.Millisecond

// Start reads a file and then shows what came of it. read must not touch the window.
func (o *opening) Start(path string, read func() (show func())) {
	u := o.u
	o.Stop()
	o.Path = path
	number := o.number
	u.After(openingDelay, func() {
		if number == o.number {
			o.Say()
		}
	})
	u.Background(func() func() {
		show := read()
		return func() { o.arrived(number, show) }
	})
}

// Say says that a file is on its way.
func (o *opening) Say() {
	o.told = o.u.Notice.Underway(with("Opening “{{.Name}}”…", map[string]any{"Name": filepath.Base(o.Path)}), o.Stop)
}

// arrived shows what came of a file. What lies over the page is gone first: it
// speaks of the job that is open now, as the question where to save it does.
func (o *opening) arrived(number int, show func()) {
	if number != o.number {
		return
	}
	if o.u.Covered() && !o.u.InTurn {
		o.u.After(openingDelay, func() { o.arrived(number, show) })
		return
	}
	o.Stop()
	show()
}

// Stop lets go of the file on its way: when it comes it is dropped.
func (o *opening) Stop() {
	o.number++
	o.Path = ""
	if o.told != nil {
		o.told()
		o.told = nil
	}
}
