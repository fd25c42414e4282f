package course

import (
	"slices"

	"pinphase.org/pinphase/app/desk"
)

// What of the course is kept between starts.
const (
	prefDone  = "course.done" // names of steps
	prefAt    = "course.at"   // of the step shown last
	prefSplit = "split.course"
	prefTwo   = "split.course_figures"
)

func done(p desk.Prefs, name string) bool { return slices.Contains(p.StringList(prefDone), name) }

func setDone(p desk.Prefs, name string) {
	if !done(p, name) {
		p.SetStringList(prefDone, append(slices.Clone(p.StringList(prefDone)), name))
	}
}
