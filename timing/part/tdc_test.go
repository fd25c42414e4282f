package part

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

func tdc(t *testing.T, s Stop) Result {
	t.Helper()
	r, err := s.TDC()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The stop's readings of [offsetRows], on a wheel set to 0 at the real top dead
// centre: the middle is off by the lean, the correction takes it out.
func TestStopWithOffset(t *testing.T) {
	t.Parallel()
	for _, c := range offsetRows {
		s := piston.SliderCrank{ThrowMM: 55, RodMM: 180, OffsetMM: c.offset}
		top := float64(s.TDC())
		plain := Stop{FirstDeg: c.first - top, SecondDeg: c.second - top, U: known(0.2)}
		near(t, "middle", float64(tdc(t, plain).Value), c.lean, 1e-8)
		plain.Linkage = &s
		r := tdc(t, plain)
		near(t, "corrected", float64(r.Value), 0, 1e-8)
		near(t, "u", float64(r.U), 0.2/math.Sqrt2, 1e-3)

		falling := Stop{FirstDeg: top - c.first, SecondDeg: top - c.second, Falls: true, Linkage: &s}
		near(t, "corrected, numbers falling", float64(tdc(t, falling).Value), 0, 1e-8)
	}
}

// However the wheel is set, and in whichever order it is read, the same place
// comes out.
func TestStopLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(30, 100).Draw(t, "throw")
		s := piston.SliderCrank{ThrowMM: a, RodMM: 3 * a, OffsetMM: a * rapid.Float64Range(-0.05, 0.05).Draw(t, "offset/throw")}
		before, after, err := AnglesAtDrop(s, a*rapid.Float64Range(0.01, 0.8).Draw(t, "drop/throw"))
		if err != nil {
			t.Fatal(err)
		}
		set := timing.Deg(rapid.Float64Range(0, 360).Draw(t, "wheel at top dead centre"))
		falls := rapid.Bool().Draw(t, "falls")
		says := func(at timing.Deg) float64 {
			if falls {
				at = -at
			}
			return float64(timing.Wrap(set+at, timing.Turn))
		}
		stop := Stop{FirstDeg: says(before), SecondDeg: says(after), Falls: falls, Linkage: &s}
		back := stop
		back.FirstDeg, back.SecondDeg = stop.SecondDeg, stop.FirstDeg
		for _, r := range []Stop{stop, back} {
			got, err := r.TDC()
			if err != nil {
				t.Fatal(err)
			}
			if off := timing.Difference(set, got.Value, timing.Turn); math.Abs(float64(off)) > 1e-7 {
				t.Fatalf("%+v: off by %g", r, float64(off))
			}
		}
	})
}

// A dial's 0.02 mm at 5 mm is 0.04 degrees on each side: half of the two together.
func TestEqualDropCarriesTheDial(t *testing.T) {
	t.Parallel()
	s := piston.SliderCrank{ThrowMM: 55, RodMM: 180}
	dial := Stop{FirstDeg: 338.4, SecondDeg: 21.6, U: known(0.1), DialMM: 5, UDial: known(0.02), Linkage: &s}
	slope := (s.DropMM(21.6001) - s.DropMM(21.5999)) / 0.0002
	want := math.Hypot(0.1, 0.02/slope) / math.Sqrt2
	r := tdc(t, dial)
	near(t, "u", float64(r.U), want, 1e-6)
	near(t, "top dead centre", float64(r.Value), 0, 1e-9)
	dial.Linkage = nil
	near(t, "u without the linkage", float64(tdc(t, dial).U), want, 0.01*want)
	if len(r.Budget) != 3 || r.Budget[2].Reading != ReadDrop {
		t.Errorf("budget %+v", r.Budget)
	}
}

func TestStopThatFindsNoMiddle(t *testing.T) {
	t.Parallel()
	for _, s := range []Stop{{FirstDeg: 20, SecondDeg: 20}, {FirstDeg: 20, SecondDeg: 200}, {FirstDeg: 20, SecondDeg: math.NaN()}} {
		if _, err := s.TDC(); !errors.Is(err, ErrNoMiddle) {
			t.Errorf("%+v: error %v", s, err)
		}
	}
	if _, err := (Stop{FirstDeg: 1, SecondDeg: 20, Linkage: &piston.SliderCrank{ThrowMM: 1, RodMM: 1}}).TDC(); !errors.Is(err, piston.ErrCannotTurn) {
		t.Errorf("error %v", err)
	}
}

// With a stop in the cylinder the degree wheel says 341.2 turning forwards and
// 25.6 turning back. What does it say at top dead centre?
func ExampleStop_TDC() {
	r, _ := Stop{FirstDeg: 341.2, SecondDeg: 25.6, U: Given{U: 0.25, Known: true}}.TDC()
	fmt.Printf("%.2f ± %.2f\n", float64(r.Value), float64(r.U))
	// Output: 3.40 ± 0.18
}

// How far apart are 10 degrees on a damper of 180 mm, and how surely are they
// marked when the length is good to 0.3 mm?
func ExampleDamper_Mark() {
	m, _ := Damper{DiameterMM: 180}.Mark(10, 0.3)
	fmt.Printf("%.2f mm along the rim, %.2f mm across: ± %.2f degrees\n", m.ArcMM, m.ChordMM, float64(m.ArcU))
	// Output: 15.71 mm along the rim, 15.69 mm across: ± 0.19 degrees
}

func TestDamperMarks(t *testing.T) {
	t.Parallel()
	// 12.5 mm at a radius of 62.5 mm: 11.4591559026 degrees as an arc, 11.4783409545
	// as a chord.
	m, err := Damper{DiameterMM: 125}.Mark(11.4591559026, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "arc", m.ArcMM, 12.5, 1e-8)
	m, _ = Damper{DiameterMM: 125}.Mark(11.4783409545, 0.1)
	near(t, "chord", m.ChordMM, 12.5, 1e-8)
	wide, _ := Damper{DiameterMM: 125, UDiameter: 1}.Mark(11.4783409545, 0.1)
	if wide.ArcU <= m.ArcU || wide.ChordU <= m.ChordU {
		t.Error("a diameter that is not known makes the mark less sure")
	}
	for _, angle := range []timing.Deg{-1, 181, timing.Deg(math.NaN())} {
		if _, err := (Damper{DiameterMM: 125}).Mark(angle, 0.1); err == nil {
			t.Errorf("%g degrees must be refused", float64(angle))
		}
	}
	if _, err := (Damper{}).Mark(10, 0.1); err == nil {
		t.Error("a damper without a diameter must be refused")
	}
}
