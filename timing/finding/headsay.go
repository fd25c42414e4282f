package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// way is what can be said of a wheel error: the answer's sentence follows from it.
type way int

// The ways. Later and earlier are said only where the 95 % interval bears it.
const (
	wayRight        way = iota // none, exactly or to within a tenth of a degree
	wayGive                    // none, give or take
	wayOpen                    // some, which the interval does not tell from none
	wayLate                    //
	wayEarly                   //
	wayHalf                    // half a turn out: neither late nor early
	wayNothing                 // the interval leaves everything open
	wayAssumed                 // none, if the wheel is as drawn: nobody has measured it
	wayCarriedOpen             // the keyway's error, which the interval does not tell from none, carried on to the wheel
	wayCarriedLate             // the keyway's error, if the dowel was set out from it
	wayCarriedEarly            //
	wayDisputed                // what else was seen speaks against the reading
	wayMaybe                   // the most probable of several
)

const (
	// nothingFrom is half the 95 % interval from which on an angle says nothing: a
	// quarter of a turn either way leaves neither stroke nor side.
	nothingFrom timing.Deg = 90
	// seam is how near to half a turn an exact wheel error is neither late nor early.
	seam timing.Deg = 0.5
)

// wayOf is what an error and its interval bear.
func (e errorsOf) wayOf() way {
	lo, hi := part.Result{Measured: e.wheel, DOF: e.wheelDOF}.Interval95()
	half := (hi - lo) / 2
	none := deg(e.wheel.Value).String() == "0"
	switch carried := e.basis == known.Assumed && e.gearBasis != known.Assumed; {
	case e.doubt == disputed:
		return wayDisputed
	case e.doubt == branching:
		return wayMaybe
	case half >= nothingFrom:
		return wayNothing
	case size(e.wheel.Value)+max(half, seam) >= timing.Turn/2:
		return wayHalf
	case e.basis == known.Assumed && none:
		return wayAssumed
	case none && deg(half).String() == "0":
		return wayRight
	case none:
		return wayGive
	case lo <= 0 && hi >= 0 && carried:
		return wayCarriedOpen
	case lo <= 0 && hi >= 0:
		return wayOpen
	case e.wheel.Value < 0 && carried:
		return wayCarriedLate
	case carried:
		return wayCarriedEarly
	case e.wheel.Value < 0:
		return wayLate
	}
	return wayEarly
}

// says is the finding in one sentence. Whole sentences are kept for each case, with
// the place in them, because a translation cannot be put together from halves.
func (e errorsOf) says(single bool, actual timing.Deg, stroke timing.Stroke) phrase.Sentence {
	lo, hi := part.Result{Measured: e.wheel, DOF: e.wheelDOF}.Interval95()
	w := e.wayOf()
	text := everySays[w]
	if single {
		text = oneSays[w]
	}
	return phrase.Sentence{Text: text, Data: map[string]any{"Where": landing(actual, stroke), "By": deg(size(e.wheel.Value)), "Give": phrase.Num{Value: max(float64(hi-lo)/2, 0.1), Decimals: 1}, "P": e.chance()}}
}

// landing is where injection lands, as it stands in a sentence.
func landing(actual timing.Deg, stroke timing.Stroke) phrase.Sentence {
	data := map[string]any{"At": Beside(float64(size(actual)), 1), "Stroke": strokeWord(stroke)}
	switch {
	case deg(actual).String() == "0":
		return phrase.Sentence{Text: whereAt}
	case actual < 0:
		return phrase.Sentence{Text: whereAfter, Data: data}
	}
	return phrase.Sentence{Text: whereBefore, Data: data}
}

const (
	whereBefore phrase.Text = "{{.At}}° before TDC ({{.Stroke}})"
	whereAt     phrase.Text = "at TDC"
	whereAfter  phrase.Text = "{{.At}}° after TDC ({{.Stroke}})"
)

// These are the same for one cylinder and for several.
const (
	sayHalf     = "Injection starts about half a crankshaft turn away from the start commanded, {{.Where}}: whether that is early or late cannot be told."
	sayDisputed = "Not certain: by the dowel alone injection starts {{.Where}}, but all findings together make that only {{.P}} % probable."
	sayNothing  = "These readings cannot say where injection starts: their 95 % interval is ± {{.Give}}°. Measure again."
)

// everySays are the findings of an engine of several cylinders.
var everySays = map[way]phrase.Text{
	wayRight:        "Every injection starts as commanded: {{.Where}}.",
	wayGive:         "Every injection starts as commanded, ± {{.Give}}° (95 % interval): {{.Where}}.",
	wayOpen:         "Every injection starts {{.Where}}, ± {{.Give}}° (95 % interval): these readings cannot tell that from the start commanded.",
	wayLate:         "Every injection starts {{.Where}}: {{.By}}° later than commanded.",
	wayEarly:        "Every injection starts {{.Where}}: {{.By}}° earlier than commanded.",
	wayHalf:         sayHalf,
	wayNothing:      sayNothing,
	wayDisputed:     sayDisputed,
	wayMaybe:        "Most likely, {{.P}} %, every injection starts {{.Where}}. That is not certain.",
	wayAssumed:      "If the sensor wheel is as drawn, every injection starts as commanded: {{.Where}}.",
	wayCarriedOpen:  "If the dowel was set out from that keyway, every injection starts {{.Where}}, ± {{.Give}}° (95 % interval): these readings cannot tell that from the start commanded.",
	wayCarriedLate:  "If the dowel was set out from that keyway, every injection starts {{.Where}}: {{.By}}° later than commanded.",
	wayCarriedEarly: "If the dowel was set out from that keyway, every injection starts {{.Where}}: {{.By}}° earlier than commanded.",
}

// oneSays are the findings of an engine of one cylinder.
var oneSays = map[way]phrase.Text{
	wayRight:        "Injection starts as commanded: {{.Where}}.",
	wayGive:         "Injection starts as commanded, ± {{.Give}}° (95 % interval): {{.Where}}.",
	wayOpen:         "Injection starts {{.Where}}, ± {{.Give}}° (95 % interval): these readings cannot tell that from the start commanded.",
	wayLate:         "Injection starts {{.Where}}: {{.By}}° later than commanded.",
	wayEarly:        "Injection starts {{.Where}}: {{.By}}° earlier than commanded.",
	wayHalf:         sayHalf,
	wayNothing:      sayNothing,
	wayDisputed:     sayDisputed,
	wayMaybe:        "Most likely, {{.P}} %, injection starts {{.Where}}. That is not certain.",
	wayAssumed:      "If the sensor wheel is as drawn, injection starts as commanded: {{.Where}}.",
	wayCarriedOpen:  "If the dowel was set out from that keyway, injection starts {{.Where}}, ± {{.Give}}° (95 % interval): these readings cannot tell that from the start commanded.",
	wayCarriedLate:  "If the dowel was set out from that keyway, injection starts {{.Where}}: {{.By}}° later than commanded.",
	wayCarriedEarly: "If the dowel was set out from that keyway, injection starts {{.Where}}: {{.By}}° earlier than commanded.",
}
