package finding

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/phrase"
)

const unmeasured = "[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n[engine.valves]\nintake_opens_btdc_deg = 14\nintake_closes_abdc_deg = 36\n" +
	"exhaust_opens_bbdc_deg = 48\nexhaust_closes_atdc_deg = 12\n[injection]\nstart_btdc_deg = 10\n[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\" }\n" +
	"[gears]\ncrank_teeth = 36\nidler_teeth = [53]\ncam_teeth = 72\n"

func weighed(t testing.TB, text string) Causes {
	t.Helper()
	return causesOf(t, sample.Read(t, text))
}

func TestLead(t *testing.T) {
	said := func(c Causes) (phrase.Sentence, []phrase.Sentence) { return c.Says, c.Then }
	first, then := said(weighed(t, unmeasured))
	if first.Text != leadNone || len(then) != 0 {
		t.Errorf("without evidence: %q %v", first, then)
	}
	c := weighed(t, unmeasured+"[[evidence]]\nkind = \"dowel_error_deg\"\nvalue = -28\nu = 0.3\n")
	first, then = said(c)
	if s := first.String(); !strings.HasPrefix(s, "Most likely, ") || !strings.HasSuffix(s, "The dowel is on the other side of the keyway than drawn.") {
		t.Errorf("with the dowel measured: %q", s)
	}
	if len(then) == 0 || then[0].Text != leadSure {
		t.Errorf("with the dowel measured: %v", then)
	}
	c = weighed(t, unmeasured+"[[evidence]]\nkind = \"smoke\"\nvalue = \"white\"\n")
	if first, then = said(c); len(then) == 0 || then[0].Text != leadOpen || first.Text != leadAhead {
		t.Errorf("with white smoke: %v, %v", first, then)
	}
}

// The reasons stand in order of their strength, and each says its own way.
func TestReasonsByStrength(t *testing.T) {
	c := weighed(t, unmeasured+"[[evidence]]\nkind = \"smoke\"\nvalue = \"white\"\n[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = -28\n[[evidence]]\nkind = \"starts\"\nvalue = true\n")
	for _, k := range c.Causes {
		list := k.ByStrength()
		if len(k.Reasons) > 0 && len(list) != 3 {
			t.Fatalf("%s has %d reasons", k.Cause, len(list))
		}
		last := math.Inf(1)
		for _, w := range list {
			strength := math.Abs(math.Log(w.Factor))
			if strength > last+1e-9 {
				t.Errorf("%s: a stronger reason stands behind a weaker one", k.Cause)
			}
			last = strength
			s := w.Says.String()
			if w.Speaks > 0 != (w.Factor >= speaks) || w.Speaks < 0 != (w.Factor <= 1/speaks) || strings.Contains(s, "{{") {
				t.Errorf("%s: factor %g says %q", k.Cause, w.Factor, s)
			}
		}
		if k.Cause == "dowel mirrored" && !strings.Contains(list[0].Says.String(), ": crank–cam correlation error, 28° cam edges early.") {
			t.Errorf("a mirrored dowel first for %q", list[0].Says.String())
		}
	}
	if got := reason(Clue{Kind: "kicks_back", Value: false}, 0.25).Says.String(); got != "Divides the odds by 4: it does not kick back." {
		t.Errorf("%q", got)
	}
}

func TestLikeliness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		at := func(p float64) int {
			for i, l := range likely {
				if Likeliness(p) == phrase.Text(l.word) {
					return i
				}
			}
			t.Fatalf("%g has no word", p)
			return 0
		}
		if p > q && at(p) > at(q) {
			t.Fatalf("%g is %q, the larger %g %q", q, Likeliness(q), p, Likeliness(p))
		}
	})
	if Likeliness(0.97) != "almost certain" || Likeliness(0.5) != "likely" || Likeliness(0) != "almost ruled out" {
		t.Error("the words have moved")
	}
}

// One bit leaves half of the doubt, none all of it.
func TestDoubtTaken(t *testing.T) {
	if doubtTaken(0) != 0 || doubtTaken(1) != 0.5 || doubtTaken(2) != 0.75 {
		t.Error(doubtTaken(0), doubtTaken(1), doubtTaken(2))
	}
}

// By hand: a dowel drawn at 14 and drilled at −14 is 28 behind; a gear one tooth of
// 36 out moves cam and valves by 10 and leaves injection where the crank wheel puts
// it; a cam wheel half a turn out puts injection on the other turn.
func TestSuppose(t *testing.T) {
	j := sample.Read(t, unmeasured)
	for _, c := range []struct {
		cause, evidence          string
		wheel, valves, injection timing.Deg
		dowel                    timing.Deg
		says                     string
	}{
		{"dowel mirrored", "", -28, 0, -28, -28, "If so, every injection starts 28° late."},
		{"cam gear out by teeth", "[[evidence]]\nkind = \"cam_gear_marks_teeth\"\nvalue = 1\n", 0, 10, 0, 0, "If so, the valves are 10° out, and injection with them as the figures show."},
		{"cam wheel half a turn out", "", 0, 0, 360, 0, string(supposedOther)},
		{"bad fuel", "", 0, 0, 0, 0, string(supposedRight)},
		{"wheel slipped", "[[evidence]]\nkind = \"tdc_offset_deg\"\nvalue = 12\nu = 0.2\n[[evidence]]\nkind = \"dowel_error_deg\"\nvalue = 0\nu = 0.2\n", 12, 0, 12, 0, ""},
	} {
		s, ok := weighed(t, unmeasured+c.evidence).Suppose(j, c.cause)
		if !ok {
			t.Errorf("%s cannot be supposed", c.cause)
			continue
		}
		if !near(float64(s.Wheel), float64(c.wheel), 0.6) || !near(float64(s.Valves), float64(c.valves), 1e-9) || !near(math.Abs(float64(s.Injection)), math.Abs(float64(c.injection)), 0.6) || !near(float64(s.Dowel), float64(c.dowel), 0.6) {
			t.Errorf("%s: %+v", c.cause, s)
		}
		if c.says != "" && s.Says.String() != c.says {
			t.Errorf("%s: %q", c.cause, s.Says)
		}
		if v := s.Job.Engine.Valves; v.IntakeClosesABDCDeg.Value != 36-float64(s.Valves) || v.ExhaustOpensBBDCDeg.Value != 48+float64(s.Valves) {
			t.Errorf("%s: the valves are %+v", c.cause, v)
		}
	}
	if j.Engine.Valves.IntakeClosesABDCDeg.Value != 36 {
		t.Error("supposing has changed the job")
	}
	if _, ok := weighed(t, unmeasured).Suppose(j, "no such cause"); ok {
		t.Error("a cause that is none is supposed")
	}
}
