package part

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
)

// Three readings of an angle: mean, s/√n beside the wheel's own uncertainty, and
// Student's t with the effective degrees of freedom (JCGM 100:2008, eqs 3 to 5
// and G.2b), worked out by hand: 12.3, 12.5, 12.4 have s = 0.1.
func TestRepeatedReadings(t *testing.T) {
	t.Parallel()
	a := Angle{Deg: 12.3, Again: []float64{12.5, 12.4}, U: known(0)}
	m := measure(t, a, noseClockwise)
	near(t, "mean", float64(m.Value), 12.4, 1e-12)
	near(t, "u", float64(m.U), 0.1/math.Sqrt(3), 1e-12)
	near(t, "degrees of freedom", m.DOF, 2, 1e-9)
	lo, hi := m.Interval95()
	near(t, "half the interval", float64(hi-lo)/2, 4.30265*0.1/math.Sqrt(3), 1e-6)

	a.U = known(0.1)
	m = measure(t, a, noseClockwise)
	near(t, "u with the wheel's", float64(m.U), math.Sqrt(0.01/3+0.01), 1e-12)
	near(t, "degrees of freedom", m.DOF, 16*2, 1e-6) // (u²/(s²/3))² 2, u² = 4 s²/3
	if len(m.Budget) != 2 || m.Budget[0].Reading != ReadAngle || m.Budget[1].Reading != ReadScatter {
		t.Errorf("budget %+v", m.Budget)
	}
	near(t, "share of the scatter", m.Budget[1].Share, 0.25, 1e-9)

	alike := measure(t, Angle{Deg: 12.3, Again: []float64{12.3, 12.3}, U: known(0.1)}, noseClockwise)
	if alike.Value != 12.3 || math.Abs(float64(alike.U)-0.1) > 1e-12 {
		t.Errorf("three readings alike: %+v", alike)
	}
}

func TestASingleReadingHasTheNormalInterval(t *testing.T) {
	t.Parallel()
	m := measure(t, Angle{Deg: 12, U: known(0.3)}, noseClockwise)
	lo, hi := m.Interval95()
	near(t, "lower end", float64(lo), 12-1.959963984540054*0.3, 1e-12)
	near(t, "upper end", float64(hi), 12+1.959963984540054*0.3, 1e-12)
	if m.DOF != 0 || m.Drawn != nil || m.DefaultU {
		t.Errorf("%+v", m)
	}
	if m := measure(t, Angle{Deg: 12}, noseClockwise); !m.DefaultU || m.U != DefaultEyeU {
		t.Errorf("%+v", m)
	}
}

// However a degree wheel is set, from whichever end it is read and whichever way
// its numbers run, the same dowel comes out; also across its 0.
func TestDegreeWheel(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		angle := timing.Deg(rapid.Float64Range(-179.9, 179.9).Draw(t, "angle"))
		set := timing.Deg(rapid.Float64Range(0, 360).Draw(t, "wheel at the keyway"))
		v := timing.View{From: timing.End(rapid.IntRange(0, 1).Draw(t, "end")), Rotation: timing.Sense(rapid.IntRange(0, 1).Draw(t, "rotation"))}
		counts := timing.Sense(rapid.IntRange(0, 1).Draw(t, "counts"))
		ahead := angle
		if counts != v.Rotates() {
			ahead = -angle
		}
		says := func(off timing.Deg) float64 { return float64(timing.Wrap(set+ahead+off, timing.Turn)) }
		d := DegreeWheel{FromDeg: float64(set), ToDeg: says(0), ToAgain: []float64{says(0.5), says(-0.5)}, Counts: counts, U: known(0.2)}
		m, err := d.Measure(v)
		if err != nil || math.Abs(float64(timing.Difference(angle, m.Value, timing.Turn))) > 1e-9 {
			t.Fatalf("%+v: %g, want %g (%v)", d, float64(m.Value), float64(angle), err)
		}
		if want := math.Sqrt(0.08 + 0.25/3); math.Abs(float64(m.U)-want) > 1e-9 {
			t.Fatalf("u %g, want %g", float64(m.U), want)
		}
	})
}

// Where the formula bends too much the angle is drawn; the draws agree with a
// sample of another seed and twenty times the size.
func TestDrawnAnglesAgreeWithALargerSample(t *testing.T) {
	t.Parallel()
	c := Chord{ChordMM: 14.1, Radius1: 38, Radius2: 24, UChord: known(0.1)}
	m := measure(t, c, noseClockwise)
	if m.Drawn == nil || !m.InLine {
		t.Fatalf("%+v: must be drawn", m)
	}
	var in inputs
	chord, r1, r2 := in.single(ReadChord, 14.1, 0.1), in.single(ReadRadius1, 38, 0.1), in.single(ReadRadius2, 24, 0.1)
	s := uncertainty.Quantity{Inputs: in, Model: func(x []float64) float64 { return lawOfCosines(chord(x), r1(x), r2(x)) }}.Draw(1_000_000, 99)
	lo, hi := s.Symmetric(0.95)
	u := s.About(lawOfCosines(14.1, 38, 24))
	near(t, "lower end", float64(m.Drawn.Lo), lo, 0.03*u)
	near(t, "upper end", float64(m.Drawn.Hi), hi, 0.03*u)
	near(t, "u", float64(m.U), u, 0.02*u)
	if again := measure(t, c, noseClockwise); *again.Drawn != *m.Drawn || again.U != m.U {
		t.Error("the same reading gives another answer")
	}
}

// On the other side the drawn interval is the mirror image.
func TestDrawnIntervalOnEitherSide(t *testing.T) {
	t.Parallel()
	c := Chord{ChordMM: 14.1, Radius1: 38, Radius2: 24, UChord: known(0.1)}
	a := measure(t, c, noseClockwise)
	c.Side = timing.Anticlockwise
	b := measure(t, c, noseClockwise)
	near(t, "lower end", float64(b.Drawn.Lo), -float64(a.Drawn.Hi), 0.02*float64(a.U))
	near(t, "upper end", float64(b.Drawn.Hi), -float64(a.Drawn.Lo), 0.02*float64(a.U))
	// Nearly opposite: the interval runs on past half a turn, with its value.
	o := measure(t, Chord{ChordMM: 61.95, Radius1: 38, Radius2: 24, UChord: known(0.1)}, noseClockwise)
	if !(o.Drawn.Lo < o.Value && o.Drawn.Hi >= o.Value && o.Drawn.Hi <= 180) {
		t.Errorf("%+v %+v", o, o.Drawn)
	}
}

// The keyway from the throw on a degree wheel: the throw at top dead centre read
// three times, the keyway once; numbers anticlockwise, seen from the flywheel.
func ExampleDegreeWheel_Measure() {
	view := timing.View{From: timing.Flywheel, Rotation: timing.Clockwise}
	m, _ := DegreeWheel{
		FromDeg: 359.8, FromAgain: []float64{0.2, 0.0}, ToDeg: 90.5, Counts: timing.Anticlockwise,
		U: Given{U: 0.25, Known: true},
	}.Measure(view)
	lo, hi := m.Interval95()
	fmt.Printf("%.2f ± %.2f degrees, 95 %%: %.2f to %.2f\n", float64(m.Value), float64(m.U), float64(lo), float64(hi))
	// Output: 90.50 ± 0.37 degrees, 95 %: 89.77 to 91.23
}
