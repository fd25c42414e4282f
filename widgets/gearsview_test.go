package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// gearsView returns a view on a train of 30, 45 and 60 teeth, 600 by 300, and the
// sum of what it asks the crank to be turned by.
func gearsView(t *testing.T, view timing.View) (v *GearsView, turned *timing.Deg) {
	t.Helper()
	test.NewTempApp(t)
	v, turned = NewGearsView(), new(timing.Deg)
	show := func() {
		c := *turned
		v.SetFigure(figure.GearsInput{View: view, Desc: "gears", Wheels: []figure.GearWheel{
			{Name: "crank", Count: "crank, 30", Teeth: 30, Turned: c}, {Name: "idler", Count: "idler, 45", Teeth: 45, Turned: -c * 30 / 45},
			{Name: "cam", Count: "cam, 60", Teeth: 60, Turned: c / 2}}})
	}
	v.OnTurn = func(by timing.Deg) { *turned += by; show() }
	show()
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(600, 300))
	return v, turned
}

// on is the place on a wheel at an angle from its top, clockwise on the screen.
func (v *GearsView) on(wheel int, clockwise float64) fyne.Position {
	s, c := math.Sincos(clockwise * math.Pi / 180)
	r := 0.7 * v.layout.R[wheel]
	return fyne.NewPos(unit(v.layout.X[wheel]+r*s), unit(v.layout.Y[wheel]-r*c))
}

// Every wheel drags the crank by its teeth over the crank's, the idler against it.
func TestGearsAreTurnedByDraggingAWheel(t *testing.T) {
	for _, view := range []timing.View{{From: timing.Nose, Rotation: timing.Clockwise}, {From: timing.Flywheel, Rotation: timing.Clockwise}} {
		sign := timing.Deg(1)
		if view.From == timing.Flywheel {
			sign = -1
		}
		for wheel, want := range []timing.Deg{90, -135, 180} { // for a quarter turn clockwise on the screen
			v, turned := gearsView(t, view)
			e := at(0, 0)
			e.Position = v.on(wheel, 140)
			v.MouseDown(&e)
			for a := 140.0; a <= 230; a += 1.5 {
				v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: v.on(wheel, a)}})
			}
			v.DragEnd()
			if math.Abs(float64(*turned-sign*want)) > 1 {
				t.Errorf("%v, wheel %d: a quarter turn turned the crank by %v, want %v", view, wheel, *turned, sign*want)
			}
			before := *turned
			v.MouseDown(&e) // gripped elsewhere it does not jump
			v.Dragged(&fyne.DragEvent{PointEvent: e.PointEvent})
			if *turned != before {
				t.Error("taken hold of again it jumps")
			}
			v.MouseUp(&e)
		}
	}
}

func TestGearsByKeysAndMouseWheel(t *testing.T) {
	v, turned := gearsView(t, timing.View{})
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyRight, fyne.KeyLeft, fyne.KeyUp} {
		v.TypedKey(&fyne.KeyEvent{Name: k})
	}
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	if *turned != 3 {
		t.Errorf("turned by %v, want 3", *turned)
	}
	var other fyne.KeyName
	v.OnKey = func(e *fyne.KeyEvent) { other = e.Name }
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if other != fyne.KeySpace {
		t.Error("a key it has no use for is lost")
	}
	v.FocusGained()
	if v.ring.Hidden {
		t.Error("nothing shows that it has the keyboard")
	}
	v.FocusLost()
	if !v.ring.Hidden || v.AccessibilityLabel() != "gears" {
		t.Error("left, it still looks as if it had the keyboard")
	}
}

// Without a train nothing is turned and nothing breaks.
func TestNoGears(t *testing.T) {
	test.NewTempApp(t)
	v := NewGearsView()
	w := test.NewTempWindow(t, v)
	w.Resize(fyne.NewSize(300, 200))
	e := at(10, 10)
	v.MouseDown(&e)
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(50, 80)}})
	v.DragEnd()
}
