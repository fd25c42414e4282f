package finding

import (
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Verdict is how probable it is what the part is. AsDrawn, Mirrored and Other add
// up to 1, and so do KeywayWrong and OtherError to Other.
type Verdict struct {
	AsDrawn     float64 `json:"as_drawn"`
	Mirrored    float64 `json:"mirrored"`
	Other       float64 `json:"other"` // neither of these
	KeywayWrong float64 `json:"keyway_wrong"`
	OtherError  float64 `json:"other_error"`

	Kind     string        `json:"kind"`      // "as_drawn", "mirrored", "keyway_wrong", "other" or "not_surely_known"
	SureFrom float64       `json:"sure_from"` // how probable a kind must be to be called known
	Cases    []MakingCase  `json:"cases"`     // the ways to be made that were weighed
	Next     []NextReading `json:"next_readings"`
}

// MakingCase is one way in which keyway and dowel can have been made.
type MakingCase struct {
	Keyway      string  `json:"keyway"` // "as_drawn", "mirrored" or "elsewhere", from the No. 1 throw
	Dowel       string  `json:"dowel"`  // the same from the keyway, or "right_from_throw"
	Probability float64 `json:"probability"`
}

// NextReading is a reading that could be taken next, the most telling first.
type NextReading struct {
	Reading  string  `json:"reading"` // "keyway" or "dowel", each with a degree wheel
	UDeg     float64 `json:"u_deg"`   // as it would be read
	GainBits float64 `json:"gain_bits"`
	Expected float64 `json:"expected_probability"` // of the then most probable kind
}

// judge weighs what was measured; not ok when nothing can be compared with a
// drawing.
func judge(dowel, keyway feature) (v part.Verdict, ok bool) {
	d, k := dowel.compared(), keyway.compared()
	return part.Judge(d, k), d != nil || k != nil
}

// compared is the feature's comparison, nil without drawing or measurement.
func (f feature) compared() *part.Comparison {
	if f.drawing == nil || f.measured == nil {
		return nil
	}
	c := f.comparison()
	return &c
}

func verdictOf(v part.Verdict) *Verdict {
	kind, _ := v.Kind()
	out := &Verdict{
		AsDrawn: round(v.AsDrawn), Mirrored: round(v.Mirrored), Other: round(v.KeywayWrong + v.Other),
		KeywayWrong: round(v.KeywayWrong), OtherError: round(v.Other),
		Kind: kind.String(), SureFrom: part.Sure,
	}
	for _, c := range v.Cases {
		out.Cases = append(out.Cases, MakingCase{c.Keyway.String(), c.Dowel.String(), round(c.Probability)})
	}
	for _, n := range v.Next() {
		out.Next = append(out.Next, NextReading{n.Feature.String(), round(float64(n.U)), round(n.Bits), round(n.Leading)})
	}
	return out
}

// What the part is, in one sentence for each case.
const (
	verdictAsDrawn        phrase.Text = "Keyway and dowel are as drawn ({{.P}} % by these readings alone)."
	verdictDowelDrawn     phrase.Text = "The dowel is as drawn from the keyway ({{.P}} % by these readings alone)."
	verdictMirrored       phrase.Text = "The part is mirrored: the dowel is on the other side of the keyway than drawn ({{.P}} % by these readings alone)."
	verdictFromThrow      phrase.Text = "The keyway is wrong, and the dowel is correct from the throw: the valves are out, injection is not ({{.P}} % by these readings alone)."
	verdictFromKeyway     phrase.Text = "The keyway is wrong, and the dowel was set out from it: the valves and injection are out together ({{.P}} % by these readings alone)."
	verdictDowelWrong     phrase.Text = "The dowel is wrong, and not by being mirrored ({{.P}} % by these readings alone)."
	verdictBothWrong      phrase.Text = "Keyway and dowel are both wrong, each by itself ({{.P}} % by these readings alone)."
	verdictUnsure         phrase.Text = "These readings alone cannot say for certain what the part is: as drawn {{.Drawn}} %, mirrored {{.Mirrored}} %, keyway wrong {{.Keyway}} %, another error {{.Other}} %."
	verdictOpen           phrase.Text = "The keyway was not measured from the No. 1 throw: whether it is wrong remains open, {{.P}} % by these readings alone."
	verdictNextKeyway     phrase.Text = "To settle it, measure the keyway from the No. 1 throw with a degree wheel: the answer can then be expected to be {{.P}} % certain."
	verdictNextDowel      phrase.Text = "To settle it, measure the dowel from the keyway with a degree wheel: the answer can then be expected to be {{.P}} % certain."
	verdictNothingSettles phrase.Text = "Neither measuring the keyway nor the dowel with a degree wheel can be expected to settle it; compare the part with the old one."
)

// percent is a probability for a sentence, as every table writes it too: in tenths of
// a per cent, and nothing is quite certain.
func percent(p float64) any {
	share := func(v float64) map[string]any { return map[string]any{"Share": phrase.Num{Value: v, Decimals: 1}} }
	switch {
	case p < 0.0005:
		return phrase.Sentence{Text: chanceUnder, Data: share(0.1)}
	case p >= 0.9995:
		return phrase.Sentence{Text: chanceOver, Data: share(99.9)}
	}
	return phrase.Num{Value: 100 * p, Decimals: 1}
}

// Percent is a probability in tenths of a per cent, for a text that has the sign: the one
// way in which window, paper and command line write it.
func Percent(p float64) any { return percent(p) }

const (
	chanceUnder phrase.Text = "under {{.Share}}"
	chanceOver  phrase.Text = "over {{.Share}}"
)

// verdictSays is the verdict in one sentence.
func verdictSays(v part.Verdict) phrase.Sentence {
	kind, p := v.Kind()
	data := map[string]any{"P": percent(p)}
	switch most := mostProbable(v, kind); kind {
	case part.AsDrawn:
		if v.HasKeyway {
			return phrase.Sentence{Text: verdictAsDrawn, Data: data}
		}
		return phrase.Sentence{Text: verdictDowelDrawn, Data: data}
	case part.Mirrored:
		return phrase.Sentence{Text: verdictMirrored, Data: data}
	case part.KeywayWrong:
		if most.Dowel == part.FromThrow {
			return phrase.Sentence{Text: verdictFromThrow, Data: data}
		}
		return phrase.Sentence{Text: verdictFromKeyway, Data: data}
	case part.OtherError:
		if most.Keyway == part.Right {
			return phrase.Sentence{Text: verdictDowelWrong, Data: data}
		}
		return phrase.Sentence{Text: verdictBothWrong, Data: data}
	}
	return phrase.Sentence{Text: verdictUnsure, Data: map[string]any{
		"Drawn": percent(v.AsDrawn), "Mirrored": percent(v.Mirrored), "Keyway": percent(v.KeywayWrong), "Other": percent(v.Other)}}
}

// mostProbable is the most probable case of a kind.
func mostProbable(v part.Verdict, kind part.Kind) part.Case {
	best := part.Case{}
	for _, c := range v.Cases {
		if c.Kind() == kind && c.Probability > best.Probability {
			best = c
		}
	}
	return best
}

// worthwhile is how much surer, of 1, the answer must be expected to get for a
// reading to be proposed.
const worthwhile = 0.01

// verdictNotes are what the verdict leaves open, and the reading that would
// settle it.
func verdictNotes(v part.Verdict) []phrase.Sentence {
	var list []phrase.Sentence
	if v.HasDowel && !v.HasKeyway {
		list = append(list, phrase.Sentence{Text: verdictOpen, Data: map[string]any{"P": percent(v.KeywayWrong)}})
	}
	kind, p := v.Kind()
	if kind != part.NotSure {
		return list
	}
	best := v.Next()[0]
	switch {
	case best.Leading-p < worthwhile:
		return append(list, phrase.Sentence{Text: verdictNothingSettles})
	case best.Feature == part.Keyway:
		return append(list, phrase.Sentence{Text: verdictNextKeyway, Data: map[string]any{"P": percent(best.Leading)}})
	}
	return append(list, phrase.Sentence{Text: verdictNextDowel, Data: map[string]any{"P": percent(best.Leading)}})
}
