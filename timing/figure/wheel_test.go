package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func anyWheel(t *rapid.T) WheelInput {
	n := rapid.SampledFrom([]int{0, 4, 12, 36, 58, 60, 120}).Draw(t, "positions")
	var missing []int
	if n > 0 {
		missing = rapid.SliceOfNDistinct(rapid.IntRange(1, n), 0, 3, rapid.ID[int]).Draw(t, "missing")
	}
	in := wheelInput(n, missing, timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "delta")))
	in.Theta = timing.Deg(rapid.Float64Range(-720, 720).Draw(t, "theta"))
	in.FirstBTDC = timing.Deg(rapid.Float64Range(0, 360).Draw(t, "B"))
	in.SensorAt = deg(timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "sensor")))
	in.View.From = rapid.SampledFrom([]timing.End{timing.Nose, timing.Flywheel}).Draw(t, "from")
	in.View.Rotation = rapid.SampledFrom([]timing.Sense{timing.Clockwise, timing.Anticlockwise}).Draw(t, "rotation")
	if rapid.Bool().Draw(t, "keyway") {
		in.KeywayMeasured = deg(timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "keyway at")))
	}
	return in
}

// The texts of what stands still do not run into one another; those on the part
// turn below them.
func TestWheelTextsFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in, box := anyWheel(t), anyBox(t)
		turning, fixed, _ := WheelLayers(in, box)
		checkTexts(t, fixed, box)
		for _, s := range turning.Shapes {
			if txt, ok := s.(Text); ok && txt.Size < smallest {
				t.Errorf("%v is too small to read", txt)
			}
		}
	})
}

func near(a, b timing.Deg) bool {
	return math.Abs(float64(timing.WrapSigned(a-b, timing.Turn))) < 1e-6
}

// On a correct engine tooth k is at the sensor when theta = −B + (k−1)·360/N,
// from either end and for either rotation; on a displaced wheel when theta is
// less by the error, so that the controller believes theta + error.
func TestToothMeetsSensor(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := anyWheel(t)
		if in.Positions == 0 {
			in.Positions = 60
		}
		k := rapid.IntRange(1, in.Positions).Draw(t, "tooth")
		in.Theta = -in.FirstBTDC + timing.Deg(k-1)*timing.Turn/timing.Deg(in.Positions) - in.Error
		_, l := Wheel(in, Box{W: 600, H: 600})
		x, y := l.Point(l.Tip, in.Theta+in.ToothOnPart(k))
		sx, sy := l.Point(l.Tip, *in.SensorAt)
		if math.Hypot(x-sx, y-sy) > 1e-6 {
			t.Errorf("tooth %d is at %g, %g, the sensor at %g, %g", k, x, y, sx, sy)
		}
	})
}

func TestWheelPointAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := anyWheel(t)
		_, l := Wheel(in, Box{W: 600, H: 500})
		a := timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "angle"))
		x, y := l.Point(l.Ring, a)
		if got := l.FromTop(x, y); !near(got, a) {
			t.Errorf("FromTop(Point(%v)) = %v", a, got)
		}
		x, y = l.Point(l.Dowel, in.Theta+a)
		if got := l.OnPart(x, y); !near(got, a) {
			t.Errorf("OnPart(Point(theta + %v)) = %v", a, got)
		}
	})
}

// What is drawn is looked at, not only what the layout says: seen from the nose
// of a clockwise engine a quarter turn puts the throw at the right, from the
// flywheel at the left, and 9 degrees before top dead centre lies on the other
// side.
func TestViewTurnsTheFigure(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name              string
		view              timing.View
		throwRight, early float64 // sign of x
	}{
		{"clockwise, nose", timing.View{}, 1, -1},
		{"clockwise, flywheel", timing.View{From: timing.Flywheel}, -1, 1},
		{"anticlockwise, nose", timing.View{Rotation: timing.Anticlockwise}, -1, 1},
		{"anticlockwise, flywheel", timing.View{From: timing.Flywheel, Rotation: timing.Anticlockwise}, 1, -1},
	}
	for _, r := range rows {
		in := wheelInput(36, []int{36}, 0)
		in.View, in.Theta = r.view, 90
		d, l := Wheel(in, Box{W: 500, H: 500})
		for _, h := range d.Hits {
			dx := h.X + h.W/2 - l.X
			switch h.Name {
			case "throw":
				if dx*r.throwRight < 0.3*l.Ring {
					t.Errorf("%s: at 90° the throw is %g right of the axis", r.name, dx)
				}
			case "commanded":
				if want := r.early * math.Sin(9*math.Pi/180) * l.Ring; math.Abs(dx-want) > 0.5 {
					t.Errorf("%s: injection 9° BTDC is %g right of the top, want %g", r.name, dx, want)
				}
			}
		}
	}
}

// The measured dowel lies ahead of the drawing's by the wheel error, and the
// wheel's teeth by the same.
func TestDowelAndTeethMoveTogether(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		drawing, measured := rapid.Float64Range(-180, 180).Draw(t, "drawing"), rapid.Float64Range(-180, 180).Draw(t, "measured")
		in := wheelInput(60, nil, timing.Deg(measured-drawing))
		in.DowelDrawing, in.DowelMeasured = deg(timing.Deg(drawing)), deg(timing.Deg(measured))
		d, l := Wheel(in, Box{W: 600, H: 600})
		at := map[string]timing.Deg{}
		for _, h := range d.Hits {
			at[h.Name] = l.OnPart(h.X+h.W/2, h.Y+h.H/2)
		}
		correct := in
		correct.Error = 0
		teeth := in.ToothOnPart(1) - correct.ToothOnPart(1)
		if dowel := at["dowel measured"] - at["dowel drawing"]; !near(dowel, teeth) {
			t.Errorf("the dowel has moved by %v, the teeth by %v", dowel, teeth)
		}
		if !near(at["tooth 1"], in.ToothOnPart(1)) {
			t.Errorf("tooth 1 is drawn at %v, want %v", at["tooth 1"], in.ToothOnPart(1))
		}
	})
}
