package finding

import (
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// The sentences that lead the ranking.
const (
	leadNone   phrase.Text = "Nothing was recorded yet. Say what was heard, seen or measured, and the likely causes are weighed."
	leadMost   phrase.Text = "Most likely, {{.P}} % alone or with another: {{.Cause}}"
	leadAhead  phrase.Text = "Ahead of many, {{.P}} % alone or with another: {{.Cause}}"
	leadTwo    phrase.Text = "Most likely two things at once, {{.P}} %: {{.Cause}} {{.Other}}"
	leadSure   phrase.Text = "That is sure enough to act on."
	leadOne    phrase.Text = "That is not sure enough to pull anything for: make the next check first."
	leadOpen   phrase.Text = "Nothing stands out yet: make the next check."
	leadDone   phrase.Text = "No check that is left here would tell much more."
	leadBeside phrase.Text = "That it is the only thing wrong has {{.Alone}} %."
)

// Lead is what the evidence comes to: the most probable fault, alone or with
// another, in a sentence, and what to do with that.
func (c Causes) Lead() (first phrase.Sentence, then []phrase.Sentence) {
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

// How probable something is, in words, from the least probability that each takes.
// The words are our own choice, common practice without a source.
var likely = []struct {
	from float64
	word phrase.Text
}{
	{0.95, "as good as sure"}, {0.8, "very likely"}, {0.5, "likely"}, {0.2, "quite possible"}, {0.05, "not likely"}, {0.005, "hardly likely"},
	{0, "as good as ruled out"},
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
	becauseFor     phrase.Text = "{{.Factor}} times as likely, because: {{.Fact}}."
	becauseAgainst phrase.Text = "{{.Factor}} times less likely, because: {{.Fact}}."
	becauseNeither phrase.Text = "Hardly changed by this: {{.Fact}}."
	becauseMost    phrase.Text = "Far more likely, over 9999 times, because: {{.Fact}}."
	becauseLeast   phrase.Text = "Far less likely, over 9999 times, because: {{.Fact}}."

	factSeen phrase.Text = "{{.Kind}}, {{.Value}}"
)

// facts are yes and no in words.
var facts = map[string][2]phrase.Text{
	"starts":                 {"it does not start with everything plugged in", "it starts with everything plugged in"},
	"starts_cam_unplugged":   {"it does not start with the cam sensor unplugged", "it starts with the cam sensor unplugged"},
	"starts_crank_unplugged": {"it does not start with the crank sensor unplugged", "it starts with the crank sensor unplugged"},
	"runs_rough":             {"it runs evenly", "it runs, but rough"},
	"lacks_power":            {"it has its power", "it lacks power"},
	"dead_cylinder":          {"all cylinders work", "one cylinder does nothing"},
	"code_active":            {"the fault code is only stored", "the fault code is active"},
	"synchronised":           {"the controller is not synchronised while cranking", "the controller is synchronised while cranking"},
	"injectors_fire":         {"no current goes to the injectors", "current goes to the injectors"},
	"starts_boosted":         {"it does not start with a booster battery", "it starts with a booster battery"},
	"starts_clean_fuel":      {"it does not start on clean fuel from a can", "it starts on clean fuel from a can"},
	"kicks_back":             {"it does not kick back", "it kicks back against the starter"},
}

// Fact is what was seen as a clause, "it does not start with everything plugged in",
// put into the reader's language by say.
func (c Clue) Fact(say func(phrase.Sentence) string) string {
	if of, ok := facts[c.Kind]; ok {
		if v, _ := c.Value.(bool); v {
			return say(phrase.Sentence{Text: of[1]})
		}
		return say(phrase.Sentence{Text: of[0]})
	}
	return say(phrase.Sentence{Text: factSeen, Data: map[string]any{"Kind": c.title(), "Value": say(c.Says())}})
}

// Says is the weight as a sentence in the reader's language.
func (w Weight) Says(say func(phrase.Sentence) string) string {
	return say(phrase.Sentence{Text: w.text, Data: map[string]any{"Factor": w.times(), "Fact": w.Clue.Fact(say)}})
}

// Weight is what one piece of evidence does for a cause, for a list of reasons.
type Weight struct {
	Clue   Clue
	Factor float64 // so many times as probable as before
	Speaks int     // 1: for the cause, -1: against it, 0: hardly either way
	text   phrase.Text
}

// Weights are the reasons of a cause, what changes it most first.
func (c Causes) Weights(of CauseFound) []Weight {
	var list []Weight
	for i, r := range of.Reasons {
		if i >= len(c.Evidence) {
			break
		}
		w := Weight{Clue: c.Evidence[i], Factor: r.Factor, text: becauseNeither}
		switch {
		case r.Factor > 9999:
			w.Speaks, w.text = 1, becauseMost
		case r.Factor >= speaks:
			w.Speaks, w.text = 1, becauseFor
		case r.Factor < 1.0/9999:
			w.Speaks, w.text = -1, becauseLeast
		case r.Factor <= 1/speaks:
			w.Speaks, w.text = -1, becauseAgainst
		}
		list = append(list, w)
	}
	sortByStrength(list)
	return list
}

func sortByStrength(list []Weight) {
	strength := func(w Weight) float64 { return math.Abs(math.Log(math.Max(w.Factor, 1e-300))) }
	for i := range list { // few, and those alike stay in order
		for k := i; k > 0 && strength(list[k]) > strength(list[k-1])+1e-12; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// times is the factor as it is said: 3 for a third as well as for three times.
func (w Weight) times() phrase.Num {
	f := w.Factor
	if f < 1 {
		f = 1 / f
	}
	if f >= 10 {
		return phrase.Num{Value: f}
	}
	return phrase.Num{Value: f, Decimals: 1}
}

// DoubtTaken is which share of the doubt a check is expected to take away: of the
// number of causes that would be open if all were alike, which is two to the power
// of the entropy.
func DoubtTaken(bits float64) float64 { return 1 - math.Exp2(-bits) }
