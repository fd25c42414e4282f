package finding

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// The ways of reading that name pin, key and degree wheel; angles by hand:
// 38 sin 30 + (8+10)/2 = 28, 40 sin 60 − (6+8)/2 = 27.6410, and the law of cosines
// from the keyway's edge.
func TestAnglesOverPinAndKey(t *testing.T) {
	edge := part.ChordFor(50+timing.FromRadians(math.Asin(5.0/24)), 38, 24) + 4
	for _, c := range []struct {
		section, reading string
		want             float64
	}{
		{"dowel", `method = "chord", over = "outside", chord_mm = 28, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise"`, 30},
		{"dowel", `method = "chord", over = "outside", on = "key", chord_mm = [27.9, 28.1], pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "anticlockwise"`, -30},
		{"dowel", `method = "chord", over = "inside", chord_mm = 27.641016151378, pin_mm = 6, key_mm = 8, dowel_radius_mm = 40, side = "clockwise"`, 60},
		{"dowel", fmt.Sprintf(`method = "chord", over = "outside", on = "keyway", chord_mm = %.12f, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise"`, edge), 50},
		{"dowel", `method = "chord", over = "centres", chord_mm = 50, dowel_radius_mm = 40, keyway_radius_mm = 30, side = "clockwise"`, 90},
		{"keyway", `method = "chord", over = "outside", chord_mm = 38, pin_mm = 8, key_mm = 8, throw_radius_mm = 60, side = "clockwise", u_mm = 0`, 30},
		{"dowel", `method = "degree_wheel", keyway_deg = 351.5, dowel_deg = 4.0, counts = "clockwise"`, 12.5},
		{"dowel", `method = "degree_wheel", keyway_deg = 351.5, dowel_deg = 4.0, counts = "anticlockwise"`, -12.5},
		{"dowel", `method = "degree_wheel", seen_from = "flywheel", keyway_deg = [351.4, 351.6], dowel_deg = 4.0, counts = "anticlockwise"`, 12.5},
		{"keyway", `method = "degree_wheel", throw_deg = [359.9, 0.1], keyway_deg = 90, counts = "clockwise"`, 90},
		{"dowel", `angle_deg = [12.4, 12.6], side = "clockwise"`, 12.5},
		{"dowel", `method = "arc", arc_mm = [12.4, 12.6], rim_radius_mm = 62.5, side = "clockwise"`, 11.4591559026},
	} {
		p := partOf(t, "["+c.section+"]\nmeasured = { "+c.reading+" }\n")
		f := p.Dowel
		if c.section == "keyway" {
			f = p.Keyway
		}
		if !near(*f.MeasuredDeg, c.want, 1e-9) {
			t.Errorf("%s: %.12g, want %.12g", c.reading, *f.MeasuredDeg, c.want)
		}
		if p.Verdict != nil || p.Says.Text != "" {
			t.Errorf("%s: a verdict without a drawing", c.reading)
		}
	}
}

// Two readings 0.2 apart: s/√2 = 0.1 beside the given 0.1, t with 4 degrees of
// freedom (JCGM 100:2008, eqs 5 and G.2b, table G.2).
func TestBudgetOfRepeatedReadings(t *testing.T) {
	p := partOf(t, "[dowel]\nmeasured = { angle_deg = [12.4, 12.6], side = \"clockwise\", u_deg = 0.1 }\n")
	d := p.Dowel
	if !near(*d.UDeg, 0.1*math.Sqrt2, 1e-9) || !near(*d.DOF, 4, 1e-6) || !near(*d.CoverageFactor, 2.776, 5e-4) {
		t.Errorf("u %g, %g degrees of freedom, factor %g", *d.UDeg, *d.DOF, *d.CoverageFactor)
	}
	if lo, hi := d.Interval95Deg[0], d.Interval95Deg[1]; !near((hi-lo)/2, *d.CoverageFactor**d.UDeg, 1e-6) {
		t.Errorf("interval %g to %g", lo, hi)
	}
	if d.By != byPropagation || d.DefaultU || len(d.Budget) != 2 {
		t.Fatalf("%+v", d)
	}
	for _, s := range d.Budget {
		if s.Unit != "deg" || !near(s.Share, 0.5, 1e-6) || !near(s.ContributionDeg, 0.1, 1e-9) {
			t.Errorf("%+v", s)
		}
	}
}

