package finding

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
)

func TestNum(t *testing.T) {
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{
		{0, 1, "0"}, {-0.04, 1, "0"}, {0.04, 1, "0"}, {-0.06, 1, "−0.1"}, {100, 0, "100"}, {100, 1, "100"}, {100, 2, "100"},
		{1e6, 1, "1000000"}, {1200, 2, "1200"}, {-28, 1, "−28"}, {-28.0029, 2, "−28"}, {12.50, 2, "12.5"}, {12.05, 2, "12.05"},
		{0.395, 1, "0.4"}, {719.96, 1, "720"}, {-180, 0, "−180"}, {-0.4, 0, "0"}, {10, 0, "10"},
	} {
		if got := (phrase.Num{Value: c.value, Decimals: c.decimals}).String(); got != c.want {
			t.Errorf("%g to %d decimals: %q, want %q", c.value, c.decimals, got, c.want)
		}
	}
	for value, want := range map[float64]string{-14: "(−14)", 14: "14", 0: "0", -0.001: "0"} {
		if got := phrase.Operand(phrase.Num{Value: value, Decimals: 2}).String(); got != want {
			t.Errorf("%g in a sum: %q, want %q", value, got, want)
		}
	}
}

// One sentence for each of one cylinder or more and each way; later and earlier are said
// in those that the interval bears, and conditions where nobody has measured.
func TestSaying(t *testing.T) {
	for name, of := range map[string]map[way]phrase.Text{"very injection starts": everySays, "njection starts": oneSays} {
		if len(of) != int(wayMaybe)+1 {
			t.Errorf("%d sentences, want %d", len(of), wayMaybe+1)
		}
		for w, text := range of {
			for needle, wanted := range map[string]bool{
				name: w != wayHalf && w != wayNothing && w != wayDisputed || name == "njection starts", "{{.Where}}": w != wayNothing,
				"If the ": w >= wayAssumed && w <= wayCarriedEarly, "ot certain": w >= wayDisputed, " later ": w == wayLate || w == wayCarriedLate, " earlier ": w == wayEarly || w == wayCarriedEarly,
				"{{.By}}":             w == wayLate || w == wayEarly || w == wayCarriedLate || w == wayCarriedEarly,
				"{{.Give}}":           w == wayGive || w == wayOpen || w == wayCarriedOpen || w == wayNothing,
				"starts as commanded": w == wayRight || w == wayGive || w == wayAssumed,
				"cannot tell that from the start commanded": w == wayOpen || w == wayCarriedOpen,
			} {
				if strings.Contains(strings.ToLower(string(text)), strings.ToLower(needle)) != wanted && !(name == "njection starts" && w == wayNothing && needle == name) {
					t.Errorf("%d, %q: %q", w, needle, text)
				}
			}
		}
	}
}

// What the sentence says at the edges of what is shown: a wheel error or an angle
// from TDC that is nothing in tenths of a degree is not spoken of.
func TestSays(t *testing.T) {
	for _, c := range []struct {
		single        bool
		wheel, actual timing.Deg
		stroke        timing.Stroke
		want          string
	}{
		{false, -28, -18, timing.Power, "Every injection starts 18° after TDC (power stroke): 28° later than commanded."},
		{true, 2.5, 12.5, timing.Compression, "Injection starts 12.5° before TDC (compression stroke): 2.5° earlier than commanded."},
		{true, -10, 0, timing.Power, "Injection starts at TDC: 10° later than commanded."},
		{false, -9.97, 0.03, timing.Compression, "Every injection starts at TDC: 10° later than commanded."},
		{false, 0.03, 10.03, timing.Compression, "Every injection starts as commanded: 10° before TDC (compression stroke)."},
		{true, 0, -4, timing.Power, "Injection starts as commanded: 4° after TDC (power stroke)."},
		{false, 0, 0, timing.Power, "Every injection starts as commanded: at TDC."},
		{false, 180, 190, timing.Intake, "Injection starts about half a crankshaft turn away from the start commanded, 190° before TDC (intake stroke): whether that is early or late cannot be told."},
	} {
		if got := (errorsOf{wheel: timing.Measured{Value: c.wheel}, basis: known.Measured}).says(c.single, c.actual, c.stroke).String(); got != c.want {
			t.Errorf("wheel error %g, %g BTDC:\n%s\nwant\n%s", float64(c.wheel), float64(c.actual), got, c.want)
		}
	}
}

