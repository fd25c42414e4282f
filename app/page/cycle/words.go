package cycle

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	amount = kit.Amount
	lines  = kit.Lines
	number = kit.Number
	say    = kit.Say
	tr     = kit.Tr
	voice  = kit.Voice
	with   = kit.With
)
