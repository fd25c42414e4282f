package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Heywood, Internal Combustion Engine Fundamentals, 1988, eq. 2.11 (formula from
// memory): piston speed over its mean at rod/throw = 4, worked to twelve digits
// apart from this code.
func TestVelocityAgainstHandbookFormula(t *testing.T) {
	s := SliderCrank{ThrowMM: 55, RodMM: 220}
	const rpm = 200
	for alpha, want := range map[timing.Deg]float64{
		0: 0, 15: 0.504932937814, 30: 0.956786093609, 45: 1.31021206753, 60: 1.53452443174,
		90: math.Pi / 2, 120: 1.18617461461, 150: 0.614010233186, 180: 0,
	} {
		near(t, fmt.Sprintf("speed over mean at %g", float64(alpha)), s.VelocityMS(alpha, rpm)/s.MeanSpeedMS(rpm), want, 1e-11)
		near(t, fmt.Sprintf("speed over mean at %g", -float64(alpha)), s.VelocityMS(-alpha, rpm)/s.MeanSpeedMS(rpm), -want, 1e-11)
	}
}

// The same source: the largest speed over the mean and where it is, for four
// ratios of rod to throw.
func TestLargestVelocity(t *testing.T) {
	for _, c := range []struct{ ratio, speed, at float64 }{
		{3, 1.656623926, 73.17529664}, {36.0 / 11, 1.643013857, 74.29729630},
		{3.5, 1.634011586, 75.13558695}, {4, 1.619306756, 76.72097792},
	} {
		s := SliderCrank{ThrowMM: 50, RodMM: 50 * c.ratio}
		lo, hi := timing.Deg(60), timing.Deg(90)
		for range 60 { // where the acceleration passes 0
			if mid := (lo + hi) / 2; s.AccelerationMS2(mid, 100) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		near(t, "angle of the largest speed", float64(lo), c.at, 1e-4)
		near(t, "largest speed", s.VelocityMS(lo, 100)/s.MeanSpeedMS(100), c.speed, 1e-6)
	}
}

// Dead centres and stroke of small offsets (geometry alone, worked apart from
// this code): throw 55, rod 180 mm.
func TestSmallOffsets(t *testing.T) {
	for _, c := range []struct{ offset, tdc, travel float64 }{{0.5, 0.1219060058, 110.000468089}, {2, 0.4876295421, 110.007490232}} {
		s := SliderCrank{ThrowMM: 55, RodMM: 180, OffsetMM: c.offset}
		near(t, "TDC", float64(s.TDC()), c.tdc, 1e-7)
		near(t, "travel", s.TravelMM(), c.travel, 1e-7)
	}
}

func TestMeanSpeed(t *testing.T) {
	// By hand: 2 x 0.110 m x 200/60.
	near(t, "mean speed", SliderCrank{ThrowMM: 55, RodMM: 180}.MeanSpeedMS(200), 0.733333333, 1e-9)
}

// The derivatives against differences of the drop itself, with offsets; the
// tolerance is the error of a central difference at this step.
func TestMotionIsTheDropsDerivative(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(10, 200).Draw(t, "throw")
		s := SliderCrank{ThrowMM: a, RodMM: a * rapid.Float64Range(2, 6).Draw(t, "rod/throw"),
			OffsetMM: a * rapid.Float64Range(-0.3, 0.3).Draw(t, "offset/throw")}
		alpha := timing.Deg(rapid.Float64Range(-360, 360).Draw(t, "alpha"))
		const h = 0.05
		rad := timing.Deg(h).Radians()
		m, before, after := s.Motion(alpha), s.Motion(alpha-h), s.Motion(alpha+h)
		if d := (after.DropMM - before.DropMM) / (2 * rad); math.Abs(d-m.SlopeMM) > 2e-6*a {
			t.Fatalf("slope %g, from differences %g", m.SlopeMM, d)
		}
		if d := (after.SlopeMM - before.SlopeMM) / (2 * rad); math.Abs(d-m.BendMM) > 1e-5*a {
			t.Fatalf("bend %g, from differences %g", m.BendMM, d)
		}
		if top := s.Motion(0); math.Abs(top.SlopeMM) > 1e-9*a {
			t.Fatalf("at top dead centre the piston still moves: %g", top.SlopeMM)
		}
		if bottom := s.Motion(s.BDC()); math.Abs(bottom.SlopeMM) > 1e-9*a {
			t.Fatalf("at bottom dead centre the piston still moves: %g", bottom.SlopeMM)
		}
	})
}

// How fast does the piston of a 110 mm stroke move 20 degrees after top dead
// centre while the engine is cranked at 180 rpm?
func ExampleSliderCrank_VelocityMS() {
	s := SliderCrank{ThrowMM: 55, RodMM: 180}
	fmt.Printf("%.2f m/s\n", s.VelocityMS(20, 180))
	// Output: 0.46 m/s
}
