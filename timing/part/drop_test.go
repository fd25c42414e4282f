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

// Throw 55, rod 180 mm: Heywood, Internal Combustion Engine Fundamentals, 1988,
// sec. 2.2 turned round (formula from memory), worked out apart from this code.
func TestAnglesAtDrop(t *testing.T) {
	t.Parallel()
	s := piston.SliderCrank{ThrowMM: 55, RodMM: 180}
	for drop, want := range map[float64]float64{
		0: 0, 0.1: 3.02441319821, 0.5: 6.76794516703, 1: 9.58046621276, 2: 13.5748829852, 5: 21.5898169374,
		10: 30.8418279549, 20: 44.5634699320, 55: 81.2120626774, 100: 138.663345642, 110: 180,
	} {
		before, after, err := AnglesAtDrop(s, drop)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("after, %g mm", drop), float64(after), want, 1e-9)
		near(t, fmt.Sprintf("before, %g mm", drop), float64(before), -want, 1e-9)
	}
	for _, drop := range []float64{-0.1, 110.1, math.NaN()} {
		if _, _, err := AnglesAtDrop(s, drop); !errors.Is(err, ErrNoTriangle) {
			t.Errorf("%g mm: error %v", drop, err)
		}
	}
	if _, _, err := AnglesAtDrop(piston.SliderCrank{ThrowMM: 55, RodMM: 50}, 1); !errors.Is(err, piston.ErrCannotTurn) {
		t.Errorf("a rod too short: error %v", err)
	}
}

// Angles of equal drop with a wrist-pin offset, from where the throw points along
// the cylinder, and the error of their middle; throw 55, rod 180 mm. Worked out
// by two methods apart from this code.
var offsetRows = []struct{ offset, drop, first, second, lean float64 }{
	{1, 1, -9.335567996, 9.825276985, 0.0010419308},
	{1, 5, -21.34060228, 21.83882792, 0.0053002561},
	{1, 10, -30.58702749, 31.09632477, 0.010836077},
	{1, 20, -44.29673694, 44.82972236, 0.022680150},
	{10, 1, -7.126817075, 12.02536499, 0.010419268},
	{10, 5, -19.08777075, 24.07148316, 0.053001512},
	{10, 10, -28.27942497, 33.37384700, 0.10835632},
	{10, 20, -41.87379179, 47.20506398, 0.22678141},
}

func TestOffsetLeansTheMiddle(t *testing.T) {
	t.Parallel()
	for _, c := range offsetRows {
		s := piston.SliderCrank{ThrowMM: 55, RodMM: 180, OffsetMM: c.offset}
		before, after, err := AnglesAtDrop(s, c.drop)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "first", float64(before+s.TDC()), c.first, 1e-7)
		near(t, "second", float64(after+s.TDC()), c.second, 1e-7)
		near(t, "middle", float64(before+after)/2, c.lean, 1e-8)
		near(t, "lean from the span", float64(Lean(s, after-before)), c.lean, 1e-8)
	}
}

func TestDropAndAngleAreInverse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(20, 200).Draw(t, "throw")
		s := piston.SliderCrank{ThrowMM: a, RodMM: a * rapid.Float64Range(2.5, 5).Draw(t, "rod/throw"), OffsetMM: a * rapid.Float64Range(-0.2, 0.2).Draw(t, "offset/throw")}
		drop := s.TravelMM() * rapid.Float64Range(0.001, 0.999).Draw(t, "depth")
		before, after, err := AnglesAtDrop(s, drop)
		if err != nil {
			t.Fatal(err)
		}
		if !(before < 0 && after > 0 && after-before < 360) {
			t.Fatalf("angles %g and %g", float64(before), float64(after))
		}
		for _, at := range []timing.Deg{before, after} {
			if got := s.DropMM(at); math.Abs(got-drop) > 1e-9*a {
				t.Fatalf("at %g the drop is %g, not %g", float64(at), got, drop)
			}
		}
		if l := Lean(s, after-before); math.Abs(float64(l-(before+after)/2)) > 1e-8 {
			t.Fatalf("lean %g, middle %g", float64(l), float64(before+after)/2)
		}
		if s.OffsetMM == 0 && before != -after {
			t.Fatal("without an offset both sides are alike")
		}
	})
}

// Near top dead centre a dial tells little, and the answer knows: 0.02 mm is a
// degree and a half there, a hundredth of a degree at 90.
func TestDropTellsLittleNearTDC(t *testing.T) {
	t.Parallel()
	s := piston.SliderCrank{ThrowMM: 55, RodMM: 180}
	at := func(drop float64) Result {
		r, err := Drop{DropMM: drop, Linkage: s, UDrop: known(0.02)}.Angle()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if r := at(0); r.Drawn == nil || r.U < 0.5 || r.U > 2 || r.Drawn.Lo != 0 {
		t.Errorf("at top dead centre: %+v", r)
	}
	if r := at(s.DropMM(90)); r.Drawn != nil || math.Abs(float64(r.Value)-90) > 1e-9 || r.U > 0.03 {
		t.Errorf("at 90: %+v", r)
	}
	up, err := Drop{DropMM: 5, Before: true, Linkage: s}.Angle()
	if err != nil || !up.DefaultU {
		t.Fatalf("%+v, %v", up, err)
	}
	near(t, "on the way up", float64(up.Value), -21.5898169374, 1e-9)
}

// The dial shows 5.00 mm below the top on the way down. Where is the crank?
func ExampleDrop_Angle() {
	r, _ := Drop{
		DropMM: 5, Linkage: piston.SliderCrank{ThrowMM: 55, RodMM: 180},
		UDrop: Given{U: 0.02, Known: true},
	}.Angle()
	fmt.Printf("%.2f ± %.2f degrees after top dead centre\n", float64(r.Value), float64(r.U))
	// Output: 21.59 ± 0.04 degrees after top dead centre
}
