package finding

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
)

// answers are what an error's head says, as far as opposites go.
func (w way) side() string {
	switch w {
	case wayLate, wayCarriedLate:
		return "later"
	case wayEarly, wayCarriedEarly:
		return "earlier"
	case wayRight, wayGive, wayAssumed:
		return "none"
	}
	return "not sure"
}

// headNormal95 is the two-sided 95 % point of the normal distribution (JCGM 100:2008,
// table G.1: 1.960, here to more digits).
const headNormal95 = 1.959963984540054

// Later and earlier are said only where the 95 % interval excludes 0, whatever the
// error and its uncertainty; and an uncertainty that leaves a quarter of a turn open
// either way says nothing.
func TestHeadSaysOnlyWhatTheIntervalBears(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := errorsOf{wheel: timing.Measured{
			Value: timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "error")),
			U:     timing.Deg(rapid.OneOf(rapid.Float64Range(0, 3), rapid.Float64Range(0, 180)).Draw(t, "u")),
		}, basis: rapid.SampledFrom([]known.Basis{known.Measured, known.Read, known.Stated, known.Assumed}).Draw(t, "basis"),
			gearBasis: rapid.SampledFrom([]known.Basis{known.Measured, known.Assumed}).Draw(t, "gear")}
		lo, hi := float64(e.wheel.Value)-headNormal95*float64(e.wheel.U), float64(e.wheel.Value)+headNormal95*float64(e.wheel.U)
		w := e.wayOf()
		says := e.says(false, 10+e.wheel.Value, timing.Power).String()
		switch side := w.side(); {
		case side == "later" && !(hi < 0), side == "earlier" && !(lo > 0):
			t.Fatalf("%s with %g to %g: %s", side, lo, hi, says)
		case (hi-lo)/2 >= 90 && w != wayNothing:
			t.Fatalf("%g to %g says: %s", lo, hi, says)
		case (hi > 180 || lo < -180) && side != "not sure":
			t.Fatalf("over the seam, %g to %g: %s", lo, hi, says)
		}
		if strings.Contains(says, "later") != (w.side() == "later") || strings.Contains(says, "earlier") != (w.side() == "earlier") || strings.Contains(says, "{{") {
			t.Fatalf("%s: %s", w.side(), says)
		}
	})
}

// A hundredth of a degree, or of its uncertainty, never turns an answer into its
// opposite: later into earlier, or either into an all-clear that is off by as much as
// can be seen, without "not sure" between.
func TestHeadTurnsThroughNotSure(t *testing.T) {
	at := func(v, u float64) way {
		return errorsOf{wheel: timing.Measured{Value: short(timing.Deg(v)), U: timing.Deg(u)}, basis: known.Measured}.wayOf()
	}
	opposite := func(a, b way) bool {
		return a.side() == "later" && b.side() == "earlier" || a.side() == "earlier" && b.side() == "later"
	}
	check := func(t interface{ Fatalf(string, ...any) }, v, u float64) {
		here := at(v, u)
		for _, next := range []way{at(v+0.01, u), at(v-0.01, u), at(v, u+0.01), at(v, max(u-0.01, 0))} {
			if opposite(here, next) {
				t.Fatalf("%g ± %g: %s beside %s", v, u, here.side(), next.side())
			}
			if math.Abs(v) > 0.11 && (here.side() == "none") != (next.side() == "none") {
				t.Fatalf("%g ± %g: %s beside %s", v, u, here.side(), next.side())
			}
		}
	}
	for v := -180.0; v <= 180; v += 0.01 {
		check(t, v, 0)
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.Float64Range(-180, 180).Draw(t, "error"), rapid.Float64Range(0, 100).Draw(t, "u"))
	})
}

// The seam by readings: a dowel drawn at 14 degrees one way and read at 165.99 and at
// 166 the other way, and read with an uncertainty that leaves all open.
func TestHeadAtTheSeam(t *testing.T) {
	says := func(angle, u string) string {
		s, err := ShiftOf(sample.Read(t, four+fmt.Sprintf("[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\", u_deg = 0.1 }\nmeasured = { angle_deg = %s, side = \"anticlockwise\", u_deg = %s }\n", angle, u)))
		if err != nil {
			t.Fatal(err)
		}
		return s.Says.String()
	}
	for _, angle := range []string{"165.99", "166.0", "166.01"} {
		if got := says(angle, "0.1"); strings.Contains(got, "later") || strings.Contains(got, "earlier") || !strings.Contains(got, "cannot be told") {
			t.Errorf("%s: %s", angle, got)
		}
	}
	if got := says("166.0", "180.0"); !strings.HasPrefix(got, "These readings cannot say where injection starts") {
		t.Error(got)
	}
}

// No sentence asserts what a note denies: over random crankshafts, the head tells an
// error from 0 exactly where no note says that it cannot be told from 0.
func TestHeadAndNotesAgree(t *testing.T) {
	sound := sample.Read(t, four)
	rapid.Check(t, func(t *rapid.T) {
		angle := func(label string) *job.Reading {
			return &job.Reading{AngleDeg: job.Num(rapid.Float64Range(0, 180).Draw(t, label)), Side: rapid.SampledFrom([]string{"clockwise", "anticlockwise"}).Draw(t, label+" side"),
				UDeg: job.Num(rapid.Float64Range(0, 20).Draw(t, label+" u"))}
		}
		j := sound.Clone()
		j.Dowel = &job.Feature{Drawing: angle("drawn"), Measured: angle("measured")}
		if rapid.Bool().Draw(t, "near") { // most parts are nearly right
			j.Dowel.Measured.AngleDeg, j.Dowel.Measured.Side = j.Dowel.Drawing.AngleDeg, j.Dowel.Drawing.Side
		}
		if rapid.Bool().Draw(t, "keyway") {
			j.Keyway = &job.Feature{Drawing: angle("keyway drawn"), Measured: angle("keyway measured")}
		}
		s, err := ShiftOf(j)
		if err != nil {
			t.Fatal(err)
		}
		says := s.Says.String()
		for _, n := range s.Notes {
			denied := n.Text == noteUnsure
			if denied && (strings.Contains(says, "later") || strings.Contains(says, "earlier")) {
				t.Fatalf("%s\n%s", says, n)
			}
			if n.Text == noteSure && strings.Contains(says, "cannot tell that from the start commanded") {
				t.Fatalf("%s\n%s", says, n)
			}
		}
	})
}
