package chart

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// Tooth 1 is said to pass before TDC or after it, within a turn and never with a sign, and
// lies beyond the sensor by the angle typed. In the form's picture the ring is large enough
// for the numbers on it: a legible one is a tenth of 54 points at the least (common
// practice, no source).
func TestToothOne(t *testing.T) {
	t.Parallel()
	for b, want := range map[float64]string{
		90:   "Shown at TDC of cylinder 1. Tooth 1 passes the sensor 90° before it.",
		-12:  "Shown at TDC of cylinder 1. Tooth 1 passes the sensor 12° after it.",
		450:  "Shown at TDC of cylinder 1. Tooth 1 passes the sensor 90° before it.",
		84.5: "Shown at TDC of cylinder 1. Tooth 1 passes the sensor 84.5° before it.",
		360:  "Shown at TDC of cylinder 1. Tooth 1 is at the sensor.",
	} {
		j := sample.Demo(t)
		j.CrankWheel.FirstToothBTDCDeg = job.Num(b)
		in, ok := ToothOne(j, timing.Nose, nil)
		if !ok || in.Desc != want {
			t.Errorf("%g: %v, %q, want %q", b, ok, in.Desc, want)
			continue
		}
		if d := timing.Difference(in.ToothOnPart(1), figure.DefaultSensorAt+timing.Deg(b), timing.Turn); math.Abs(float64(d)) > 1e-9 {
			t.Errorf("%g: tooth 1 is %g off", b, float64(d))
		}
		d, l := figure.Wheel(in, figure.Box{W: 240, H: 240})
		if l.Ring < 54 || d.W > 240.5 || d.H > 240.5 {
			t.Errorf("%g: a ring of %.1f points in %.0f × %.0f", b, l.Ring, d.W, d.H)
		}
	}
	j := sample.Demo(t)
	j.CrankWheel = nil
	if _, ok := ToothOne(j, timing.Nose, nil); ok {
		t.Error("there is a picture without a wheel")
	}
}
