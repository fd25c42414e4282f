package finding

import "pinphase.org/pinphase/timing/phrase"

// Cautions are shown wherever the program tells someone to turn, crank, open or
// start something. Common practice, no source.
var Cautions = []phrase.Text{
	"Disconnect the battery and turn the engine only by hand while hands are in it.",
	"Fuel under injection pressure pierces the skin: never search for a leak with your hand.",
	"A diesel can run away or kick back: keep an air shut-off at hand.",
	"Loose things near a turning engine are thrown: clear them away. Never run an engine on a hoist.",
	"Hot parts and pressurised coolant: let the engine cool before opening anything.",
	"The manufacturer's service manual, local regulations and the rules of the licensed trade take precedence.",
}
