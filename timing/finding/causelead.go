package finding

import (
	"cmp"
	"math"
	"slices"

	"pinphase.org/pinphase/timing/phrase"
)

// The sentences that lead the ranking.
const (
	leadNone   phrase.Text = "Nothing is recorded yet. Enter what was heard, seen or measured, and the program ranks the causes."
	leadMost   phrase.Text = "Most likely, {{.P}} % alone or with another: {{.Cause}}"
	leadAhead  phrase.Text = "Most likely so far, {{.P}} % alone or with another: {{.Cause}}"
	leadTwo    phrase.Text = "Most likely two faults at once, {{.P}} %: {{.Cause}} {{.Other}}"
	leadSure   phrase.Text = "Certain enough to act on."
	leadOne    phrase.Text = "Not certain enough to dismantle anything: make the next check first."
	leadOpen   phrase.Text = "No cause stands out yet: make the next check."
	leadDone   phrase.Text = "No remaining check would tell much more."
	leadBeside phrase.Text = "The probability that it is the only fault is {{.Alone}} %."
)

// The sentences of the plan.
const (
	planSure phrase.Text = "One cause is certain enough: no plan is needed. Repair it, then check the repair."
	planIf   phrase.Text = "The plan assumes that each check shows what is most probable. If one shows something else, record it: the plan is calculated again."
)

// planSays is what the plan reckons with, or why there is none.
func (c Causes) planSays() phrase.Sentence {
	if len(c.Plan) > 0 {
		return phrase.Sentence{Text: planIf}
	}
	if _, p := c.Ranking.Leading(); p >= c.SureFrom {
		return phrase.Sentence{Text: planSure}
	}
	return phrase.Sentence{Text: leadDone}
}

// lead is what the evidence comes to: the most probable fault, alone or with
// another, in a sentence, and what to do with that.
func (c Causes) lead() (first phrase.Sentence, then []phrase.Sentence) {
	if len(c.Evidence) == 0 {
		return phrase.Sentence{Text: leadNone}, nil
	}
	if pair := c.Ranking.Pair(); pair != nil {
		then = append(then, phrase.Sentence{Text: leadOne})
		if pair.Probability >= c.SureFrom {
			then[0].Text = leadSure
		}
		return phrase.Sentence{Text: leadTwo, Data: map[string]any{"P": percent(pair.Probability), "Cause": meanings[pair.Faults[0]], "Other": meanings[pair.Faults[1]]}}, then
	}
	name, p := c.Ranking.Leading()
	data := map[string]any{"P": percent(p), "Cause": meanings[name]}
	first = phrase.Sentence{Text: leadMost, Data: data}
	switch {
	case p >= c.SureFrom:
		then = append(then, phrase.Sentence{Text: leadSure})
	case len(c.Next) == 0:
		then = append(then, phrase.Sentence{Text: leadDone})
	case p >= stands:
		then = append(then, phrase.Sentence{Text: leadOne})
	default:
		first.Text = leadAhead
		then = append(then, phrase.Sentence{Text: leadOpen})
	}
	if alone := c.Ranking.Find(name); alone != nil && p-alone.Probability > 0.0005 {
		then = append(then, phrase.Sentence{Text: leadBeside, Data: map[string]any{"Alone": percent(alone.Probability)}})
	}
	return first, then
}

// Answer is what the evidence comes to and what to do with it, for who shows them
// together.
func (c Causes) Answer() []phrase.Sentence { return append([]phrase.Sentence{c.Says}, c.Then...) }

// How probable something is, in words, from the least probability that each takes.
// The words are our own choice, common practice without a source.
var likely = []struct {
	from float64
	word phrase.Text
}{
	{0.95, "almost certain"}, {0.8, "very likely"}, {0.5, "likely"}, {0.2, "possible"}, {0.05, "unlikely"}, {0.005, "very unlikely"},
	{0, "almost ruled out"},
}

// Likeliness says a probability in words.
func Likeliness(p float64) phrase.Text {
	for _, l := range likely {
		if p >= l.from {
			return l.word
		}
	}
	return likely[len(likely)-1].word
}

// The sentences of what one piece of evidence does for a cause.
const (
	becauseFor     phrase.Text = "Multiplies the odds by {{.Factor}}: {{.Fact}}."
	becauseAgainst phrase.Text = "Divides the odds by {{.Factor}}: {{.Fact}}."
	becauseNeither phrase.Text = "Hardly changes the odds: {{.Fact}}."
	becauseMost    phrase.Text = "Multiplies the odds by more than 9999: {{.Fact}}."
	becauseLeast   phrase.Text = "Divides the odds by more than 9999: {{.Fact}}."

	factSeen phrase.Text = "{{.Kind}}, {{.Value}}"
)

