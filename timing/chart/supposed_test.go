package chart

import (
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/phrase"
)

// The demo asks for injection at 10 degrees before TDC; its dowel drawn at 14 and
// drilled at −14 puts it 28 late. By hand.
func TestSupposedFigures(t *testing.T) {
	t.Parallel()
	j := sample.Demo(t)
	j.Dowel.Measured, j.Keyway.Measured = nil, nil
	c, err := finding.CausesOf(j, finding.CauseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	say := Say(func(s phrase.Sentence) string { return s.String() })
	for _, tt := range []struct {
		cause        string
		cycle, wheel timing.Deg // where injection lands, before TDC
		off, dowel   timing.Deg // wheel error; dowel from the keyway
	}{
		{"dowel mirrored", -18, -18, -28, -14},
		{"cam wheel half a turn out", 370, 10, 0, 14},
		{"bad fuel", 10, 10, 0, 14},
	} {
		s, ok := c.Suppose(j, tt.cause)
		if !ok {
			t.Fatalf("%s cannot be supposed", tt.cause)
		}
		in, err := SupposedCycle(s, CycleOptions{Say: say})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range in.Rows {
			if *r.Commanded != 10 || *r.Actual != tt.cycle {
				t.Errorf("%s: cylinder %d asks for %v and gets %v, want %v", tt.cause, r.Cylinder, *r.Commanded, *r.Actual, tt.cycle)
			}
		}
		w, err := SupposedWheel(s, WheelOptions{At: 30, Say: say})
		if err != nil {
			t.Fatal(err)
		}
		if w.Error != tt.off || *w.Actual != tt.wheel || *w.DowelMeasured != tt.dowel || *w.KeywayMeasured != *w.KeywayDrawing {
			t.Errorf("%s: error %v, lands %v, dowel %v", tt.cause, w.Error, *w.Actual, *w.DowelMeasured)
		}
		for _, desc := range []string{in.Desc, w.Desc} {
			if !strings.Contains(desc, s.Says.String()) {
				t.Errorf("%s is described as %q", tt.cause, desc)
			}
		}
	}
	// A tooth out moves the valves with the cam: 36 teeth, 10 degrees each.
	j.Gears.CamTeethOut = 1
	if c, err = finding.CausesOf(j, finding.CauseOptions{}); err != nil {
		t.Fatal(err)
	}
	s, ok := c.Suppose(j, "cam gear out by teeth")
	if !ok {
		t.Fatal("a gear out cannot be supposed")
	}
	now, _ := Cycle(j, CycleOptions{Say: say})
	so, err := SupposedCycle(s, CycleOptions{Say: say})
	if err != nil {
		t.Fatal(err)
	}
	if got := timing.Difference(so.Rows[0].Intake.From, now.Rows[0].Intake.From, 720); got != 10 {
		t.Errorf("with a tooth out the intake opens %v early, want 10", got)
	}
}

// The signals of a supposed cause are those of its wheel error: a mirrored dowel's
// differ from the right ones, bad fuel's do not.
func TestSupposedSignals(t *testing.T) {
	t.Parallel()
	j := sample.Demo(t)
	j.Dowel.Measured, j.Keyway.Measured = nil, nil
	c, err := finding.CausesOf(j, finding.CauseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	say := Say(func(s phrase.Sentence) string { return s.String() })
	right, err := Signals(j, SignalsOptions{Say: say})
	if err != nil {
		t.Fatal(err)
	}
	drawn := func(in figure.SignalsInput) string {
		for i := range in.Groups {
			in.Groups[i].Label = "" // says how it is known, and is another
		}
		d, _ := figure.Signals(in, figure.Box{W: 400, H: 300})
		return shapes(d)
	}
	dump := func(name string) string {
		s, ok := c.Suppose(j, name)
		if !ok {
			t.Fatalf("%s cannot be supposed", name)
		}
		in, err := SupposedSignals(s, say)
		if err != nil {
			t.Fatal(err)
		}
		return drawn(in)
	}
	if dump("bad fuel") != drawn(right) {
		t.Error("with bad fuel the sensors show something else")
	}
	if dump("dowel mirrored") == drawn(right) {
		t.Error("with a mirrored dowel the sensors show what they should")
	}
}

func shapes(d figure.Drawing) string { return fmt.Sprintf("%+v", d.Shapes) }

func TestSupposedNeedsAnEngine(t *testing.T) {
	t.Parallel()
	if _, err := SupposedCycle(finding.Supposed{}, CycleOptions{}); err == nil {
		t.Error("nothing has a cycle")
	}
	if _, err := SupposedWheel(finding.Supposed{}, WheelOptions{}); err == nil {
		t.Error("nothing has a wheel")
	}
}
