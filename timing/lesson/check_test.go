package lesson

import (
	"testing"

	"pinphase.org/pinphase/timing/phrase"
)

func TestCheck(t *testing.T) {
	landed := Part{Form: Number, Value: -16, Tolerance: 0.5, Decimals: 2, Unit: Degrees, Sides: BeforeAfter}
	cam := Part{Form: Number, Value: 11.25, Tolerance: 0.2, Decimals: 2, Unit: Degrees, Sides: EarlyLate}
	dial := Part{Form: Number, Value: 355, Tolerance: 0.3, Decimals: 2, Unit: Degrees, Round: 360}
	turns := Part{Form: Number, Value: 98, Tolerance: 0.4, Unit: Turns}
	stroke := Part{Form: Choose, Choices: []phrase.Sentence{{Text: "power"}, {Text: "exhaust"}, {Text: "intake"}, {Text: "compression"}}, Choice: 1}
	several := Part{Form: Pick, Of: 6, Cylinders: []int{2, 5}}
	none := Part{Form: Pick, Of: 3}
	one := Part{Form: Pick, Of: 6, Cylinders: []int{5}, One: true}
	for _, c := range []struct {
		part  Part
		typed string
		want  Outcome
		read  string
		hint  phrase.Text
	}{
		{landed, "16 atdc", Right, "16° after TDC", ""},
		{landed, "16 after", Right, "16° after TDC", ""},
		{landed, "16 a", Right, "16° after TDC", ""},
		{landed, " 16,0° nach OT", Right, "16° after TDC", ""},
		{landed, "16 después del PMS", Right, "16° after TDC", ""},
		{landed, "ATDC 16.4", Right, "16.4° after TDC", ""},
		{landed, "16.6 atdc", Wrong, "16.6° after TDC", hintClose},
		{landed, "16 btdc", Wrong, "16° before TDC", hintOtherWay},
		{landed, "32 nach", Wrong, "32° after TDC", hintDouble},
		{landed, "8 after", Wrong, "8° after TDC", hintHalf},
		{landed, "tdc", Wrong, "at TDC", ""},
		{landed, "0", Wrong, "at TDC", ""},
		{landed, "16", Unclear, "", hintSides},
		{landed, "-16", Unclear, "", hintSides},
		{landed, "−16 after", Unclear, "", hintSides},
		{landed, "16 before after", Unclear, "", hintBoth},
		{landed, "16 or 18 after", Unclear, "", hintNumber},
		{landed, "after", Unclear, "", hintNumber},
		{landed, "  ", Unclear, "", hintNothing},
		{cam, "11,25 early", Right, "11.25° early", ""},
		{cam, "11.3 adv", Right, "11.3° early", ""},
		{cam, "11.25 früh", Right, "11.25° early", ""},
		{cam, "11.25 spät", Wrong, "11.25° late", hintOtherWay},
		{cam, "11.25 retarded", Wrong, "11.25° late", hintOtherWay},
		{cam, "11.25", Unclear, "", hintEarly},
		{cam, "11.25 zu langsam", Wrong, "11.25° late", hintOtherWay},
		{none, "leer", Right, "none", ""},
		{cam, "neither", Wrong, "neither early nor late", ""},
		{dial, "355", Right, "355°", ""},
		{dial, "−5", Right, "−5°", ""},
		{dial, "-5 deg", Right, "−5°", ""},
		{dial, "5", Wrong, "5°", ""},
		{turns, "98", Right, "98 turns", ""},
		{turns, "98 turns", Right, "98 turns", ""},
		{turns, "49", Wrong, "49 turns", hintHalf},
		{turns, "1", Wrong, "one turn", ""},
		{stroke, "exh", Right, "exhaust", ""},
		{stroke, "2", Right, "exhaust", ""},
		{stroke, "Power", Wrong, "power", ""},
		{stroke, "Auspuffen", Right, "exhaust", ""},
		{stroke, "5", Unclear, "", hintChoice},
		{stroke, "x", Unclear, "", hintChoice},
		{several, "5 and 2", Right, "cylinders 5, 2", ""},
		{several, "2,5", Right, "cylinders 2, 5", ""},
		{several, "2 5 2", Right, "cylinders 2, 5, 2", ""},
		{several, "2", Wrong, "cylinder 2", hintSomeMiss},
		{several, "2 5 6", Wrong, "cylinders 2, 5, 6", hintTooMany},
		{several, "none", Wrong, "none", ""},
		{several, "7", Unclear, "", hintCylinder},
		{several, "99999999999999999999", Unclear, "", hintCylinder},
		{several, "two", Unclear, "", hintList},
		{several, "none 2", Unclear, "", hintList},
		{none, "none", Right, "none", ""},
		{none, "keine", Right, "none", ""},
		{none, "–", Right, "none", ""},
		{none, "1", Wrong, "cylinder 1", ""},
		{one, "5", Right, "cylinder 5", ""},
		{one, "cylinder 5", Right, "cylinder 5", ""},
		{one, "2 5", Unclear, "", hintOne},
		{one, "none", Unclear, "", hintOne},
	} {
		v := c.part.Check(c.typed, "en", func(s phrase.Sentence) string {
			switch s.Text {
			case "exhaust":
				return "Auspuffen"
			case sideLate:
				return "zu langsam"
			case answerNone:
				return "leer"
			}
			return string(s.Text)
		})
		if v.Outcome != c.want || v.Read.String() != c.read || v.Hint.Text != c.hint {
			t.Errorf("%q for %s: %d, read as %q, hint %q; want %d, %q, %q", c.typed, c.part.Answer(), v.Outcome, v.Read, v.Hint.Text, c.want, c.read, c.hint)
		}
	}
}

func FuzzCheck(f *testing.F) {
	f.Add("16 atdc", 0)
	f.Add("2, 5", 1)
	f.Add("−", 2)
	parts := []Part{
		{Form: Number, Value: -16, Tolerance: 0.5, Sides: BeforeAfter, Unit: Degrees},
		{Form: Pick, Of: 6, Cylinders: []int{2, 5}},
		{Form: Choose, Choices: []phrase.Sentence{{Text: "early"}, {Text: "late"}}},
		{Form: Number, Value: 5, Round: 360},
	}
	f.Fuzz(func(t *testing.T, typed string, which int) {
		p := parts[uint(which)%uint(len(parts))]
		v := p.Check(typed, "en", nil)
		if v.Outcome == Unclear && v.Hint.Text == "" {
			t.Errorf("%q is unclear, and nothing says why", typed)
		}
		if v.Outcome != Unclear && v.Read.Text == "" {
			t.Errorf("%q is judged, and nothing says how it was read", typed)
		}
	})
}
