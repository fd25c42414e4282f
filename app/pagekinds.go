package app

import (
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/page/gears"
)

// pageKinds are the pages, in their order. No other place lists them.
var pageKinds = []desk.PageKind{cycleKind, partKind, lightKind, signalsKind, causeKind, gears.Kind, practiceKind}
