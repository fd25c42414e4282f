package part

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase/timing"
)

func exact(d timing.Deg) timing.Measured { return timing.Measured{Value: d} }

func TestMirroredDowelGivesTwiceTheAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "drawing"))
		e := WheelError(nil, Comparison{exact(a), exact(-a)})
		if math.Abs(float64(timing.Difference(-2*a, e.Value, timing.Turn))) > 1e-9 {
			t.Fatalf("drawing %g mirrored: error %g", float64(a), float64(e.Value))
		}
		if e.Value <= -180 || e.Value > 180 {
			t.Fatalf("error %g is not the short way round", float64(e.Value))
		}
	})
}

func TestKeywayAndDowelErrorsAdd(t *testing.T) {
	keyway := Comparison{timing.Measured{Value: 170, U: 0.3}, timing.Measured{Value: -178, U: 0.4}}
	dowel := Comparison{timing.Measured{Value: 12.5, U: 1.2}, timing.Measured{Value: 9.5, U: 0}}
	if g := GearError(&keyway); g.Value != 12 || math.Abs(float64(g.U)-0.5) > 1e-12 {
		t.Errorf("gear error %+v", g)
	}
	if e := WheelError(&keyway, dowel); e.Value != 9 || math.Abs(float64(e.U)-1.3) > 1e-12 {
		t.Errorf("wheel error %+v", e)
	}
	if g := GearError(nil); g != (timing.Measured{}) {
		t.Errorf("a keyway not measured has gear error %+v", g)
	}
}

func TestJudge(t *testing.T) {
	at := func(drawing, measured, u timing.Deg) Verdict {
		return Judge(Comparison{timing.Measured{Value: drawing, U: 0.1}, timing.Measured{Value: measured, U: u}})
	}
	for _, c := range []struct {
		name                 string
		drawing, measured, u timing.Deg
		mirrored, drawn      bool
	}{
		{"as drawn", 12.5, 12.6, 0.3, false, true},
		{"mirrored", 12.5, -12.51, 0.5, true, false},
		{"mirrored, rough reading", 12.5, -11, 1.5, true, false},
		{"neither", 12.5, 40, 0.5, false, false},
		{"on the keyway: its own mirror", 0, 0.2, 0.3, false, true},
		{"opposite: its own mirror", 180, -179.8, 0.3, false, true},
		{"too near to tell", 0.3, -0.3, 0.5, false, true},
	} {
		v := at(c.drawing, c.measured, c.u)
		if v.IsMirrored() != c.mirrored || (v.AsDrawn > v.Mirrored && v.AsDrawn > v.Other) != c.drawn {
			t.Errorf("%s: %+v", c.name, v)
		}
		if math.Abs(v.AsDrawn+v.Mirrored+v.Other-1) > 1e-12 {
			t.Errorf("%s: %+v does not sum to 1", c.name, v)
		}
	}
	// Ten readings agree with the mirrored side by a margin no rounding hides.
	if v := at(12.5, -12.5, 0.1); v.Mirrored < 0.99 {
		t.Errorf("a clean mirrored reading is only %.3f sure", v.Mirrored)
	}
}
