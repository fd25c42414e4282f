package lesson

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing/phrase"
)

// Form is how a part of a question is answered.
type Form int

// The forms.
const (
	Choose Form = iota // one of a few choices
	Pick               // a set of cylinders, perhaps none
	Number             // a number
)

// Unit is what a number counts.
type Unit int

// The units.
const (
	Count Unit = iota
	Degrees
	Turns
)

// Sides are the two ways a number can go, where it has two.
type Sides int

// The sides; the first of each is positive.
const (
	NoSides Sides = iota
	BeforeAfter
	EarlyLate
)

// The names of the sides.
const (
	sideBefore phrase.Text = "before TDC"
	sideAfter  phrase.Text = "after TDC"
	sideEarly  phrase.Text = "early"
	sideLate   phrase.Text = "late"
)

// Names returns the names of both sides, nil where there are none.
func (s Sides) Names() []phrase.Sentence {
	switch s {
	case BeforeAfter:
		return []phrase.Sentence{say(sideBefore, nil), say(sideAfter, nil)}
	case EarlyLate:
		return []phrase.Sentence{say(sideEarly, nil), say(sideLate, nil)}
	}
	return nil
}

// None returns the word for no cylinder at all.
func None() phrase.Sentence { return say(answerNone, nil) }

// Part is one thing to be answered, and the answer.
type Part struct {
	Ask  phrase.Sentence // what for, in a few words
	Form Form

	Choices []phrase.Sentence // Choose
	Choice  int               // the right one, from 0

	Of        int   // Pick: how many cylinders there are
	Cylinders []int // the right ones, rising; none is an answer too
	One       bool  // there is exactly one

	Value     float64 // Number; positive on the first of its sides
	Tolerance float64 // how far off is still right
	Decimals  int     // that are shown of it
	Unit      Unit
	Sides     Sides
	Round     float64 // values that differ by this are the same; 0: none are
}

// The answers in words.
const (
	answerBefore    phrase.Text = "{{.Size}}° before TDC"
	answerAfter     phrase.Text = "{{.Size}}° after TDC"
	answerAtTDC     phrase.Text = "at TDC"
	answerEarly     phrase.Text = "{{.Size}}° early"
	answerLate      phrase.Text = "{{.Size}}° late"
	answerOnTime    phrase.Text = "neither early nor late"
	answerDegrees   phrase.Text = "{{.Value}}°"
	answerTurns     phrase.Text = "{{.Value}} turns"
	answerTurn      phrase.Text = "one turn"
	answerCount     phrase.Text = "{{.Value}}"
	answerCylinder  phrase.Text = "cylinder {{.List}}"
	answerCylinders phrase.Text = "cylinders {{.List}}"
	answerNone      phrase.Text = "none"
)

// within says how far off an answer is still right.
const within phrase.Text = "{{.Part}} (±{{.Tolerance}}°)"

// Label returns what is asked for, and how far off an angle is still right.
func (p Part) Label() phrase.Sentence {
	if p.Form != Number || p.Unit != Degrees {
		return p.Ask
	}
	return say(within, map[string]any{"Part": p.Ask, "Tolerance": phrase.Num{Value: p.Tolerance, Decimals: 2}})
}

// Answer returns the right answer in words.
func (p Part) Answer() phrase.Sentence {
	switch p.Form {
	case Choose:
		return p.Choices[p.Choice]
	case Pick:
		return cylindersInWords(p.Cylinders)
	}
	return p.inWords(p.Value, p.Decimals)
}

func cylindersInWords(list []int) phrase.Sentence {
	switch len(list) {
	case 0:
		return say(answerNone, nil)
	case 1:
		return say(answerCylinder, map[string]any{"List": list[0]})
	}
	return say(answerCylinders, map[string]any{"List": joined(list, ", ")})
}

func (p Part) inWords(v float64, decimals int) phrase.Sentence {
	n := phrase.Num{Value: v, Decimals: decimals}
	words := map[string]any{"Value": n, "Size": phrase.Num{Value: math.Abs(v), Decimals: n.Decimals}}
	switch {
	case p.Sides != NoSides && n.String() == "0":
		return say([]phrase.Text{BeforeAfter: answerAtTDC, EarlyLate: answerOnTime}[p.Sides], nil)
	case p.Sides == BeforeAfter && v > 0:
		return say(answerBefore, words)
	case p.Sides == BeforeAfter:
		return say(answerAfter, words)
	case p.Sides == EarlyLate && v > 0:
		return say(answerEarly, words)
	case p.Sides == EarlyLate:
		return say(answerLate, words)
	case p.Unit == Degrees:
		return say(answerDegrees, words)
	case p.Unit == Turns && n.String() == "1":
		return say(answerTurn, nil)
	case p.Unit == Turns:
		return say(answerTurns, words)
	}
	return say(answerCount, words)
}

// decimals is how many decimals a number that somebody typed has, three at most.
func decimals(v float64) int {
	for n := range 3 {
		scaled := v * math.Pow10(n)
		if math.Abs(scaled-math.Round(scaled)) < 1e-6 {
			return n
		}
	}
	return 3
}

// guess is the chance of answering the part by guessing.
func (p Part) guess() float64 {
	switch {
	case p.Form == Choose:
		return 1 / float64(len(p.Choices))
	case p.Form == Pick && p.Of > 0:
		return 1 / float64(p.Of+1)
	}
	return 0
}

// hundredths rounds a tolerance up to what is shown of it.
func hundredths(v float64) float64 { return math.Ceil(v*100-1e-9) / 100 }

// near tells whether a number is the answer within the tolerance.
func (p Part) near(v float64) bool {
	off := v - p.Value
	if p.Round > 0 {
		off -= p.Round * math.Round(off/p.Round)
	}
	return math.Abs(off) <= p.Tolerance+1e-9
}

func sameCylinders(a, b []int) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(slices.Compact(a), slices.Compact(b))
}
