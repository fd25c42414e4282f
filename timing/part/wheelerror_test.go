package part

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func exact(d timing.Deg) timing.Measured { return timing.Measured{Value: d} }

func TestMirroredDowelGivesTwiceTheAngle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "drawing"))
		e := WheelError(nil, Comparison{Drawing: exact(a), Measured: exact(-a)})
		if math.Abs(float64(timing.Difference(-2*a, e.Value, timing.Turn))) > 1e-9 {
			t.Fatalf("drawing %g mirrored: error %g", float64(a), float64(e.Value))
		}
		if e.Value <= -180 || e.Value > 180 {
			t.Fatalf("error %g is not the short way round", float64(e.Value))
		}
	})
}

func TestKeywayAndDowelErrorsAdd(t *testing.T) {
	t.Parallel()
	keyway := Comparison{Drawing: timing.Measured{Value: 170, U: 0.3}, Measured: timing.Measured{Value: -178, U: 0.4}}
	dowel := Comparison{Drawing: timing.Measured{Value: 12.5, U: 1.2}, Measured: timing.Measured{Value: 9.5, U: 0}}
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
