package phrase

import (
	"errors"
	"fmt"
	"testing"
)

func TestPhrase(t *testing.T) {
	for _, c := range []struct {
		p    Sentence
		want string
	}{
		{Of("is missing"), "is missing"},
		{Of("95 % of it"), "95 % of it"}, // no arguments: no format
		{Of("is %s; it must be above %s and at most %s", MM(-3).Plain(), MM(0).Plain(), MM(5000)), "is -3; it must be above 0 and at most 5000 mm"},
		{Of("at %s, %q", Value{V: 12.5, Unit: "°"}, "x"), `at 12.5°, "x"`},
		{Of("is %s", Of("the text %q", "no")), `is the text "no"`},
		{Of("%s is %s", Text("it"), Value{V: 1e-3}), "it is 0.001"},
	} {
		if got := c.p.String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
}

// An error keeps what it wraps, and what wraps it does not hide its phrase.
func TestErrorf(t *testing.T) {
	end := Errorf("the end")
	middle := Errorf("line %d: %v", 7, end)
	if middle.Error() != "line 7: the end" || !errors.Is(middle, end) {
		t.Errorf("%q, wraps the end: %v", middle, errors.Is(middle, end))
	}
	if p := From(fmt.Errorf("reading: %w", middle)); p.Text != "line %d: %v" {
		t.Errorf("the phrase is %+v", p)
	}
	if p := From(errors.New("100 % sure")); p.String() != "100 % sure" || len(p.Args) != 1 {
		t.Errorf("an ordinary error is told as %q", p)
	}
}
