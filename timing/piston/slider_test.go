package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// Heywood 1988, eqs 2.4 to 2.6 (formulas from memory), worked to twelve digits
// apart from this code: throw 55, rod 180 mm.
func TestDropAgainstHandbookFormula(t *testing.T) {
	s := SliderCrank{ThrowMM: 55, RodMM: 180}
	for alpha, want := range map[timing.Deg]float64{
		0: 0, 5: 0.273131463556, 10: 1.08912691865, 20: 4.30254268941, 30: 9.48170051965, 45: 20.3607273265,
		60: 33.9164466316, 90: 63.6086349900, 120: 88.9164466316, 150: 104.744494936, 180: 110,
	} {
		near(t, fmt.Sprintf("drop at %g", float64(alpha)), s.DropMM(alpha), want, 1e-9)
		near(t, fmt.Sprintf("drop at %g", -float64(alpha)), s.DropMM(-alpha), want, 1e-9)
	}
	// R = rod/throw = 4: x/stroke of the same table.
	r := SliderCrank{ThrowMM: 0.5, RodMM: 2}
	near(t, "x/stroke at 90, R=4", r.DropMM(90), 0.563508326896, 1e-12)
	near(t, "x/stroke at 150, R=4", r.DropMM(150), 0.948699218594, 1e-12)
}

// A published examination item (offset slider-crank, throw 30, rod 50, offset
// 10 mm, stroke 62.05 mm), with more digits computed independently.
func TestOffsetDeadCentres(t *testing.T) {
	s := SliderCrank{ThrowMM: 30, RodMM: 50, OffsetMM: 10}
	near(t, "TDC", float64(s.TDC()), 7.180755781, 1e-7)
	near(t, "BDC after TDC", float64(s.BDC()), 202.8192442, 1e-7)
	near(t, "travel", s.TravelMM(), 62.05203126, 1e-7)

	for _, c := range []struct{ offset, tdc, bdc, travel float64 }{
		{1, 0.2438125635, 180.2145586, 110.001872395},
		{10, 2.438854691, 182.1497110, 110.187779694},
	} {
		s := SliderCrank{ThrowMM: 55, RodMM: 180, OffsetMM: c.offset}
		near(t, "TDC", float64(s.TDC()), c.tdc, 1e-7)
		near(t, "BDC after TDC", float64(s.BDC()), c.bdc, 1e-7)
		near(t, "travel", s.TravelMM(), c.travel, 1e-7)
	}
}

func TestPistonLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(5, 500).Draw(t, "throw")
		e := rapid.Float64Range(-0.3, 0.3).Draw(t, "offset/throw") * a
		s := SliderCrank{ThrowMM: a, RodMM: a * rapid.Float64Range(1.5, 6).Draw(t, "rod/throw"), OffsetMM: e}
		if err := s.Check(); err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		alpha := timing.Deg(rapid.Float64Range(-720, 720).Draw(t, "alpha"))
		drop, travel := s.DropMM(alpha), s.TravelMM()
		if drop < 0 || drop > travel*(1+1e-12) {
			t.Fatalf("drop %g outside 0..%g", drop, travel)
		}
		if math.Abs(s.DropMM(0)) > 1e-9*a {
			t.Fatalf("drop at TDC is %g", s.DropMM(0))
		}
		mirror := SliderCrank{ThrowMM: a, RodMM: s.RodMM, OffsetMM: -e}
		if math.Abs(mirror.DropMM(-alpha)-drop) > 1e-9*a {
			t.Fatal("an offset on the other side must mirror the motion about TDC")
		}
	})
}

func TestARodTooShort(t *testing.T) {
	for _, s := range []SliderCrank{{50, 50, 0}, {50, 40, 0}, {50, 55, 6}, {0, 100, 0}, {50, math.NaN(), 0}} {
		if s.Check() == nil {
			t.Errorf("%+v must be refused", s)
		}
	}
}

// How far is the piston down 20 degrees after top dead centre?
func ExampleSliderCrank_DropMM() {
	s := SliderCrank{ThrowMM: 55, RodMM: 180}
	fmt.Printf("%.3f mm\n", s.DropMM(20))
	// Output: 4.303 mm
}
