package wheel

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What the trade's notation stands for. 60-2 and 36-1 have their gap before tooth 1, as
// every wheel of the kind is numbered here; that several gaps lie evenly is an assumption.
func TestNotation(t *testing.T) {
	for text, want := range map[string]struct {
		positions int
		missing   []int
		extra     int
	}{
		"60-2":     {60, []int{59, 60}, 0},
		"60–2":     {60, []int{59, 60}, 0},
		" 36 - 1 ": {36, []int{36}, 0},
		"36-2-2-2": {36, []int{11, 12, 23, 24, 35, 36}, 0},
		"36-2-1":   {36, []int{18, 35, 36}, 0},
		"36-1-2":   {36, []int{18, 35, 36}, 0},
		"24+1":     {24, nil, 1},
		"60-2+1":   {60, []int{59, 60}, 1},
		"12":       {12, nil, 0},
	} {
		n, err := ParseNotation(text)
		if err != nil || n.Positions != want.positions || n.Extra != want.extra || !slices.Equal(n.Missing(), want.missing) {
			t.Errorf("%q is %+v with %v missing, %v; want %+v", text, n, n.Missing(), err, want)
		}
	}
	for _, text := range []string{"", "-", "60-", "-2", "60--2", "60-x", "60-60", "60-59-1", "4-1-1-1", "24+", "24++1", "+1", "60-0", "0", "99999999999999999999", "3601", "60.5", "1e3", "60-2-",
		"60-9223372036854775807", "60-9223372036854775807-9223372036854775807", "60-3601", "3600-3601-1", "9223372036854775807", "+60", "+60-2", "60-+2", "24+3601",
		"36-20-1-1", "36-1-1-20", "4-2-1"} {
		if n, err := ParseNotation(text); err == nil {
			t.Errorf("%q is taken as %+v", text, n)
		}
	}
}

// Every notation that is taken is a wheel whose notation it is, with its gaps in their
// order round the wheel and one of the longest before position 1.
func TestNotationOfAWheel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Notation{Positions: rapid.IntRange(4, 120).Draw(t, "positions")}
		gaps := rapid.IntRange(0, 4).Draw(t, "gaps")
		for range gaps {
			n.Gaps = append(n.Gaps, rapid.IntRange(1, 30).Draw(t, "gap"))
		}
		read, err := ParseNotation(n.String())
		if err != nil {
			return
		}
		got, ok := Notated(Crank{Positions: read.Positions, Missing: read.Missing()})
		if !ok || got.String() != read.String() {
			t.Fatalf("%s reads as %s, %v", n, got, ok)
		}
		if len(n.Gaps) == 0 {
			return
		}
		turned := slices.Clone(n.Gaps)
		for range turned {
			if slices.Equal(turned, got.Gaps) && turned[len(turned)-1] == slices.Max(turned) {
				return
			}
			turned = append(turned[1:], turned[0])
		}
		t.Fatalf("%s reads as %s", n, got)
	})
}
