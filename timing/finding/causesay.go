package finding

import (
	"strings"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// The sentences of the causes.
const (
	causeOthers phrase.Text = "anything else, or two at once"
	causeValves phrase.Text = "Valve timing may be out by many degrees, and the valves may hit the pistons: do not crank. Turn the engine by hand, slowly, and stop where it resists."

	clashTwo  phrase.Text = "The findings contradict each other: {{.KindA}}, {{.ValueA}}, and {{.KindB}}, {{.ValueB}}. No probable cause explains both; take both readings again before you rely on these probabilities."
	clashOne  phrase.Text = "No cause explains this: {{.KindA}}, {{.ValueA}}. Take the reading again before you rely on these probabilities."
	clashMany phrase.Text = "No probable cause explains all findings, though any two of them agree. Take the readings again before you rely on these probabilities."

	oneTooth   phrase.Text = "{{.N}} tooth"
	manyTeeth  phrase.Text = "{{.N}} teeth"
	numberUnit             = "{{.N}} {{.Unit}}"

	causePriors  phrase.Text = "The probability of each cause before any evidence, how often a check misleads and how long it takes are rules of thumb, without a source. Your own numbers take precedence."
	causeNoGears phrase.Text = "The job has no [gears]: 10 crank degrees for a tooth, with an idler gear, was assumed."
	causeNoDowel phrase.Text = "The job has no drawing of the dowel: for a mirrored dowel, any error up to 90° was assumed."
	causeNoBand  phrase.Text = "The job has too little for an ignition estimate: it was assumed that the engine starts with the wheel from 14° behind to 22° ahead."
)

// titles are the faults in a few words.
var titles = func() map[string]phrase.Text {
	of := map[string]phrase.Text{}
	for _, f := range cause.Faults() {
		of[f.Name] = f.Title
	}
	return of
}()

// CauseTitle is a cause in a few words: a fault, or two at once; "" is all that a list
// leaves out.
func CauseTitle(name string) phrase.Sentence {
	if name == "" {
		return phrase.Sentence{Text: causeOthers}
	}
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
	c.Says, c.Then = c.lead()
	c.PlanSays = c.planSays()
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
			return withUnit(k, v)
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
func withUnit(k *cause.Kind, v float64) any {
	n := phrase.Num{Value: v, Decimals: 1}
	switch {
	case k.Unit == "teeth" && (v == 1 || v == -1):
		return phrase.Sentence{Text: oneTooth, Data: map[string]any{"N": n}}
	case k.Unit == "teeth":
		return phrase.Sentence{Text: manyTeeth, Data: map[string]any{"N": n}}
	case k.Unit == "°" || quantity.Known(quantity.Unit(k.Unit)):
		return quantity.Amount{Value: v, Unit: quantity.Unit(k.Unit), Decimals: 1}
	}
	return phrase.Sentence{Text: numberUnit, Data: map[string]any{"N": n, "Unit": k.Unit}}
}