// Which notes and steps a job brings, and that their words are right.
func TestNotesAndSteps(t *testing.T) {
	dowel := func(measured, u string) string {
		return "[dowel]\ndrawing = { angle_deg = 20, side = \"clockwise\" }\nmeasured = { angle_deg = " + measured + ", side = \"clockwise\"" + u + " }\n"
	}
	keyway := func(measured string) string {
		return "[keyway]\ndrawing = { angle_deg = 60, side = \"clockwise\" }\nmeasured = { angle_deg = " + measured + ", side = \"clockwise\", u_deg = 0.3 }\n"
	}
	for _, c := range []struct {
		name, job     string
		says, doesNot []string
	}{
		{"sure", dowel("25", ", u_deg = 0.2"), []string{
			"The wheel error is 5° ± 0.2° (standard uncertainty); the 95 % interval is 4.6° to 5.4°.",
			"A dowel-to-keyway angle alone cannot say which of the two is wrong.",
			"Wheel error = gear error + measured − drawing = 0 + 25 − 20 = 5°.",
			"The wheel is 5° ahead",
			"starts at 10 + 5 = 15° before TDC.",
		}, []string{"cannot tell it from 0", "default", "short way round", "after TDC", "assumed"}},
		{"unsure", dowel("20.3", ", u_deg = 0.2"), []string{
			"The wheel error is 0.3° ± 0.2° (standard uncertainty): these readings cannot tell it from 0. The part may be correct.",
		}, []string{"which of the two", "95 %"}},
		{"as drawn, as far as can be told", dowel("20", ", u_deg = 0.2"), []string{
			"The wheel error is 0° ± 0.2° (standard uncertainty): these readings cannot tell it from 0.",
		}, []string{"which of the two", "ahead", "behind"}},
		{"exact", dowel("25", ", u_deg = 0"), nil, []string{"standard uncertainty", "±"}},
		{"default uncertainty", dowel("25", ""), []string{
			"Dowel: no uncertainty was given for the reading; the method's default, 2°, was assumed.",
		}, nil},
		{"nothing measured", "", []string{"Not measured yet: measure the dowel or record both sensors.", "not measured; assumed: set out from the keyway. Wheel error = gear error = 0°, assumed."},
			[]string{"carries", "ahead", "behind", "which of the two"}},
		{"keyway off, dowel not measured", keyway("63"), []string{
			"The keyway is 3° from its drawn place, so the crankshaft gear, the camshaft and the valves are out by as much.",
			"If the dowel was set out from the No. 1 throw instead, it is correct", "Wheel error = gear error = 3°, assumed.",
			"Gear error = measured − drawing = 63 − 60 = 3°.",
		}, []string{"which of the two"}},
		{"keyway may be right", dowel("25", ", u_deg = 0.2") + keyway("60.2"), []string{
			"The keyway's error is 0.2° ± 0.3° (standard uncertainty): these readings cannot tell it from 0.",
		}, []string{"the camshaft and the valves are out", "which of the two"}},
		{"round the far side", "[dowel]\ndrawing = { angle_deg = 100, side = \"clockwise\" }\nmeasured = { angle_deg = 100, side = \"anticlockwise\" }\n", []string{
			"Wheel error = gear error + measured − drawing = 0 + (−100) − 100 = −200°, the short way round 160°.",
		}, nil},
		{"keyway round the far side", "[keyway]\ndrawing = { angle_deg = 179, side = \"clockwise\" }\nmeasured = { angle_deg = 179, side = \"anticlockwise\" }\n", []string{
			"Gear error = measured − drawing = −179 − 179 = −358°, the short way round 2°.",
		}, nil},
		{"in line with the centre", "[dowel]\ndrawing = { angle_deg = 0 }\nmeasured = { method = \"chord\", chord_mm = 11, dowel_radius_mm = 41, keyway_radius_mm = 30, side = \"clockwise\", u_mm = 0.1 }\n",
			[]string{"Dowel: the two features lie nearly in line with the centre"}, nil},
		{"late", "[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\" }\nmeasured = { angle_deg = 14, side = \"anticlockwise\", u_deg = 0.25 }\n", []string{
			"By all findings, most likely: dowel mirrored, 77.5 % alone, 99.7 % alone or with another.", "The wheel is 28° behind",
			"starts at 10 + (−28) = −18° before TDC, which is 18° after TDC.",
		}, nil},
		{"both wrong", "[dowel]\ndrawing = { angle_deg = 20, side = \"clockwise\" }\nmeasured = { angle_deg = 10, side = \"clockwise\", u_deg = 0.3 }\n" +
			"[keyway]\ndrawing = { angle_deg = 60, side = \"clockwise\" }\nmeasured = { angle_deg = 63, side = \"clockwise\", u_deg = 0.2 }\n", []string{
			"By all findings, most likely two faults at once, ", "dowel at the wrong angle and keyway at the wrong angle.",
		}, []string{"alone or with another"}},
	} {
		s := shift(t, sample.Read(t, four+c.job))
		var all strings.Builder
		for _, sentence := range slices.Concat(s.Notes, s.Steps) {
			all.WriteString(sentence.String() + "\n")
		}
		for _, want := range c.says {
			if !strings.Contains(all.String(), want) {
				t.Errorf("%s: does not say %q in\n%s", c.name, want, all.String())
			}
		}
		for _, not := range c.doesNot {
			if strings.Contains(all.String(), not) {
				t.Errorf("%s: says %q in\n%s", c.name, not, all.String())
			}
		}
	}
}

