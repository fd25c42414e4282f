package app

import (
	"pinphase.org/pinphase/app/desk"
)

// pageKinds are the pages, in their order. No other place lists them.
var pageKinds = []desk.PageKind{cycleKind, partKind, lightKind, signalsKind, causeKind, gearsKind, practiceKind}