// Every reading is named by the key under which it stands in the file, and has a
// sentence for when it is the one to better.
func TestBudgetNamesTheKeys(t *testing.T) {
	for reading, want := range map[string]string{
		`[dowel]
measured = { method = "chord", chord_mm = 15.47, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise" }`: "chord_mm mm, dowel_radius_mm mm, keyway_radius_mm mm",
		`[dowel]
measured = { method = "chord", chord_mm = [15.47, 15.5], keyway_radius_mm = 24, side = "clockwise", u_radius_mm = 0.01 }`: "chord_mm mm, scatter mm, keyway_radius_mm mm",
		`[keyway]
measured = { method = "chord", chord_mm = 50, throw_radius_mm = 60, side = "clockwise", u_mm = 0.1, u_radius_mm = 0.05 }`: "chord_mm mm, throw_radius_mm mm",
		`[dowel]
measured = { method = "chord", over = "inside", chord_mm = 20, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise", u_mm = 0.1, u_size_mm = 0.01, u_radius_mm = 0.01 }`: "chord_mm mm, dowel_radius_mm mm, pin_mm mm, key_mm mm",
		`[dowel]
measured = { method = "arc", arc_mm = 15, rim_radius_mm = 60, side = "clockwise" }`: "arc_mm mm, rim_radius_mm mm",
		`[dowel]
measured = { method = "xy", centre = [0, 0], keyway = [0, 20], dowel = [30, 0] }`: "keyway , dowel , centre ",
		`[keyway]
measured = { method = "xy", centre = [0, 0], throw = [0, 60], keyway = [30, 0] }`: "keyway , centre , throw ",
		`[keyway]
measured = { method = "degree_wheel", throw_deg = 1, keyway_deg = 90, counts = "clockwise" }`: "throw_deg deg, keyway_deg deg",
		`[dowel]
measured = { angle_deg = 3, side = "clockwise" }`: "angle_deg deg",
	} {
		p := partOf(t, reading+"\n")
		f := p.Dowel
		if f == nil {
			f = p.Keyway
		}
		var list []string
		sum := 0.0
		for _, s := range f.Budget {
			list = append(list, s.Reading+" "+s.Unit)
			sum += s.Share
			if _, ok := better(s.Reading); !ok {
				t.Errorf("%s: no sentence for %s", reading, s.Reading)
			}
		}
		sameSet := len(list) == strings.Count(want, ",")+1
		for _, name := range list {
			sameSet = sameSet && strings.Contains(want+",", name+",")
		}
		if !sameSet || !near(sum, 1, 1e-8) {
			t.Errorf("%s: %q (sum %g), want %q", reading, list, sum, want)
		}
	}
}

// In line with the centre the interval is drawn, and the answer says so.
func TestDrawnIntervalIsNamed(t *testing.T) {
	p := partOf(t, "[dowel]\nmeasured = { method = \"chord\", chord_mm = 14.05, dowel_radius_mm = 38, keyway_radius_mm = 24, side = \"clockwise\", u_mm = 0.1 }\n")
	if p.Dowel.By != byDraws || p.Dowel.DOF != nil || p.Dowel.Interval95Deg[0] != 0 {
		t.Errorf("%+v", p.Dowel)
	}
	told := map[phrase.Text]bool{}
	for _, n := range p.Notes {
		told[n.Text] = true
	}
	if !told[noteDrawn] || !told[noteInLine] {
		t.Errorf("notes %v", p.Notes)
	}
}

// What the part is, in words, and what would settle it.
func TestVerdictInWords(t *testing.T) {
	reading := func(section string, drawing, measured, u float64) string {
		side := func(a float64) string {
			if a < 0 {
				return "anticlockwise"
			}
			return "clockwise"
		}
		return fmt.Sprintf("[%s]\ndrawing = { angle_deg = %g, side = %q }\nmeasured = { angle_deg = %g, side = %q, u_deg = %g }\n",
			section, math.Abs(drawing), side(drawing), math.Abs(measured), side(measured), u)
	}
	for _, c := range []struct {
		name, text string
		kind       string
		says       phrase.Text
		notes      []phrase.Text
		not        []phrase.Text
	}{
		{"as drawn", reading("dowel", 12.5, 12.6, 0.2) + reading("keyway", 90, 90.1, 0.2), "as_drawn", verdictAsDrawn, nil, []phrase.Text{verdictOpen, verdictNextKeyway, verdictNextDowel}},
		{"dowel as drawn", reading("dowel", 12.5, 12.6, 0.2), "as_drawn", verdictDowelDrawn, []phrase.Text{verdictOpen}, []phrase.Text{verdictNextKeyway}},
		{"mirrored", reading("dowel", 12.5, -12.5, 0.2) + reading("keyway", 90, 90, 0.2), "mirrored", verdictMirrored, nil, []phrase.Text{verdictOpen}},
		{"dowel right from the throw", reading("dowel", 12.5, 2.5, 0.2) + reading("keyway", 90, 100, 0.2), "keyway_wrong", verdictFromThrow, nil, nil},
		{"dowel set out from the keyway", reading("dowel", 12.5, 12.5, 0.2) + reading("keyway", 90, 100, 0.2), "keyway_wrong", verdictFromKeyway, nil, nil},
		{"dowel wrong", reading("dowel", 12.5, 40, 0.2) + reading("keyway", 90, 90, 0.2), "other", verdictDowelWrong, nil, nil},
		{"both wrong", reading("dowel", 12.5, 40, 0.2) + reading("keyway", 90, 70, 0.2), "other", verdictBothWrong, nil, nil},
		{"open", reading("dowel", 12.5, 40, 0.2), "not_surely_known", verdictUnsure, []phrase.Text{verdictOpen, verdictNextKeyway}, []phrase.Text{verdictNextDowel}},
		{"rough", reading("dowel", 5, 0, 8) + reading("keyway", 90, 90, 0.2), "not_surely_known", verdictUnsure, []phrase.Text{verdictNextDowel}, []phrase.Text{verdictOpen}},
		{"nothing helps", reading("dowel", 0.7, -0.1, 0.05) + reading("keyway", 90, 90, 0.05), "not_surely_known", verdictUnsure, []phrase.Text{verdictNothingSettles}, nil},
		{"dowel not measured", reading("keyway", 90, 100, 0.2), "not_surely_known", verdictUnsure, nil, []phrase.Text{verdictOpen}},
	} {
		p := partOf(t, c.text)
		v := p.Verdict
		if v.Kind != c.kind || p.Says.Text != c.says {
			t.Errorf("%s: %s, %q; %+v", c.name, v.Kind, p.Says, *v)
		}
		if !near(v.AsDrawn+v.Mirrored+v.Other, 1, 1e-8) || !near(v.KeywayWrong+v.OtherError, v.Other, 1e-8) || len(v.Cases) == 0 || len(v.Next) != 2 {
			t.Errorf("%s: %+v", c.name, *v)
		}
		told := map[phrase.Text]bool{}
		for _, n := range p.Notes {
			told[n.Text] = true
			if s := n.String(); strings.Contains(s, "{{") || strings.Contains(s, "NaN") {
				t.Errorf("%s: %q", c.name, s)
			}
		}
		if s := p.Says.String(); strings.Contains(s, "{{") {
			t.Errorf("%s: %q", c.name, s)
		}
		for _, n := range c.notes {
			if !told[n] {
				t.Errorf("%s: not told: %q", c.name, n)
			}
		}
		for _, n := range c.not {
			if told[n] {
				t.Errorf("%s: told: %q", c.name, n)
			}
		}
	}
}

