package finding

import (
	"math"
	"strings"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// The sentences of the causes.
const (
	causeNone    = "No evidence yet: the causes stand as probable as they are before anything is seen."
	causeSure    = "Sure enough to act on: {{.Cause}} ({{.P}} %, alone or with another)."
	causeLeading = "Most probable is: {{.Cause}} ({{.P}} %, alone or with another). That is not sure enough to pull anything for: make the next check first."
	causeOpen    = "Nothing stands out yet; most probable is: {{.Cause}} ({{.P}} %, alone or with another). Make the next check."
	causeDone    = "Most probable is: {{.Cause}} ({{.P}} %, alone or with another), and no check that is left here would tell much more."

	causeTwo    = "Two things at once, most probably: {{.Cause}}, and {{.Other}} ({{.P}} % for both). Each was seen by itself."
	causeValves = "Valve timing may be off by many degrees, and the valves may meet the pistons: do not crank. Bar the engine over by hand, slowly, and stop where it resists."

	causeFor     = "{{.Kind}}, {{.Value}}: makes it {{.Factor}} times as probable."
	causeAgainst = "{{.Kind}}, {{.Value}}: makes it {{.Factor}} times less probable."
	causeNeither = "{{.Kind}}, {{.Value}}: hardly changes it."

	clashTwo  = "What was seen does not go together: {{.KindA}}, {{.ValueA}}, and {{.KindB}}, {{.ValueB}}. No probable cause explains both; read both again before going by these probabilities."
	clashOne  = "No cause explains this: {{.KindA}}, {{.ValueA}}. Read it again before going by these probabilities."
	clashMany = "No probable cause explains all that was seen, though any two of it go together. Read it again before going by these probabilities."

	factorMost = "over 9999"

	oneTooth   = "{{.N}} tooth"
	manyTeeth  = "{{.N}} teeth"
	numberUnit = "{{.N}} {{.Unit}}"

	showsWord  = "{{.Kind}}: {{.Value}}"
	showsBand  = "{{.Kind}}: {{.From}} to {{.To}}"
	showsTeeth = "{{.Kind}}: {{.Teeth}}"
	showsOther = "{{.Kind}}: any other, from {{.From}} to {{.To}}"
	showsElse  = "{{.Kind}}: any other number"

	causePriors  = "How probable each cause is beforehand, how often a check misleads and how long it takes are common practice, with no source. What you know better counts more."
	causeNoGears = "The job has no [gears]: a tooth out was taken as 10 crank degrees, behind an idler."
	causeNoDowel = "The job has no drawing of the dowel: a mirrored dowel was taken as off by anything up to 90°."
	causeNoBand  = "The job has too little for a light-off estimate: it was taken to start with the wheel from 14° behind to 22° ahead."
)

var causeTexts = []string{
	causeTwo, causeValves, causeNone, causeSure, causeLeading, causeOpen, causeDone, causeFor, causeAgainst, causeNeither, clashTwo, clashOne, clashMany,
	factorMost, oneTooth, manyTeeth, showsWord, showsBand, showsTeeth, showsOther, showsElse,
	causePriors, causeNoGears, causeNoDowel, causeNoBand, rest,
}

// meanings are what each fault is, in a sentence.
var meanings = func() map[string]string {
	of := map[string]string{}
	for _, f := range cause.Faults() {
		of[f.Name] = f.Says
	}
	return of
}()

// causeWords are every text of package cause that may be shown.
func causeWords() []string {
	var list []string
	for _, f := range cause.Faults() {
		list = append(list, f.Name, f.Says)
	}
	for _, k := range cause.Kinds() {
		list = append(append(list, k.Title, k.Unit), k.Words...)
	}
	list = append(list, "no", "yes", "good", "not good", cause.Again())
	for _, c := range cause.Checks() {
		list = append(list, c.Name, c.Tools)
		for _, a := range c.Cautions {
			list = append(list, a.String())
		}
	}
	for c := cause.Caution(0); c <= cause.LastCaution; c++ {
		list = append(list, c.String())
	}
	return append(list, causeTexts...)
}

// stands is how probable a fault must be to stand out.
const stands = 0.5

func (c *Causes) say(j job.Job) {
	fault, p := c.Ranking.Leading()
	data := map[string]any{"Cause": Term(fault), "P": percent(p)}
	pair := c.Ranking.Pair()
	switch {
	case len(c.Evidence) == 0:
		c.Says = Sentence{Text: causeNone}
	case pair != nil:
		c.Says = Sentence{causeTwo, map[string]any{"Cause": Term(pair.Faults[0]), "Other": Term(pair.Faults[1]), "P": percent(pair.Probability)}}
	case p >= cause.Sure:
		c.Says = Sentence{causeSure, data}
	case len(c.Next) == 0:
		c.Says = Sentence{causeDone, data}
	case p >= stands:
		c.Says = Sentence{causeLeading, data}
	default:
		c.Says = Sentence{causeOpen, data}
	}
	c.Notes = []Sentence{}
	if k := c.Contradiction; k != nil {
		c.Notes = append(c.Notes, k.Says)
	}
	if c.Ranking.ValvesMayMeet() {
		c.Notes = append(c.Notes, Sentence{Text: causeValves})
	}
	if j.Gears == nil {
		c.Notes = append(c.Notes, Sentence{Text: causeNoGears})
	}
	if c.Engine.Dowel == nil {
		c.Notes = append(c.Notes, Sentence{Text: causeNoDowel})
	}
	if c.Engine.LightsTo == 0 {
		c.Notes = append(c.Notes, Sentence{Text: causeNoBand})
	}
	c.Notes = append(c.Notes, Sentence{Text: causePriors})
}

// value is what was seen, ready for a sentence: a word, or a number with its unit.
func (c Clue) value() any {
	k, _ := cause.KindNamed(c.Kind)
	switch k.Value {
	case cause.Number:
		v, isNumber := c.Value.(float64)
		if i, ok := k.Index(c.Value); !isNumber && ok {
			return Term(k.Judgements()[i])
		}
		return withUnit(k, v, 1)
	case cause.YesNo:
		if v, _ := c.Value.(bool); v {
			return Term("yes")
		}
		return Term("no")
	}
	if i, ok := k.Index(c.Value); ok {
		return Term(k.Words[i])
	}
	return ""
}

func (c Clue) title() Term {
	k, _ := cause.KindNamed(c.Kind)
	return Term(k.Title)
}

func reasonSays(c Clue, factor float64) Sentence {
	text := causeNeither
	switch {
	case factor >= speaks:
		text = causeFor
	case factor <= 1/speaks:
		text, factor = causeAgainst, 1/factor
	}
	n := Num{factor, 1}
	if factor >= 10 {
		n.Decimals = 0
	}
	var shown any = n
	if factor > 9999 {
		shown = Term(factorMost)
	}
	return Sentence{text, map[string]any{"Kind": c.title(), "Value": c.value(), "Factor": shown}}
}

func clashSays(of []Clue) Sentence {
	switch len(of) {
	case 1:
		return Sentence{clashOne, map[string]any{"KindA": of[0].title(), "ValueA": of[0].value()}}
	case 2:
		return Sentence{clashTwo, map[string]any{"KindA": of[0].title(), "ValueA": of[0].value(), "KindB": of[1].title(), "ValueB": of[1].value()}}
	}
	return Sentence{Text: clashMany}
}

// withUnit is a number of the kind with its unit.
func withUnit(k *cause.Kind, v float64, decimals int) any {
	n := Num{v, decimals}
	switch {
	case k.Unit == "teeth" && (v == 1 || v == -1):
		return Sentence{oneTooth, map[string]any{"N": n}}
	case k.Unit == "teeth":
		return Sentence{manyTeeth, map[string]any{"N": n}}
	case k.Unit == "°" || quantity.Known(quantity.Unit(k.Unit)):
		return quantity.Amount{Value: v, Unit: quantity.Unit(k.Unit), Decimals: decimals}
	}
	return Sentence{numberUnit, map[string]any{"N": n, "Unit": Term(k.Unit)}}
}

// showsSay is what a check may show, a sentence for each kind of it.
func showsSay(o cause.Outcome) []Sentence {
	var list []Sentence
	for _, f := range o.Values {
		k, _ := cause.KindNamed(f.Kind)
		data := map[string]any{"Kind": Term(k.Title)}
		switch {
		case f.Word != "":
			data["Value"] = Term(f.Word)
			list = append(list, Sentence{showsWord, data})
		case k.Whole && f.Other:
			list = append(list, Sentence{showsElse, data})
		case k.Whole:
			data["Teeth"] = withUnit(k, math.Round(f.Likely), 0)
			list = append(list, Sentence{showsTeeth, data})
		default:
			text := showsBand
			if f.Other {
				text = showsOther
			}
			data["From"], data["To"] = numberOf(withUnit(k, f.From, 0)), withUnit(k, f.To, 0)
			list = append(list, Sentence{text, data})
		}
	}
	return list
}

// numberOf is a number whose unit stands behind the next one.
func numberOf(v any) any {
	switch v := v.(type) {
	case quantity.Amount:
		return v.Plain()
	case Sentence:
		return v.Data["N"]
	}
	return v
}

func joined(list []Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = s.String()
	}
	return strings.Join(words, "; ")
}
