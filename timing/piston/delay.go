package piston

import "math"

// Gas is the state of a charge.
type Gas struct {
	K   float64 // kelvins
	Bar float64 // absolute
}

// Running is what some correlations ask beside the gas.
type Running struct {
	RPM          float64 // above 0
	MeanPistonMS float64 // m/s
	Cetane       float64 // above −25

	// Phi is the fuel over what the air could burn, over the whole cylinder.
	Phi float64

	// CetanePower is how strongly cetane works where a correlation has none in
	// it: the delay is multiplied by (75/(Cetane+25))^CetanePower. That is the
	// ratio in which Hardenberg and Hase's apparent activation energy changes,
	// laid on the delay itself, with 50 as the point where nothing changes; 1
	// comes close to what their own formula does near cranking states. Our
	// assumption. 0 leaves cetane out.
	CetanePower float64
}

// Correlation is one published formula for the ignition delay: the time between
// the start of injection and the first burning, at one state of the gas.
type Correlation struct {
	Name   string // for programs, as in "wolfer"
	Title  string // for people, as in "Wolfer 1938"
	Source string // where the formula stands, and how surely its constants are known
	Data   Range  // of the states it was measured at

	// Share is how often it is taken when a correlation is drawn at random; all of
	// them sum to 1. The default has one half, for its data alone reach down to
	// cranking; the rest have the other half, Watson and Assanis as one voice
	// because they differ by a factor only. Our judgement.
	Share float64

	// The logarithm of the delay in ms is the sum of two parts: what changes along
	// a path, from 1/K and ln bar, and what does not.
	form *form                                        // of most of them; else
	own  func(perK, lnBar float64, r Running) float64 // a formula of its own
	rest func(r Running) float64

	ownCetane bool
}

func (c *Correlation) state(perK, lnBar float64, r Running) float64 {
	if c.form != nil {
		return c.form.at(perK, lnBar)
	}
	return c.own(perK, lnBar, r)
}

// DelayMS returns the ignition delay at one state, in milliseconds. Where the
// formula has no value it is +Inf; it is never NaN for a gas above 0 K and 0
// bar.
func (c Correlation) DelayMS(g Gas, r Running) float64 {
	return math.Exp(c.state(1/g.K, math.Log(g.Bar), r) + c.rest(r))
}

// HasCetane tells whether cetane stands in the formula itself; for the others see
// [Running.CetanePower].
func (c Correlation) HasCetane() bool { return c.ownCetane }

// logPerDeg returns what, less the state's part, is the logarithm of the share of
// the delay that one crank degree takes away.
func (c Correlation) logPerDeg(r Running) float64 { return -c.rest(r) - math.Log(0.006*r.RPM) }

// bar in an atmosphere.
const atm = 1.01325

// arrhenius is the form most correlations have: a e^(e/T) p^-m, with p in units
// of so many bar. It is the part that changes along a path.
func arrhenius(aMS, eK, m, unitBar float64) *form {
	return &form{lnA: math.Log(aMS) + m*math.Log(unitBar), eK: eK, m: m}
}

// form are the constants of an arrhenius form.
type form struct{ lnA, eK, m float64 }

// at is the part of the delay's logarithm that changes along a path.
func (f *form) at(perK, lnBar float64) float64 { return f.lnA + f.eK*perK - f.m*lnBar }

// cetaneOutside is the part that [Running.CetanePower] adds where a formula has no
// cetane in it.
func cetaneOutside(r Running) float64 {
	if r.CetanePower == 0 {
		return 0
	}
	return r.CetanePower * math.Log((50+25)/(r.Cetane+25))
}

// Correlations returns all of them, the default first: it is the only one whose
// data reach down to the states of a cranking engine.
func Correlations() []Correlation {
	return []Correlation{Wolfer(), Stringer(), Watson(), Assanis(), HardenbergHase()}
}

// CorrelationNamed returns the one of that name.
func CorrelationNamed(name string) (Correlation, bool) {
	for _, c := range Correlations() {
		if c.Name == name {
			return c, true
		}
	}
	return Correlation{}, false
}

// Wolfer is the oldest: 0.44 e^(4650/T) p^-1.19 ms with p in atmospheres, from
// fuel sprayed into a heated bomb.
func Wolfer() Correlation {
	return Correlation{
		Name: "wolfer", Title: "Wolfer 1938",
		Source: "Wolfer, Ignition lag in the diesel engine, 1938, as in Heywood, Internal Combustion Engine Fundamentals, 1988, table 10.3 (not checked against the source)",
		Share:  1.0 / 2,
		Data:   Range{590, 782, 8 * atm, 48 * atm, true},
		form:   arrhenius(0.44, 4650, 1.19, atm),
		rest:   cetaneOutside,
	}
}

// Stringer is that of Stringer, Clarke and Clarke: 0.0405 e^(5473/T) p^-0.757 ms
// with p in atmospheres, from a steady stream of hot air.
func Stringer() Correlation {
	return Correlation{
		Name: "stringer", Title: "Stringer, Clarke and Clarke 1970",
		Source: "Stringer, Clarke and Clarke, The spontaneous ignition of hydrocarbon fuels in a flowing system, 1970, as in Heywood 1988, table 10.3 (not checked against the source)",
		Share:  1.0 / 6,
		Data:   Range{770, 980, 30 * atm, 60 * atm, true},
		form:   arrhenius(0.0405, 5473, 0.757, atm),
		rest:   cetaneOutside,
	}
}

// Watson is 3.45 e^(2100/T) p^-1.02 ms with p in bar, from running engines. Its
// weak dependence on temperature makes it hopeful far below them. Another
// printing has 3.52 and -1.022 (Stone, Introduction to Internal Combustion
// Engines), 1.3 % more.
func Watson() Correlation {
	return Correlation{
		Name: "watson", Title: "Watson 1980",
		Source: "Watson, Pilley and Marzouk, SAE 800029, 1980 (not checked against the source)",
		Share:  1.0 / 12,
		Data:   runningEngine,
		form:   arrhenius(3.45, 2100, 1.02, 1),
		rest:   cetaneOutside,
	}
}

// Assanis is that of Assanis, Filipi, Fiveland and Syrimis: 2.4 phi^-0.2
// e^(2100/T) p^-1.02 ms with p in bar, from a heavy-duty engine over its speeds
// and loads. phi at or below 0 leaves no fuel: +Inf.
func Assanis() Correlation {
	return Correlation{
		Name: "assanis", Title: "Assanis and others 2003",
		Source: "Assanis, Filipi, Fiveland and Syrimis, A predictive ignition delay correlation, J. Eng. Gas Turbines Power 125, 2003 " +
			"(not checked against the source; two independent programs in public use have the same constants)",
		Share: 1.0 / 12,
		Data:  runningEngine,
		form:  arrhenius(2.4, 2100, 1.02, 1),
		rest: func(r Running) float64 {
			if !(r.Phi > 0) {
				return math.Inf(1)
			}
			return cetaneOutside(r) - 0.2*math.Log(r.Phi)
		},
	}
}
