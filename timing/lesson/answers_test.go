package lesson_test

import (
	"embed"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

//go:embed testdata/answers
var answers embed.FS

var answerParts = map[string]lesson.Part{
	"after16":  {Form: lesson.Number, Value: -16, Tolerance: 0.5, Decimals: 2, Unit: lesson.Degrees, Sides: lesson.BeforeAfter},
	"before31": {Form: lesson.Number, Value: 31, Tolerance: 0.5, Decimals: 2, Unit: lesson.Degrees, Sides: lesson.BeforeAfter},
	"half16":   {Form: lesson.Number, Value: -16.5, Tolerance: 0.2, Decimals: 2, Unit: lesson.Degrees, Sides: lesson.BeforeAfter},
	"early":    {Form: lesson.Number, Value: 11.25, Tolerance: 0.2, Decimals: 2, Unit: lesson.Degrees, Sides: lesson.EarlyLate},
	"late":     {Form: lesson.Number, Value: -7.5, Tolerance: 0.2, Decimals: 2, Unit: lesson.Degrees, Sides: lesson.EarlyLate},
	"third":    {Form: lesson.Number, Value: 1. / 3, Tolerance: 0.01, Decimals: 2, Unit: lesson.Turns},
	"none":     {Form: lesson.Pick, Of: 6},
	"pair":     {Form: lesson.Pick, Of: 6, Cylinders: []int{2, 5}},
	"six":      {Form: lesson.Pick, Of: 6, Cylinders: []int{6}, One: true},
	"exhaust":  {Form: lesson.Choose, Choices: []phrase.Sentence{{Text: "power"}, {Text: "exhaust"}, {Text: "intake"}, {Text: "compression"}}, Choice: 1},
}

var outcomes = map[string]lesson.Outcome{"right": lesson.Right, "wrong": lesson.Wrong, "unclear": lesson.Unclear}

// A hundred ways and more to write an answer in each language are judged as a teacher
// would.
func TestAnswersAsPeopleWriteThem(t *testing.T) {
	for _, code := range language.Codes {
		text, err := answers.ReadFile("testdata/answers/" + code + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		say := language.New(code, quantity.Units{}).Say
		n := 0
		for line := range strings.Lines(string(text)) {
			if strings.HasPrefix(line, "#") {
				continue
			}
			cells := strings.Split(strings.TrimSpace(line), "|")
			if len(cells) != 3 {
				t.Fatalf("%s: %q", code, line)
			}
			part, known := answerParts[strings.TrimSpace(cells[0])]
			want, judged := outcomes[strings.TrimSpace(cells[2])]
			if !known || !judged {
				t.Fatalf("%s: %q", code, line)
			}
			n++
			if v := part.Check(strings.TrimSpace(cells[1]), code, say); v.Outcome != want {
				t.Errorf("%s: %s: judged %d, read as %q, hint %q", code, strings.TrimSpace(line), v.Outcome, say(v.Read), say(v.Hint))
			}
		}
		if n < 100 {
			t.Errorf("%s: %d ways", code, n)
		}
	}
}

// An answer as the program writes it is right, in each of its languages.
func TestItsOwnNotationIsRight(t *testing.T) {
	for _, code := range language.Codes {
		say := language.New(code, quantity.Units{}).Say
		for _, k := range lesson.Kinds() {
			for level := 1; level <= lesson.Levels; level++ {
				for seed := range uint64(5) {
					q, err := lesson.Make(lesson.Invent(level, seed), k, level, seed)
					if err != nil {
						continue // an engine that does not suit the kind
					}
					for _, p := range q.Parts {
						if typed := say(p.Answer()); p.Check(typed, code, say).Outcome != lesson.Right {
							t.Errorf("%s: %s: its own answer %q is judged %+v", code, say(q.Ask), typed, p.Check(typed, code, say))
						}
					}
				}
			}
		}
		for _, zero := range []lesson.Part{
			{Form: lesson.Number, Tolerance: 0.5, Unit: lesson.Degrees, Sides: lesson.BeforeAfter},
			{Form: lesson.Number, Tolerance: 0.5, Unit: lesson.Degrees, Sides: lesson.EarlyLate},
		} {
			if typed := say(zero.Answer()); zero.Check(typed, code, say).Outcome != lesson.Right {
				t.Errorf("%s: %q is judged %+v", code, typed, zero.Check(typed, code, say))
			}
		}
	}
}
