package app

import (
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/page/cause"
	"pinphase.org/pinphase/app/page/course"
	"pinphase.org/pinphase/app/page/cycle"
	"pinphase.org/pinphase/app/page/gears"
	"pinphase.org/pinphase/app/page/lesson"
	"pinphase.org/pinphase/app/page/light"
	"pinphase.org/pinphase/app/page/part"
	"pinphase.org/pinphase/app/page/practice"
	"pinphase.org/pinphase/app/page/signals"
)

// pageKinds are the pages, in their order. No other place lists them.
var pageKinds = []desk.PageKind{cycle.Kind, part.Kind, light.Kind, signals.Kind, cause.Kind, gears.Kind, course.Kind, practice.Kind, lesson.Kind}
