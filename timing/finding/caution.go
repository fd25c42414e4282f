package finding

import "pinphase.org/pinphase/timing/phrase"

// Cautions are shown wherever the program tells someone to turn, crank, open or
// start something. Common practice, no source.
var Cautions = []phrase.Text{
	"Battery disconnected, and the engine barred over by hand, while hands are in it.",
	"Injection pressure pierces skin: never feel for a leak.",
	"A diesel can run away or kick back: be able to shut its air.",
	"Nothing loose near a turning engine; an engine on a hoist is not on a test stand.",
	"Hot parts, and coolant under pressure.",
	"The maker's service manual, local codes and licensed practice decide.",
}
