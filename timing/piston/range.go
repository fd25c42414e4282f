package piston

import "pinphase.org/pinphase/timing/phrase"

// Range is the box of states a correlation was measured in.
type Range struct {
	ColdK, HotK     float64
	LowBar, HighBar float64
	Known           bool // the limits are the authors'; else they are our guess
}

// runningEngine stands in for the correlations whose limits are not at hand:
// about where a warm diesel engine injects. Our assumption, no source.
var runningEngine = Range{700, 1000, 25, 100, false}

// Place says where a state lies with regard to a correlation's data.
type Place int

// The places, each but the first outside the data.
const (
	Inside Place = iota
	Colder
	Hotter
	LowerPressure
	HigherPressure
)

// String says it in words that follow "the gas is".
func (p Place) String() string { return string(p.Text()) }

// Text is the place as a term.
func (p Place) Text() phrase.Text {
	return [...]phrase.Text{
		"within the data",
		"colder than the data",
		"hotter than the data",
		"at a lower pressure than the data",
		"at a higher pressure than the data",
	}[p]
}

// Place returns where a state lies. Temperature is judged first, for it matters
// most.
func (r Range) Place(g Gas) Place {
	switch {
	case g.K < r.ColdK:
		return Colder
	case g.K > r.HotK:
		return Hotter
	case g.Bar < r.LowBar:
		return LowerPressure
	case g.Bar > r.HighBar:
		return HigherPressure
	}
	return Inside
}

// InRange says where the state at which a delay is asked for lies with regard
// to the correlation's data.
func (c Correlation) InRange(g Gas) Place { return c.Data.Place(g) }
