package finding

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/phrase"
)

// A train of 36, 47 and 72 teeth, by hand: two turns of the crank are 72 teeth, 25
// more than once round the idler; all marks are back after 94 turns.
func TestMarksAt(t *testing.T) {
	for _, c := range []struct {
		job   string
		at    timing.Deg
		apart []float64
		says  phrase.Text
	}{
		{geared, 0, []float64{0, 0, 0}, marksMeet},
		{geared + "cam_teeth_out = 1\n", 0, []float64{0, 0, 0}, marksWould},
		{geared, 30, []float64{3, 3, 3}, "30 crank degrees ahead of where the marks were set."},
		{geared, -30, []float64{-3, -3, -3}, "30 crank degrees before where the marks were set."},
		{geared, 360, []float64{0, -11, 36}, marksHalf},
		{geared, 720, []float64{0, -22, 0}, "After 2 turns the crankshaft and camshaft marks are back, but an idler gear's mark is 22 of its 47 teeth away: that is no fault."},
		{geared, 900, []float64{18, -4, 18}, "2.5 crankshaft turns ahead of where the marks were set."},
		{geared, -900, []float64{18, 4, -18}, "2.5 crankshaft turns before where the marks were set."},
		{geared, 94 * 360, []float64{0, 0, 0}, "All marks are aligned again here, after 94 crankshaft turns."},
		{geared + "pump_teeth = 54\n", 720, []float64{0, -22, 0}, "After 2 turns the crankshaft and camshaft marks are back, but an idler gear's mark is 22 of its 47 teeth away: that is no fault."},
		{geared + "pump_teeth = 54\n", 94 * 360, []float64{0, 0, 0}, "After 94 crankshaft turns the marks from crankshaft to camshaft are back, but the pump's is 18 of its 54 teeth away: that is no fault."},
		{geared + "pump_teeth = 54\n", 3 * 94 * 360, []float64{0, 0, 0}, "All marks are aligned again here, after 282 crankshaft turns."},
		{strings.Replace(loopScheme, "[41]", "[]", 1) + "pump_teeth = 40\n", 360, []float64{0, 0}, "After one crankshaft turn the marks from crankshaft to camshaft are back, but the pump's is 10 of its 40 teeth away: that is no fault."},
		{loopScheme, 360, []float64{0, -11, 0}, "After one turn the crankshaft and camshaft marks are back, but an idler gear's mark is 11 of its 41 teeth away: that is no fault."},
	} {
		m, err := MarksAt(sample.Read(t, c.job), c.at)
		if err != nil {
			t.Fatal(err)
		}
		if m.Says.String() != string(c.says) {
			t.Errorf("at %v: %q, want %q", c.at, m.Says, c.says)
		}
		for i, want := range c.apart {
			half := want != 0 && i < len(m.Apart) && near(m.Apart[i], -want, 1e-6) && near(2*want, float64([]int{36, 47, 72}[i]), 1e-6)
			if !near(m.Apart[i], want, 1e-6) && !half {
				t.Errorf("at %v: wheel %d is %g teeth on, want %g", c.at, i, m.Apart[i], want)
			}
		}
	}
	if _, err := MarksAt(sample.Read(t, strings.Split(geared, "[gears]")[0]), 0); err == nil {
		t.Error("a job without gears has marks")
	}
}

func TestMarksOut(t *testing.T) {
	for n, want := range map[int]string{1: string(marksOutOne), -1: string(marksShortOne), 3: "The camshaft gear's mark is 3 teeth ahead of its place: the gear was fitted in the wrong position.",
		-2: "The camshaft gear's mark is 2 teeth behind its place: the gear was fitted in the wrong position."} {
		if s, ok := MarksOut(n); !ok || s.String() != want {
			t.Errorf("%d: %q, %v", n, s, ok)
		}
	}
	if _, ok := MarksOut(0); ok {
		t.Error("a gear in its right teeth is out")
	}
}

// Onward ends at the angle asked for, at most half a cycle from where it was.
func TestOnward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cycle := timing.Deg(rapid.SampledFrom([]float64{360, 720}).Draw(t, "cycle"))
		total := timing.Deg(rapid.Float64Range(-1e5, 1e5).Draw(t, "total"))
		at := timing.Deg(rapid.Float64Range(0, 719).Draw(t, "at"))
		at = timing.Wrap(at, cycle)
		got := Onward(total, at, cycle)
		if by := got - total; by > cycle/2+1e-6 || by < -cycle/2-1e-6 {
			t.Fatalf("from %v to %v the crank turned by %v", total, at, by)
		}
		if d := timing.Difference(got, at, cycle); d > 1e-6 || d < -1e-6 {
			t.Fatalf("it stands at %v, want %v", got, at)
		}
	})
}

// By hand: a tooth is 10 crank degrees, 5 of the cam; a valve that closes at 40
// closes 10 early with the cam one tooth ahead; the wheel is right.
func TestTeethOut(t *testing.T) {
	j := sample.Read(t, strings.Replace(geared, "[gears]", "[engine.valves]\nintake_closes_abdc_deg = 40\n[gears]", 1))
	list, err := TeethOut(j, 2)
	if err != nil || len(list) != 5 {
		t.Fatal(list, err)
	}
	for i, want := range []ToothOut{{Teeth: -2, CamErrorDeg: -20, CamDeg: -10}, {Teeth: -1, CamErrorDeg: -10, CamDeg: -5}, {}, {Teeth: 1, CamErrorDeg: 10, CamDeg: 5}, {Teeth: 2, CamErrorDeg: 20, CamDeg: 10}} {
		got := list[i]
		if got.Teeth != want.Teeth || got.CamErrorDeg != want.CamErrorDeg || got.CamDeg != want.CamDeg ||
			*got.IntakeClosesABDC != 40-want.CamErrorDeg || *got.CorrelationDeg != -want.CamErrorDeg {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	bare, err := TeethOut(sample.Read(t, geared+strings.Replace(keywayTwo, "drawing = { angle_deg = 60, side = \"clockwise\", u_deg = 0 }\n", "drawing = { angle_deg = 61, side = \"clockwise\" }\n", 1)), 0)
	if err != nil || len(bare) != 1 || bare[0].CamErrorDeg != 1 || bare[0].IntakeClosesABDC != nil {
		t.Errorf("with a keyway 1 ahead and no valve times: %+v, %v", bare, err)
	}
	if _, err := TeethOut(sample.Read(t, strings.Split(geared, "[gears]")[0]), 1); err == nil {
		t.Error("a job without gears has teeth out")
	}
}
