package cause

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	lines  = kit.Lines
	number = kit.Number
	say    = kit.Say
	tr     = kit.Tr
	upper  = kit.Upper
	voice  = kit.Voice
	with   = kit.With
)
