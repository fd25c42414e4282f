package app

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	joined = kit.Joined
	number = kit.Number
	say    = kit.Say
	tr     = kit.Tr
	voice  = kit.Voice
	with   = kit.With
)
