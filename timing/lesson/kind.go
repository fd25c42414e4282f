package lesson

import (
	"slices"

	"pinphase.org/pinphase/timing/phrase"
)

// Kind is a kind of question, by the name it is kept under.
type Kind string

// The kinds.
const (
	Stroke    Kind = "stroke"
	Companion Kind = "companion"
	Firing    Kind = "firing"
	Injection Kind = "injection"
	Direction Kind = "direction"
	Teeth     Kind = "teeth"
	TDC       Kind = "tdc"
	Gears     Kind = "gears"
	Trace     Kind = "trace"
)

// Levels is how many levels of difficulty there are; the easiest is 1.
const Levels = 5

// Kinds returns every kind, in the order in which to offer them.
func Kinds() []Kind {
	return []Kind{Stroke, Companion, Firing, Injection, Direction, Teeth, TDC, Gears, Trace}
}

// ParseKind returns the kind kept under a name.
func ParseKind(name string) (Kind, bool) {
	k := Kind(name)
	return k, slices.Contains(Kinds(), k)
}

// Name returns what the kind is about,.
func (k Kind) Name() phrase.Text { return kindNames[k] }

var kindNames = map[Kind]phrase.Text{
	Stroke:    "Strokes",
	Companion: "Paired cylinders",
	Firing:    "Firing order",
	Injection: "Start of injection",
	Direction: "Early or late",
	Teeth:     "Teeth and gap",
	TDC:       "Finding TDC",
	Gears:     "Timing marks of the gears",
	Trace:     "Reading a recording",
}

// makers make a question of their kind; see [ask].
var makers = map[Kind]func(*maker) (Question, bool){
	Stroke:    askStroke,
	Companion: askCompanion,
	Firing:    askFiring,
	Injection: askInjection,
	Direction: askDirection,
	Teeth:     askTeeth,
	TDC:       askTDC,
	Gears:     askGears,
	Trace:     askTrace,
}
