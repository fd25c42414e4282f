package finding

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
)

const whatIfJob = four + `
[dowel]
drawing = { angle_deg = 12, side = "clockwise", u_deg = 0.1 }
measured = { angle_deg = 12, side = "anticlockwise", u_deg = 0.2 }
[keyway]
drawing = { angle_deg = 90, side = "clockwise" }
measured = { angle_deg = 91, side = "clockwise", u_deg = 0.2 }
[gears]
crank_teeth = 36
cam_teeth = 72
[[evidence]]
kind = "correlation_error_deg"
value = -24.0
`

// A what-if changes no job, no file and no evidence; answers go by it, say so first, and
// are as they were when it is taken back.
func TestSupposeChangesNothing(t *testing.T) {
	j := sample.Read(t, whatIfJob)
	before, err := ShiftOf(j)
	if err != nil {
		t.Fatal(err)
	}
	causes, err := CausesOf(j, CauseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		by := rapid.Float64Range(-170, 170).Draw(t, "wheel error")
		teeth := rapid.IntRange(-3, 3).Draw(t, "teeth out")
		air := rapid.Float64Range(-30, 50).Draw(t, "air")
		s := Suppose(j, WhatIf{WheelErrorDeg: &by, CamTeethOut: &teeth, AirC: &air})
		if j.Supposed != nil || !s.AsItIs().Equal(j) || !reflect.DeepEqual(Suppose(s, WhatIf{}), j) {
			t.Fatal("the job has changed")
		}
		got, err := ShiftOf(s)
		if err != nil || got.Basis != known.Supposed.String() || got.WheelErrorUDeg != nil {
			t.Fatalf("basis %s, u %v, %v", got.Basis, got.WheelErrorUDeg, err)
		}
		if !near(got.WheelErrorDeg, by, 1e-8) || !near(got.Injections[0].ActualBTDCDeg, 10+by, 1e-8) {
			t.Fatalf("supposed %g: %+v", by, got)
		}
		if says := got.Says.String(); !strings.HasPrefix(says, "What if: the sensor wheel ") {
			t.Fatalf("it says: %s", says)
		}
		g, err := GearsOf(s)
		if err != nil || g.TeethOut != teeth || !strings.HasPrefix(g.Says.String(), "What if: the camshaft gear ") {
			t.Fatalf("%d teeth: %+v, %v", teeth, g, err)
		}
		if after, err := ShiftOf(j); err != nil || !reflect.DeepEqual(after, before) {
			t.Fatal("the job's own answer has changed")
		}
	})
	by := 3.0
	s := Suppose(j, WhatIf{WheelErrorDeg: &by, AirC: &by})
	if again, err := CausesOf(s, CauseOptions{}); err != nil || !reflect.DeepEqual(again.Causes, causes.Causes) {
		t.Error("a what-if counts as evidence")
	}
	if is, was := job.New(s).Bytes(), job.New(j).Bytes(); string(is) != string(was) || string(job.New(j).With(s).Bytes()) != string(was) {
		t.Errorf("it is written:\n%s", is)
	}
}

// The dowel's slider supposes a wheel error: that of the formula.
func TestDowelError(t *testing.T) {
	j := sample.Read(t, whatIfJob)
	if got, ok := DowelError(j, 12); !ok || got != 1 {
		t.Errorf("as drawn from a keyway 1 degree ahead: %g, %v", got, ok)
	}
	if got, ok := DowelError(j, -12); !ok || got != -23 {
		t.Errorf("mirrored: %g, %v", got, ok)
	}
	j.Dowel = nil
	if _, ok := DowelError(j, 0); ok {
		t.Error("no drawing, and yet an error")
	}
}