// facts are yes and no in words.
var facts = map[string][2]phrase.Text{
	"starts":                 {"it does not start with everything plugged in", "it starts with everything plugged in"},
	"starts_cam_unplugged":   {"it does not start with the camshaft sensor unplugged", "it starts with the camshaft sensor unplugged"},
	"starts_crank_unplugged": {"it does not start with the crankshaft sensor unplugged", "it starts with the crankshaft sensor unplugged"},
	"runs_rough":             {"it runs evenly", "it runs, but rough"},
	"lacks_power":            {"it has full power", "it lacks power"},
	"dead_cylinder":          {"all cylinders work", "one cylinder does not work"},
	"code_active":            {"the fault code is only stored", "the fault code is active"},
	"synchronised":           {"the ECU is not synchronised while cranking", "the ECU is synchronised while cranking"},
	"injectors_fire":         {"the injectors are not driven", "the injectors are driven"},
	"starts_boosted":         {"it does not start with a booster battery", "it starts with a booster battery"},
	"starts_clean_fuel":      {"it does not start on clean fuel from a can", "it starts on clean fuel from a can"},
	"kicks_back":             {"it does not kick back", "it kicks back against the starter"},
}

// fact is what was seen as a clause, "it does not start with everything plugged in".
func (c Clue) fact() phrase.Sentence {
	if of, ok := facts[c.Kind]; ok {
		if v, _ := c.Value.(bool); v {
			return phrase.Sentence{Text: of[1]}
		}
		return phrase.Sentence{Text: of[0]}
	}
	return phrase.Sentence{Text: factSeen, Data: map[string]any{"Kind": c.title(), "Value": c.Says()}}
}

// reason is what a piece of evidence does for a cause that it makes so many times as
// probable.
func reason(c Clue, factor float64) ReasonFound {
	r := ReasonFound{Key: c.Key, Kind: c.Kind, Factor: factor}
	text := becauseNeither
	switch {
	case factor > 9999:
		r.Speaks, text = 1, becauseMost
	case factor >= speaks:
		r.Speaks, text = 1, becauseFor
	case factor < 1.0/9999:
		r.Speaks, text = -1, becauseLeast
	case factor <= 1/speaks:
		r.Speaks, text = -1, becauseAgainst
	}
	r.Says = phrase.Sentence{Text: text, Data: map[string]any{"Factor": times(factor), "Fact": c.fact()}}
	return r
}

// ByStrength are the reasons of a cause, what changes it most first.
func (k CauseFound) ByStrength() []ReasonFound {
	strength := func(r ReasonFound) float64 { return math.Abs(math.Log(math.Max(r.Factor, 1e-300))) }
	list := slices.Clone(k.Reasons)
	slices.SortStableFunc(list, func(a, b ReasonFound) int {
		if d := strength(b) - strength(a); math.Abs(d) > 1e-12 {
			return cmp.Compare(d, 0)
		}
		return 0
	})
	return list
}

// times is a factor as it is said: 3 for a third as well as for three times.
func times(factor float64) phrase.Num {
	if factor < 1 {
		factor = 1 / factor
	}
	if factor >= 10 {
		return phrase.Num{Value: factor}
	}
	return phrase.Num{Value: factor, Decimals: 1}
}

// The sentences of how probable a cause is, and of what a check is worth.
const (
	chanceSays phrase.Text = "{{.Alone}} % alone, {{.All}} % alone or with another: {{.Words}}."
	chanceTwo  phrase.Text = "{{.P}} % both at once: {{.Words}}."
	gainSays   phrase.Text = "Expected to reduce the uncertainty by {{.P}} % ({{.Bits}} bits; one bit halves it)."
)

// Chance says how probable a cause is, in numbers and in a word.
func (k CauseFound) Chance() phrase.Sentence {
	if len(k.Meaning) > 1 { // two faults
		return phrase.Sentence{Text: chanceTwo, Data: map[string]any{"P": percent(k.Probability), "Words": Likeliness(k.Probability)}}
	}
	return phrase.Sentence{Text: chanceSays, Data: map[string]any{"Alone": percent(k.Probability), "All": percent(k.InAll), "Words": Likeliness(k.InAll)}}
}

// Gain says what a check is worth.
func (n NextCheck) Gain() phrase.Sentence {
	return phrase.Sentence{Text: gainSays, Data: map[string]any{"P": phrase.Num{Value: 100 * doubtTaken(n.GainBits)}, "Bits": phrase.Num{Value: n.GainBits, Decimals: 2}}}
}

// doubtTaken is which share of the doubt a check is expected to take away: of the
// number of causes that would be open if all were alike, which is two to the power
// of the entropy.
func doubtTaken(bits float64) float64 { return 1 - math.Exp2(-bits) }
