package finding

import (
	"math"
	"strings"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// The sentences of the causes.
const (
	causeNone    phrase.Text = "No evidence yet: the causes stand as probable as they are before anything is seen."
	causeSure    phrase.Text = "Sure enough to act on: {{.Cause}} ({{.P}} %, alone or with another)."
	causeLeading phrase.Text = "Most probable is: {{.Cause}} ({{.P}} %, alone or with another). That is not sure enough to pull anything for: make the next check first."
	causeOpen    phrase.Text = "Nothing stands out yet; most probable is: {{.Cause}} ({{.P}} %, alone or with another). Make the next check."
	causeDone    phrase.Text = "Most probable is: {{.Cause}} ({{.P}} %, alone or with another), and no check that is left here would tell much more."

	causeTwo    phrase.Text = "Two things at once, most probably: {{.Cause}}, and {{.Other}} ({{.P}} % for both). Each was seen by itself."
	causeValves phrase.Text = "Valve timing may be off by many degrees, and the valves may meet the pistons: do not crank. Bar the engine over by hand, slowly, and stop where it resists."

	causeFor     phrase.Text = "{{.Kind}}, {{.Value}}: makes it {{.Factor}} times as probable."
	causeAgainst phrase.Text = "{{.Kind}}, {{.Value}}: makes it {{.Factor}} times less probable."
	causeNeither phrase.Text = "{{.Kind}}, {{.Value}}: hardly changes it."

	clashTwo  phrase.Text = "What was seen does not go together: {{.KindA}}, {{.ValueA}}, and {{.KindB}}, {{.ValueB}}. No probable cause explains both; read both again before going by these probabilities."
	clashOne  phrase.Text = "No cause explains this: {{.KindA}}, {{.ValueA}}. Read it again before going by these probabilities."
	clashMany phrase.Text = "No probable cause explains all that was seen, though any two of it go together. Read it again before going by these probabilities."

	factorMost phrase.Text = "over 9999"

	oneTooth   phrase.Text = "{{.N}} tooth"
	manyTeeth  phrase.Text = "{{.N}} teeth"
	numberUnit             = "{{.N}} {{.Unit}}"

	showsWord  phrase.Text = "{{.Kind}}: {{.Value}}"
	showsBand  phrase.Text = "{{.Kind}}: {{.From}} to {{.To}}"
	showsTeeth phrase.Text = "{{.Kind}}: {{.Teeth}}"
	showsOther phrase.Text = "{{.Kind}}: any other, from {{.From}} to {{.To}}"
	showsElse  phrase.Text = "{{.Kind}}: any other number"

	causePriors  phrase.Text = "How probable each cause is beforehand, how often a check misleads and how long it takes are common practice, with no source. What you know better counts more."
	causeNoGears phrase.Text = "The job has no [gears]: a tooth out was taken as 10 crank degrees, behind an idler."
	causeNoDowel phrase.Text = "The job has no drawing of the dowel: a mirrored dowel was taken as off by anything up to 90°."
	causeNoBand  phrase.Text = "The job has too little for a light-off estimate: it was taken to start with the wheel from 14° behind to 22° ahead."
)

// titles are the faults in a few words.
var titles = func() map[string]phrase.Text {
	of := map[string]phrase.Text{}
	for _, f := range cause.Faults() {
		of[f.Name] = f.Title
	}
	return of
}()

// CauseTitle is a cause in a few words: a fault, or two at once.
func CauseTitle(name string) phrase.Sentence {
	if name == rest {
		return phrase.Sentence{Text: rest}
	}
	if of, ok := titles[name]; ok {
		return phrase.Sentence{Text: of}
	}
	a, b, _ := strings.Cut(name, " and ")
	return phrase.Sentence{Text: "{{.A}} and {{.B}}", Data: map[string]any{"A": titles[a], "B": titles[b]}}
}

// meanings are what each fault is, in a sentence.
var meanings = func() map[string]phrase.Text {
	of := map[string]phrase.Text{}
	for _, f := range cause.Faults() {
		of[f.Name] = f.Says
	}
	return of
}()

// stands is how probable a fault must be to stand out.
const stands = 0.5

func (c *Causes) say(j job.Job) {
	fault, p := c.Ranking.Leading()
	data := map[string]any{"Cause": titles[fault], "P": percent(p)}
	pair := c.Ranking.Pair()
	switch {
	case len(c.Evidence) == 0:
		c.Says = phrase.Sentence{Text: causeNone}
	case pair != nil:
		c.Says = phrase.Sentence{Text: causeTwo, Data: map[string]any{"Cause": titles[pair.Faults[0]], "Other": titles[pair.Faults[1]], "P": percent(pair.Probability)}}
	case p >= cause.Sure:
		c.Says = phrase.Sentence{Text: causeSure, Data: data}
	case len(c.Next) == 0:
		c.Says = phrase.Sentence{Text: causeDone, Data: data}
	case p >= stands:
		c.Says = phrase.Sentence{Text: causeLeading, Data: data}
	default:
		c.Says = phrase.Sentence{Text: causeOpen, Data: data}
	}
	c.Notes = []phrase.Sentence{}
	if k := c.Contradiction; k != nil {
		c.Notes = append(c.Notes, k.Says)
	}
	if c.Ranking.ValvesMayMeet() {
		c.Notes = append(c.Notes, phrase.Sentence{Text: causeValves})
	}
	if j.Gears == nil {
		c.Notes = append(c.Notes, phrase.Sentence{Text: causeNoGears})
	}
	if c.Engine.Dowel == nil {
		c.Notes = append(c.Notes, phrase.Sentence{Text: causeNoDowel})
	}
	if c.Engine.LightsTo == 0 {
		c.Notes = append(c.Notes, phrase.Sentence{Text: causeNoBand})
	}
	c.Notes = append(append(c.Notes, doubtful(j)...), phrase.Sentence{Text: causePriors})
}

// value is what was seen, ready for a sentence: a word, or a number with its unit.
func (c Clue) value() any {
	k, _ := cause.KindNamed(c.Kind)
	switch k.Value {
	case cause.Number:
		v, isNumber := c.Value.(float64)
		if isNumber {
			return withUnit(k, v, 1)
		}
	case cause.YesNo:
		if _, ok := k.Index(c.Value); !ok {
			return phrase.Text("no")
		}
	}
	return k.Text(c.Value)
}

func (c Clue) title() phrase.Text {
	k, _ := cause.KindNamed(c.Kind)
	return k.Title
}

func reasonSays(c Clue, factor float64) phrase.Sentence {
	text := causeNeither
	switch {
	case factor >= speaks:
		text = causeFor
	case factor <= 1/speaks:
		text, factor = causeAgainst, 1/factor
	}
	n := phrase.Num{Value: factor, Decimals: 1}
	if factor >= 10 {
		n.Decimals = 0
	}
	var shown any = n
	if factor > 9999 {
		shown = factorMost
	}
	return phrase.Sentence{Text: text, Data: map[string]any{"Kind": c.title(), "Value": c.value(), "Factor": shown}}
}

func clashSays(of []Clue) phrase.Sentence {
	switch len(of) {
	case 1:
		return phrase.Sentence{Text: clashOne, Data: map[string]any{"KindA": of[0].title(), "ValueA": of[0].value()}}
	case 2:
		return phrase.Sentence{Text: clashTwo, Data: map[string]any{"KindA": of[0].title(), "ValueA": of[0].value(), "KindB": of[1].title(), "ValueB": of[1].value()}}
	}
	return phrase.Sentence{Text: clashMany}
}

// withUnit is a number of the kind with its unit.
func withUnit(k *cause.Kind, v float64, decimals int) any {
	n := phrase.Num{Value: v, Decimals: decimals}
	switch {
	case k.Unit == "teeth" && (v == 1 || v == -1):
		return phrase.Sentence{Text: oneTooth, Data: map[string]any{"N": n}}
	case k.Unit == "teeth":
		return phrase.Sentence{Text: manyTeeth, Data: map[string]any{"N": n}}
	case k.Unit == "°" || quantity.Known(quantity.Unit(k.Unit)):
		return quantity.Amount{Value: v, Unit: quantity.Unit(k.Unit), Decimals: decimals}
	}
	return phrase.Sentence{Text: numberUnit, Data: map[string]any{"N": n, "Unit": k.Unit}}
}

// showsSay is what a check may show, a sentence for each kind of it.
func showsSay(o cause.Outcome) []phrase.Sentence {
	var list []phrase.Sentence
	for _, f := range o.Values {
		k, _ := cause.KindNamed(f.Kind)
		data := map[string]any{"Kind": k.Title}
		switch {
		case f.Word != "":
			data["Value"] = k.Text(f.Word)
			list = append(list, phrase.Sentence{Text: showsWord, Data: data})
		case k.Whole && f.Other:
			list = append(list, phrase.Sentence{Text: showsElse, Data: data})
		case k.Whole:
			data["Teeth"] = withUnit(k, math.Round(f.Likely), 0)
			list = append(list, phrase.Sentence{Text: showsTeeth, Data: data})
		default:
			text := showsBand
			if f.Other {
				text = showsOther
			}
			data["From"], data["To"] = numberOf(withUnit(k, f.From, 0)), withUnit(k, f.To, 0)
			list = append(list, phrase.Sentence{Text: text, Data: data})
		}
	}
	return list
}

// numberOf is a number whose unit stands behind the next one.
func numberOf(v any) any {
	switch v := v.(type) {
	case quantity.Amount:
		return v.Plain()
	case phrase.Sentence:
		return v.Data["N"]
	}
	return v
}

func joined(list []phrase.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = s.String()
	}
	return strings.Join(words, "; ")
}
