package app

import (
	"path/filepath"
	"time"
)

// opening is a file on its way into the window. It is read on another goroutine: a
// disk that is asleep or a network that is gone may keep that waiting for ever,
// and the window goes on meanwhile. Only the file asked for last is of interest.
type opening struct {
	u      *desk
	number int    // of the file asked for last; what comes of another one is dropped
	path   string // "" when nothing is on its way
	told   func() // takes away what says so; nil while nothing does
}

// openingDelay is how long a file may take before the window says that it is on its
// way. Most are there at once.
const openingDelay = 300 * time.Millisecond

// start reads a file and then shows what came of it. read must not touch the window.
func (o *opening) start(path string, read func() (show func())) {
	u := o.u
	o.stop()
	o.path = path
	number := o.number
	u.after(openingDelay, func() {
		if number == o.number {
			o.say()
		}
	})
	u.background(func() func() {
		show := read()
		return func() { o.arrived(number, show) }
	})
}

// say says that a file is on its way.
func (o *opening) say() {
	o.told = o.u.notice.underway(with("Opening “{{.Name}}”…", map[string]any{"Name": filepath.Base(o.path)}), o.stop)
}

// arrived shows what came of a file. What lies over the page is gone first: it
// speaks of the job that is open now, as the question where to save it does.
func (o *opening) arrived(number int, show func()) {
	if number != o.number {
		return
	}
	if o.u.covered() && !o.u.inTurn {
		o.u.after(openingDelay, func() { o.arrived(number, show) })
		return
	}
	o.stop()
	show()
}

// stop lets go of the file on its way: when it comes it is dropped.
func (o *opening) stop() {
	o.number++
	o.path = ""
	if o.told != nil {
		o.told()
		o.told = nil
	}
}