// Where a place was left open, a number is none, or a minus is a hyphen.
var spoilt = regexp.MustCompile(`\{\{|\}\}|<nil>|NaN|Inf|map\[|%!|(^|[ (])-[0-9]|−0($|[^.0-9])`)

// Every sentence that any job brings is filled in whole.
func TestEverySentenceIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		s, err := ShiftOf(j)
		if err != nil {
			t.Fatal(err)
		}
		list := slices.Concat([]phrase.Sentence{s.Says}, s.Notes, s.Steps)
		if p, err := PartOf(j); err == nil {
			list = append(list, p.Notes...)
		}
		for _, sentence := range list {
			if got := sentence.String(); got == "" || spoilt.MatchString(got) {
				t.Fatalf("%q from %q", got, sentence.Text)
			}
		}
	})
}

// A translation may name the places in another order, or leave one out.
func TestFill(t *testing.T) {
	s := phrase.Sentence{Text: "{{.A}} before {{.B}}", Data: map[string]any{"A": phrase.Num{Value: 1.25, Decimals: 1}, "B": phrase.Text("power")}}
	if got := s.String(); got != "1.2 before power" {
		t.Errorf("%q", got)
	}
	german := s.Fill("{{.B}} nach {{.A}}, {{.B}}", func(v any) any {
		if v == phrase.Text("power") {
			return "Arbeit"
		}
		return "1,2"
	})
	if german != "Arbeit nach 1,2, Arbeit" {
		t.Errorf("%q", german)
	}
	// Data are not looked into: a title may hold anything.
	title := phrase.Sentence{Text: "The cycle of {{.Title}}", Data: map[string]any{"Title": "{{.At}} {{.Title}}", "At": 1}}
	if got := title.String(); got != "The cycle of {{.At}} {{.Title}}" {
		t.Errorf("%q", got)
	}
}
