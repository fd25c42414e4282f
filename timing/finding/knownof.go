package finding

import (
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Quantity is one of the things that the answers to a job stand on, and how it is
// known.
type Quantity struct {
	Name  string      `json:"quantity"` // as in "wheel_error_deg"
	Value *float64    `json:"value"`    // nil: unknown
	U     *float64    `json:"u"`        // nil: nobody knows how surely
	Basis string      `json:"basis"`    // see [known.Basis]
	Is    known.Basis `json:"-"`

	Title phrase.Text `json:"-"` // what it is, in words
	Says  any         `json:"-"` // the value for a sentence; nil: unknown
}

// The quantities in words, and the words of their bases.
const (
	knownWheel  phrase.Text = "wheel error"
	knownGear   phrase.Text = "gear error"
	knownStart  phrase.Text = "injection commanded, before TDC"
	knownRPM    phrase.Text = "cranking speed"
	knownAir    phrase.Text = "air temperature"
	knownKPa    phrase.Text = "air pressure"
	knownCetane phrase.Text = "cetane number"
	knownRatio  phrase.Text = "compression ratio"
	knownCloses phrase.Text = "intake closes, after BDC"
	knownOpens  phrase.Text = "exhaust opens, before BDC"

	basisMeasured phrase.Text = "measured"
	basisRead     phrase.Text = "read from a recording"
	basisStated   phrase.Text = "stated"
	basisAssumed  phrase.Text = "assumed"
	basisSupposed phrase.Text = "what-if"
	basisUnknown  phrase.Text = "not known"
)

// BasisWord is a basis in words, for a text beside its [known.Basis.Mark].
func BasisWord(b known.Basis) phrase.Text {
	switch b {
	case known.Measured:
		return basisMeasured
	case known.Read:
		return basisRead
	case known.Stated:
		return basisStated
	case known.Assumed:
		return basisAssumed
	case known.Supposed:
		return basisSupposed
	}
	return basisUnknown
}

// KnownOf returns what the answers to a job stand on: wheel and gear error, what
// injection and light-off go by, each with how it is known. What has a default of the
// program stands there with it, assumed.
func KnownOf(j job.Job) []Quantity {
	var list []Quantity
	put := func(name string, title phrase.Text, value float64, u *float64, is known.Basis, says any) {
		v := round(value)
		list = append(list, Quantity{Name: name, Value: &v, U: u, Basis: is.String(), Is: is, Title: title, Says: says})
	}
	unknown := func(name string, title phrase.Text) {
		list = append(list, Quantity{Name: name, Basis: known.Unknown.String(), Title: title})
	}
	degrees := func(v float64) any { return quantity.Amount{Value: v, Unit: "°", Decimals: 2} }
	if e, err := wheelErrorOf(j); err != nil {
		unknown("wheel_error_deg", knownWheel)
		unknown("gear_error_deg", knownGear)
	} else {
		var u, gearU *float64
		if e.told() {
			u = number(float64(e.wheel.U))
		}
		if e.gearBasis != known.Assumed {
			gearU = number(float64(e.gear.U))
		}
		put("wheel_error_deg", knownWheel, float64(e.wheel.Value), u, e.basis, degrees(float64(e.wheel.Value)))
		put("gear_error_deg", knownGear, float64(e.gear.Value), gearU, e.gearBasis, degrees(float64(e.gear.Value)))
	}
	plain := func(v float64) any { return phrase.Num{Value: v, Decimals: 2} }
	given := func(name, key string, title phrase.Text, n job.Number, fallback *float64, says func(float64) any) {
		switch {
		case n.Given && j.Supposed.Has(key):
			put(name, title, n.Value, nil, known.Supposed, says(n.Value))
		case n.Given:
			put(name, title, n.Value, nil, known.Stated, says(n.Value))
		case fallback != nil:
			put(name, title, *fallback, nil, known.Assumed, says(*fallback))
		default:
			unknown(name, title)
		}
	}
	in, valves := job.Injection{}, job.Valves{}
	if j.Injection != nil {
		in = *j.Injection
	}
	if j.Engine.Valves != nil {
		valves = *j.Engine.Valves
	}
	of := func(v float64) *float64 { return &v }
	closes, opens := closesABDC4, opensBBDC4
	if j.Engine.Strokes == 2 {
		closes, opens = closesABDC2, opensBBDC2
	}
	given("start_btdc_deg", "injection.start_btdc_deg", knownStart, in.StartBTDCDeg, nil, degrees)
	if v, ok := seenNumber(j.AsItIs(), "cranking_rpm"); ok && !j.Supposed.Has(supposedRPM) {
		put("cranking_rpm", knownRPM, v, nil, known.Measured, plain(v))
	} else {
		given("cranking_rpm", supposedRPM, knownRPM, in.CrankingRPM, nil, plain)
	}
	given("air_c", supposedAir, knownAir, in.AirC, of(defaultAirC), func(v float64) any { return celsius(v, 1) })
	given("air_kpa", supposedKPa, knownKPa, in.AirKPa, of(defaultAirKPa), func(v float64) any { return quantity.Air(v, 1) })
	given("cetane", "injection.cetane", knownCetane, in.Cetane, of(defaultCetane), plain)
	given("compression_ratio", supposedRatio, knownRatio, j.Engine.CompressionRatio, nil, plain)
	given("intake_closes_abdc_deg", "engine.valves.intake_closes_abdc_deg", knownCloses, valves.IntakeClosesABDCDeg, of(closes), degrees)
	given("exhaust_opens_bbdc_deg", "engine.valves.exhaust_opens_bbdc_deg", knownOpens, valves.ExhaustOpensBBDCDeg, of(opens), degrees)
	return list
}

// doubtful are the notes on values that look like slipped units, for every answer.
func doubtful(j job.Job) []phrase.Sentence {
	var list []phrase.Sentence
	for _, q := range job.Doubtful(j.AsItIs()) {
		list = append(list, q.Says)
	}
	return list
}