// A dowel moved by hand is read again by the method it was read by.
func TestRemeasureByEveryMethod(t *testing.T) {
	for _, reading := range []string{
		`angle_deg = [12.4, 12.6], side = "clockwise"`,
		`method = "degree_wheel", keyway_deg = [351.5, 351.7], dowel_deg = [4.0, 4.4], counts = "anticlockwise"`,
		`method = "chord", chord_mm = [20, 20.1, 20.2], dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise"`,
		`method = "chord", over = "outside", chord_mm = [28, 28.1], pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise"`,
		`method = "chord", over = "inside", on = "keyway", chord_mm = 20, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise"`,
		`method = "arc", arc_mm = [30, 31], rim_radius_mm = 60, side = "clockwise"`,
	} {
		j := sample.Read(t, bare+"[dowel]\nmeasured = { "+reading+" }\n")
		for _, to := range []timing.Deg{40, -40, 55.5} {
			moved := Remeasure(j, to)
			if faults := job.Check(moved); faults != nil {
				t.Errorf("%s to %g: %v", reading, float64(to), faults)
				continue
			}
			p, err := PartOf(moved)
			if err != nil || !near(*p.Dowel.MeasuredDeg, float64(to), 0.02) {
				t.Errorf("%s to %g: %+v, %v", reading, float64(to), p.Dowel, err)
			}
		}
		if !j.Equal(sample.Read(t, bare+"[dowel]\nmeasured = { "+reading+" }\n")) {
			t.Errorf("%s: the old job changed", reading)
		}
	}
	// A jaw on the key cannot tell more than a right angle: the job stays.
	j := sample.Read(t, bare+`[dowel]
measured = { method = "chord", over = "outside", chord_mm = 28, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise" }`)
	if moved := Remeasure(j, 120); !moved.Equal(j) {
		t.Errorf("moved to %+v", moved.Dowel.Measured)
	}
}

// The wheel error of few readings has the wider interval of Student's t.
func TestFewReadingsWidenTheWheelError(t *testing.T) {
	note := func(reading string) phrase.Sentence {
		s, err := ShiftOf(sample.Read(t, bare+"[injection]\nstart_btdc_deg = 9\n[dowel]\ndrawing = { angle_deg = 2, side = \"clockwise\" }\nmeasured = { "+reading+", side = \"clockwise\" }\n"))
		if err != nil {
			t.Fatal(err)
		}
		return s.Notes[0]
	}
	// 12 and 13: s/√2 = 0.5, one degree of freedom, t = 12.706: 10.5 ± 6.35.
	few := note("angle_deg = [12, 13], u_deg = 0")
	if lo := few.Data["Lo"].(phrase.Num); !near(lo.Value, 10.5-12.7062*0.5, 1e-3) {
		t.Errorf("two readings: %s", few)
	}
	if lo := note("angle_deg = 12.5, u_deg = 0.5").Data["Lo"].(phrase.Num); !near(lo.Value, 10.5-1.95996*0.5, 1e-4) {
		t.Errorf("one reading: lower end %g", lo.Value)
	}
}
