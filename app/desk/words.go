package desk

import (
	"pinphase.org/pinphase/app/kit"
)

// The texts of the window, under short names.
var (
	number = kit.Number
	say    = kit.Say
	told   = kit.Told
	tr     = kit.Tr
	voice  = kit.Voice
	with   = kit.With
)
