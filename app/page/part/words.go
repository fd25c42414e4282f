package part

import "pinphase.org/pinphase/app/kit"

// The texts of the window, under short names.
var (
	amount = kit.Amount
	number = kit.Number
	say    = kit.Say
	tr     = kit.Tr
	upper  = kit.Upper
	voice  = kit.Voice
	with   = kit.With
)
