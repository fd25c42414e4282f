package lesson

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	number = kit.Number
	say    = kit.Say
	tr     = kit.Tr
	with   = kit.With
)
