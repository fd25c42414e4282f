package piston

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Heywood 1988, eq. 2.6 (formula from memory), at rod/throw = 4 and 10:1, worked
// to twelve digits apart from this code.
func TestVolumeAgainstHandbookFormula(t *testing.T) {
	c := Cylinder{SliderCrank{ThrowMM: 55, RodMM: 220}, 100, 10}
	for alpha, want := range map[timing.Deg]float64{
		0: 1, 15: 1.19105365881, 30: 1.74406433328, 45: 2.60150176813, 60: 3.67693822921,
		90: 6.07157494207, 120: 8.17693822921, 150: 9.53829296734, 180: 10,
	} {
		near(t, fmt.Sprintf("V/Vc at %g", float64(alpha)), c.VolumeRatio(alpha), want, 1e-10)
		near(t, "V in cm3", c.VolumeCM3(alpha), want*c.ClearanceCM3(), 1e-8)
	}
}

// Triangles of whole numbers make the volume at 90 degrees exact: 9-40-41 and
// 5-12-13 (hand calculation).
func TestVolumeOfWholeTriangles(t *testing.T) {
	near(t, "9-40-41", Cylinder{SliderCrank{ThrowMM: 9, RodMM: 41}, 80, 10}.VolumeRatio(90), 6, 1e-12)
	near(t, "5-12-13", Cylinder{SliderCrank{ThrowMM: 5, RodMM: 13}, 80, 17}.VolumeRatio(90), 10.6, 1e-12)
}

func TestSweptAndClearance(t *testing.T) {
	c := Cylinder{SliderCrank{ThrowMM: 55, RodMM: 180}, 100, 17}
	near(t, "swept", c.SweptCM3(), 863.937980, 1e-6) // pi/4 x 10^2 x 11 cm
	near(t, "clearance", c.ClearanceCM3(), 53.9961237, 1e-6)
}

// With a pin offset the compression ratio still lies between the true dead
// centres, and what the piston sweeps is bore area times speed added up.
func TestVolumeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCylinder(t)
		if top, bottom := c.VolumeRatio(0), c.VolumeRatio(c.BDC()); math.Abs(top-1) > 1e-9 || math.Abs(bottom-c.Ratio) > 1e-9*c.Ratio {
			t.Fatalf("volume ratios at the dead centres are %g and %g, want 1 and %g", top, bottom, c.Ratio)
		}
		alpha := timing.Deg(rapid.Float64Range(0, 180).Draw(t, "alpha"))
		swept := quad.Fixed(func(deg float64) float64 { return c.Motion(timing.Deg(deg)).SlopeMM }, 0, float64(alpha), 60, nil, 0)
		swept *= math.Pi / 180 * math.Pi / 4 * c.BoreMM * c.BoreMM / 1000
		if got := c.VolumeCM3(alpha) - c.VolumeCM3(0); math.Abs(got-swept) > 1e-8*c.SweptCM3() {
			t.Fatalf("volume grew by %g cm3, speed adds up to %g", got, swept)
		}
	})
}

func anyCylinder(t *rapid.T) Cylinder {
	a := rapid.Float64Range(20, 150).Draw(t, "throw")
	return Cylinder{
		SliderCrank: SliderCrank{ThrowMM: a, RodMM: a * rapid.Float64Range(2.5, 5).Draw(t, "rod/throw"),
			OffsetMM: a * rapid.Float64Range(-0.1, 0.1).Draw(t, "offset/throw")},
		BoreMM: a * rapid.Float64Range(1.2, 2.2).Draw(t, "bore/throw"),
		Ratio:  rapid.Float64Range(12, 24).Draw(t, "ratio"),
	}
}

func TestCylindersThatCannotBe(t *testing.T) {
	good := Cylinder{SliderCrank{ThrowMM: 55, RodMM: 180}, 100, 17}
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]Cylinder{
		"no bore":   {good.SliderCrank, 0, 17},
		"NaN bore":  {good.SliderCrank, math.NaN(), 17},
		"ratio 1":   {good.SliderCrank, 100, 1},
		"no ratio":  {good.SliderCrank, 100, math.NaN()},
		"short rod": {SliderCrank{ThrowMM: 55, RodMM: 50}, 100, 17},
	} {
		if c.Check() == nil {
			t.Errorf("%s: must be refused", name)
		}
	}
}
