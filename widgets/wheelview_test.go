package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// wheelView returns a view on a wheel of 36 teeth, 400 by 400, and the sum of
// what it asks to be turned by.
func wheelView(t *testing.T, view timing.View) (v *WheelView, turned *timing.Deg) {
	t.Helper()
	test.NewTempApp(t)
	v, turned = NewWheelView(), new(timing.Deg)
	show := func() {
		v.SetFigure(figure.WheelInput{View: view, Theta: timing.Wrap(*turned, 720), Positions: 36, Missing: []int{36}, FirstBTDC: 90, Desc: "a wheel"})
	}
	v.OnTurn = func(by timing.Deg) { *turned += by; show() }
	show()
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 400))
	return v, turned
}

// rim is the place at an angle from the top, clockwise on the screen.
func rim(v *WheelView, clockwise float64) fyne.Position {
	s, c := math.Sincos(clockwise * math.Pi / 180)
	return fyne.NewPos(unit(v.layout.X)+100*float32(s), unit(v.layout.Y)-100*float32(c))
}

func TestWheelIsTurnedByDraggingItRound(t *testing.T) {
	for _, tt := range []struct {
		name string
		view timing.View
		want timing.Deg // for a quarter turn clockwise on the screen
	}{
		{"clockwise engine from the nose", timing.View{From: timing.Nose, Rotation: timing.Clockwise}, 90},
		{"clockwise engine from the flywheel", timing.View{From: timing.Flywheel, Rotation: timing.Clockwise}, -90},
		{"anticlockwise engine from the nose", timing.View{From: timing.Nose, Rotation: timing.Anticlockwise}, -90},
		{"anticlockwise engine from the flywheel", timing.View{From: timing.Flywheel, Rotation: timing.Anticlockwise}, 90},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v, turned := wheelView(t, tt.view)
			e := at(0, 0)
			e.Position = rim(v, 150)
			v.MouseDown(&e)
			for a := 150.0; a <= 240; a += 1.5 { // over the bottom, where the angle jumps from 180 to −180
				v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: rim(v, a)}})
			}
			v.DragEnd()
			if math.Abs(float64(*turned-tt.want)) > 1 {
				t.Errorf("a quarter turn clockwise turned it by %v, want %v", *turned, tt.want)
			}
			// Another grip elsewhere does not make it jump.
			before := *turned
			e.Position = rim(v, 10)
			v.MouseDown(&e)
			v.MouseUp(&e)
			v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: rim(v, 300)}})
			if *turned != before {
				t.Errorf("taken hold of anew it jumped by %v", *turned-before)
			}
		})
	}
}

func TestSlowDragOfTheWheelLosesNothing(t *testing.T) {
	v, turned := wheelView(t, timing.View{})
	e := at(0, 0)
	e.Position = rim(v, 0)
	v.MouseDown(&e)
	for a := 0.0; a <= 20; a += 0.1 {
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: rim(v, a)}})
	}
	if math.Abs(float64(*turned-20)) > 1 {
		t.Errorf("twenty degrees in tenths turned it by %v", *turned)
	}
}

func TestKeysAndMouseWheelTurnTheWheel(t *testing.T) {
	v, turned := wheelView(t, timing.View{From: timing.Flywheel})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
	if *turned != 2 { // on is on, whichever end it is seen from
		t.Errorf("turned by %v, want 2", *turned)
	}
	passed := 0
	v.OnKey = func(*fyne.KeyEvent) { passed++ }
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if passed != 1 {
		t.Error("a key without a use is not passed on")
	}
}

func TestWheelIsPaintedOnlyWhenItChanges(t *testing.T) {
	v, turned := wheelView(t, timing.View{})
	v.plane.raster.Generator(400, 400)
	v.plane.raster.Generator(400, 400)
	if v.plane.paints != 1 {
		t.Errorf("painted %d times without a change", v.plane.paints)
	}
	v.FocusGained()
	v.plane.raster.Generator(400, 400)
	if v.plane.paints != 1 || v.ring.Hidden {
		t.Error("the keyboard's coming painted it, or is not shown")
	}
	v.FocusLost()
	v.turn(5)
	v.plane.raster.Generator(400, 400)
	if v.plane.paints != 2 || *turned != 5 || !v.ring.Hidden {
		t.Errorf("turned by %v it was painted %d times", *turned, v.plane.paints)
	}
}

func TestWheelWithoutRoom(t *testing.T) {
	v, _ := wheelView(t, timing.View{})
	v.Resize(fyne.NewSize(1, 1))
	if img := v.plane.raster.Generator(1, 1); img.Bounds().Dx() != 1 {
		t.Errorf("painted %v", img.Bounds())
	}
	if got := v.AccessibilityLabel(); got != "a wheel" {
		t.Errorf("the label is %q", got)
	}
}
