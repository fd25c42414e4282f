package lesson

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// Outcome is how an answer is judged.
type Outcome int

// The outcomes. An unclear answer is neither right nor wrong: it is asked for
// again.
const (
	Unclear Outcome = iota
	Wrong
	Right
)

// Verdict is what becomes of an answer.
type Verdict struct {
	Outcome Outcome
	Read    phrase.Sentence // how the answer was understood; empty when it was not
	Hint    phrase.Sentence // what is unclear, or what a wrong answer comes near to; may be empty
}

// What is said of an answer.
const (
	hintNothing  phrase.Text = "Enter an answer, or say that you do not know it."
	hintNumber   phrase.Text = "Enter one number."
	hintSides    phrase.Text = "Say before or after TDC: “{{.Value}} before” or “{{.Value}} after”."
	hintEarly    phrase.Text = "Say early or late: “{{.Value}} early” or “{{.Value}} late”."
	hintBoth     phrase.Text = "Say one side, not both."
	hintChoice   phrase.Text = "Choose one of the answers, or enter its number."
	hintCylinder phrase.Text = "There is no cylinder {{.N}}: the engine has {{.Of}}."
	hintList     phrase.Text = "Enter the numbers of the cylinders, such as “2, 5”, or “none”."
	hintOne      phrase.Text = "Enter the number of one cylinder."
	hintOtherWay phrase.Text = "The size is correct, the side is the other one."
	hintDouble   phrase.Text = "That is twice the answer."
	hintHalf     phrase.Text = "That is half the answer."
	hintClose    phrase.Text = "That is close, but the difference is more than rounding."
	hintSomeMiss phrase.Text = "Those are correct, but not all."
	hintTooMany  phrase.Text = "The correct ones are among them, but not all of these are correct."
)

// Check judges what somebody typed, whatever the case, the spaces and the unit;
// numbers with a decimal point or comma or as fractions; sides and choices by their
// words or how these begin, in English, Spanish or German, of which that of the reader
// goes first. language is its code. reader puts a sentence into it; nil stands for
// English.
func (p Part) Check(typed, language string, reader func(phrase.Sentence) string) Verdict {
	if reader == nil {
		reader = phrase.Sentence.String
	}
	if strings.TrimSpace(typed) == "" {
		return unclear(hintNothing, nil)
	}
	switch p.Form {
	case Choose:
		return p.checkChoice(typed, reader)
	case Pick:
		return p.checkCylinders(typed, reader)
	}
	return p.checkNumber(typed, language, reader)
}

func unclear(text phrase.Text, data map[string]any) Verdict { return Verdict{Hint: say(text, data)} }

func (p Part) checkChoice(typed string, reader func(phrase.Sentence) string) Verdict {
	typed = strings.ToLower(strings.TrimSpace(typed))
	found := -1
	if n, err := strconv.Atoi(typed); err == nil {
		if n < 1 || n > len(p.Choices) {
			return unclear(hintChoice, nil)
		}
		found = n - 1
	}
	for i, c := range p.Choices {
		for _, w := range []string{c.String(), reader(c)} {
			if !strings.HasPrefix(strings.ToLower(w), typed) {
				continue
			}
			if found >= 0 && found != i {
				return unclear(hintChoice, nil)
			}
			found = i
		}
	}
	if found < 0 {
		return unclear(hintChoice, nil)
	}
	v := Verdict{Outcome: Wrong, Read: p.Choices[found]}
	if found == p.Choice {
		v.Outcome = Right
	}
	return v
}

var digits = regexp.MustCompile(`\d+`)

func (p Part) checkCylinders(typed string, reader func(phrase.Sentence) string) Verdict {
	var list []int
	written := digits.FindAllString(typed, -1)
	none := says(typed, noneWords) || strings.EqualFold(strings.TrimSpace(typed), reader(None())) ||
		len(written) == 0 && says(typed, map[string]bool{"no": true}) // before a number it is "number"
	if len(written) == 1 && strings.Trim(written[0], "0") == "" && !p.One { // as many as none
		written, none = nil, true
	}
	for _, w := range written {
		n, err := strconv.Atoi(w)
		if err != nil || n < 1 || n > p.Of {
			return unclear(hintCylinder, map[string]any{"N": w, "Of": p.Of})
		}
		list = append(list, n)
	}
	switch {
	case p.One && len(list) != 1:
		return unclear(hintOne, nil)
	case len(list) == 0 && !none && strings.Trim(typed, " -–−—") != "", none && len(list) > 0:
		return unclear(hintList, nil)
	}
	v := Verdict{Outcome: Right, Read: cylindersInWords(list)}
	if sameCylinders(list, p.Cylinders) {
		return v
	}
	v.Outcome = Wrong
	right := 0
	for _, c := range p.Cylinders {
		for _, n := range list {
			if c == n {
				right++
				break
			}
		}
	}
	switch {
	case right > 0 && right == len(p.Cylinders):
		v.Hint = say(hintTooMany, nil)
	case right > 0 && right == len(list):
		v.Hint = say(hintSomeMiss, nil)
	}
	return v
}

func (p Part) checkNumber(typed, language string, reader func(phrase.Sentence) string) Verdict {
	var names [2]string
	for i, n := range p.Sides.Names() {
		names[i] = reader(n)
	}
	side, both := p.Sides.read(typed, language, names)
	found, ok := numbers(typed)
	var value float64
	switch {
	case plainly(strings.TrimSpace(typed)) == plainly(reader(p.inWords(0, 0))), len(found) == 0 && p.Sides != NoSides && side == 0 && !both && says(typed, zeroWords):
	case both:
		return unclear(hintBoth, nil)
	case len(found) == 0 && ok && p.Sides == NoSides && says(typed, oneWords):
		value = 1
	case len(found) != 1:
		return unclear(hintNumber, nil)
	default:
		value = found[0]
	}
	if p.Sides != NoSides && value != 0 {
		switch {
		case side != 0 && value > 0:
			value *= side
		default:
			text := hintSides
			if p.Sides == EarlyLate {
				text = hintEarly
			}
			return unclear(text, map[string]any{"Value": phrase.Num{Value: math.Abs(value), Decimals: max(p.Decimals, decimals(value))}})
		}
	}
	v := Verdict{Outcome: Right, Read: p.inWords(value, max(p.Decimals, decimals(value)))}
	if p.near(value) {
		return v
	}
	v.Outcome = Wrong
	other, twice, half := p, p, p
	other.Value, twice.Value, half.Value = -p.Value, 2*p.Value, p.Value/2
	switch off := math.Abs(value - p.Value); {
	case p.Sides != NoSides && other.near(value):
		v.Hint = say(hintOtherWay, nil)
	case p.Unit == Degrees && off <= 4*p.Tolerance:
		v.Hint = say(hintClose, nil)
	case p.Unit != Count && p.Value != 0 && twice.near(value):
		v.Hint = say(hintDouble, nil)
	case p.Unit != Count && p.Value != 0 && half.near(value):
		v.Hint = say(hintHalf, nil)
	}
	return v
}
