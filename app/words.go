package app

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	joined = kit.Joined
	lines  = kit.Lines
	number = kit.Number
	say    = kit.Say
	told   = kit.Told
	tr     = kit.Tr
	voice  = kit.Voice
	with   = kit.With
)
