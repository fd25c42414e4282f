package cause

import "pinphase.org/pinphase/timing/phrase"

// part is something that can be replaced: which faults a new one may bring, and
// which it puts right. Common practice, no source.
type part struct {
	name          string // for programs and job files
	title         phrase.Text
	brings, cures []string
}

// How much a part replaced before the trouble began raises what it may bring, and
// how much one replaced in vain lowers what it would have cured.
const (
	raisedBy  = 4.0
	loweredBy = 7.0
)

var parts = []part{
	{"crankshaft", "crankshaft", []string{"dowel mirrored", "dowel at a wrong angle", "keyway off"}, nil},
	{"crank wheel", "crank sensor wheel", []string{"wheel back to front", "wheel of another part number", "wheel slipped"}, []string{"wheel tooth bent", "wheel slipped"}},
	{"timing gears", "timing gears", []string{"crank gear out by teeth", "cam gear out by teeth", "key sheared or stepped", "cam gear moved on its shaft"}, []string{"key sheared or stepped", "cam gear moved on its shaft"}},
	{"camshaft", "camshaft", []string{"cam gear out by teeth", "cam wheel half a turn out", "cam wheel slipped", "cam gear moved on its shaft"}, []string{"cam wheel slipped", "cam gear moved on its shaft"}},
	{"cam wheel", "cam sensor wheel", []string{"cam wheel half a turn out", "cam wheel slipped"}, []string{"cam wheel slipped"}},
	{"crank sensor", "crankshaft sensor", []string{"crank sensor wires reversed", "crank sensor dead or its gap wrong", "sensor connectors swapped"}, []string{"crank sensor dead or its gap wrong"}},
	{"cam sensor", "camshaft sensor", []string{"cam sensor dead or its gap wrong", "sensor connectors swapped"}, []string{"cam sensor dead or its gap wrong"}},
	{"harness", "wiring harness", []string{"crank sensor wires reversed", "injectors or their leads crossed", "sensor supply or earth", "sensor connectors swapped"},
		[]string{"crank sensor wires reversed", "injectors or their leads crossed", "sensor supply or earth", "sensor connectors swapped"}},
	{"injectors", "injectors", []string{"injectors or their leads crossed", "injector leaking back"}, []string{"injector leaking back"}},
	{"controller", "ECU", []string{"wrong firing order set", "controller without power or immobilised"}, []string{"controller without power or immobilised"}},
	{"pump", "pump", []string{"no fuel pressure"}, []string{"no fuel pressure"}},
	{"fuel", "fuel", []string{"bad fuel"}, []string{"bad fuel"}},
	{"fuel filter", "fuel filter", []string{"air in the fuel or a blocked filter"}, []string{"air in the fuel or a blocked filter"}},
	{"damper", "vibration damper", []string{"damper ring slipped"}, []string{"damper ring slipped"}},
	{"starter", "starter", []string{"cranks too slowly"}, []string{"cranks too slowly"}},
	{"battery", "battery", []string{"cranks too slowly"}, []string{"cranks too slowly"}},
	{"pistons and rings", "pistons and rings", []string{"poor compression"}, []string{"poor compression"}},
	{"cylinder head", "cylinder head", []string{"poor compression", "bent valves"}, []string{"poor compression", "bent valves"}},
}

func partNames() []string {
	list := make([]string, len(parts))
	for i, p := range parts {
		list[i] = p.name
	}
	return list
}

func partTitles() []phrase.Text {
	list := make([]phrase.Text, len(parts))
	for i, p := range parts {
		list[i] = p.title
	}
	return list
}

// factor is what a piece of evidence about a replaced part does to a fault's
// prior.
func (s *seen) factor(fault string) float64 {
	p := parts[s.word]
	of, by := p.brings, raisedBy
	if s.kind.Name == "replaced_in_vain" {
		of, by = p.cures, 1/loweredBy
	}
	for _, name := range of {
		if name == fault {
			return by
		}
	}
	return 1
}
