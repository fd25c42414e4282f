package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

func TestClickPlacesAPoint(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "keyway"
	o.click(28, 208)
	o.wasAsked(t, "place keyway 10 100", "select 2")
	o.click(3, 203) // beside the picture: its edge
	o.wasAsked(t, "place keyway 0 97.5", "select 3")
	o.keys(fyne.KeyEscape, fyne.KeyEnter)
	*v.aim = spot{10, 100} // on top of another of its kind: the new one is meant
	o.keys(fyne.KeyEnter)
	o.wasAsked(t, "select -1", "place keyway 10 100", "select 4")
}

func TestClickWithoutAKindSelectsNone(t *testing.T) {
	_, o := owned(t)
	o.click(108, 108)
	o.click(300, 30)
	o.wasAsked(t, "select 0", "select -1")
}

func TestFarBesideThePictureNothingIsPlaced(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	v.Resize(fyne.NewSize(800, 300))
	o.click(20, 150)
	o.wasAsked(t)
}

func TestUnsteadyClickIsStillAClick(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	o.press(28, 208)
	o.drag(30, 210)
	o.release(30, 210)
	v.DragEnd()
	o.wasAsked(t, "place rim 10 100", "select 2")
	o.press(108, 108)
	o.drag(110, 109)
	o.release(110, 109)
	v.DragEnd()
	o.wasAsked(t, "select 0")
}

func TestDraggedPointKeepsItsDistanceFromThePointer(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	o.press(111, 105) // 3 right of the point, 3 above
	o.drag(116, 105)  // the drag begins
	o.drag(126, 105)
	o.drag(136, 145)
	o.release(136, 145)
	v.DragEnd()
	o.wasAsked(t, "select 0", "move 0 55 50", "move 0 60 70", "end 0")
	o.drag(300, 200) // nothing is held any more
	o.wasAsked(t)
}

func TestDragGoesOnBesideTheView(t *testing.T) {
	v, o := owned(t)
	o.press(108, 108)
	o.drag(100, 100)
	o.drag(-5000, -70)
	o.drag(9000, 9000)
	o.drag(200, 108)
	v.DragEnd() // released elsewhere: no MouseUp
	o.wasAsked(t, "select 0", "move 0 0 0", "move 0 192 142", "move 0 100 54", "end 0")
}

func TestDragThatMovesNothingAsksForNothing(t *testing.T) {
	v, o := owned(t)
	v.marks[0] = Mark{"rim", 0, 0}
	o.marks[0] = v.marks[0]
	o.press(8, 8)
	o.drag(-20, -20)
	o.drag(-40, -60)
	v.DragEnd()
	o.wasAsked(t, "select 0", "end 0")
}

func TestPointsThatGoWhileTheyAreDragged(t *testing.T) {
	v, o := owned(t)
	o.press(208, 168)
	o.drag(220, 168)
	v.SetMarks(o.marks[:1])
	o.drag(240, 168)
	v.DragEnd()
	o.wasAsked(t, "select 1")
	if v.Selected() != -1 {
		t.Errorf("point %d is selected, want none", v.Selected())
	}
}

func TestGrabRadiusIsTheSameAtEveryZoom(t *testing.T) {
	for _, zoom := range []float64{1, 2.5, 6} {
		v, o := owned(t)
		v.zoomAt(zoom, 108, 108)
		x, y := o.shownAt(0)
		for _, c := range []struct {
			dx, dy float32
			want   int
		}{{0, 0, 0}, {12, 0, 0}, {0, -12, 0}, {-8, 8, 0}, {13.9, 0, 0}, {14.1, 0, -1}, {11, 11, -1}} {
			v.Select(-1)
			o.click(x+c.dx, y+c.dy)
			if v.Selected() != c.want {
				t.Errorf("zoom %g, %g, %g beside the point: %d selected, want %d", zoom, c.dx, c.dy, v.Selected(), c.want)
			}
		}
	}
}

func TestNearestPointIsTaken(t *testing.T) {
	v, o := owned(t)
	v.SetMarks([]Mark{{"rim", 50, 50}, {"rim", 54, 50}, {"rim", 54, 50}})
	o.click(111, 108)
	o.click(113, 108)
	o.wasAsked(t, "select 0", "select 2")
}

func TestDraggingThePicture(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	v.zoomAt(4, 200, 150)
	x, y := v.sight.x, v.sight.y
	o.press(300, 30)
	o.drag(300, 40) // the drag begins
	o.drag(340, 56)
	if v.sight.x != x-40/v.sight.scale || v.sight.y != y-16/v.sight.scale {
		t.Errorf("the middle went from %v, %v to %v, %v", x, y, v.sight.x, v.sight.y)
	}
	o.release(340, 56)
	v.DragEnd()
	o.wasAsked(t)
	if v.hold != nil {
		t.Error("the picture is still held")
	}
}

func TestPictureIsDraggedAlsoWhereAPointLies(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(4, 108, 108)
	for _, c := range []struct {
		how           string
		button        desktop.MouseButton
		before, after func()
	}{
		{"middle button", desktop.MouseButtonTertiary, func() {}, func() {}},
		{"space bar", desktop.MouseButtonPrimary,
			func() { v.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace}) }, func() { v.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace}) }},
	} {
		px, py := o.shownAt(0)
		was := v.sight.x
		c.before()
		v.MouseDown(mouse(px, py, c.button))
		o.drag(px-5, py)
		o.drag(px-25, py)
		v.MouseUp(mouse(px-25, py, c.button))
		v.DragEnd()
		c.after()
		if v.sight.x <= was {
			t.Errorf("%s: the picture did not move", c.how)
		}
		o.wasAsked(t)
	}
	x, y := o.shownAt(0)
	o.click(x, y)
	o.wasAsked(t, "select 0") // the space bar is up again
}

func TestOtherButtonsDoNothing(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	v.MouseDown(mouse(30, 30, desktop.MouseButtonSecondary))
	o.drag(60, 60)
	v.MouseUp(mouse(30, 30, desktop.MouseButtonSecondary))
	o.wasAsked(t)
	o.press(30, 30) // and do not end what the first one began
	v.MouseDown(mouse(30, 30, desktop.MouseButtonSecondary))
	v.MouseUp(mouse(30, 30, desktop.MouseButtonSecondary))
	o.wasAsked(t)
	o.release(30, 30)
	o.wasAsked(t, "place rim 11 11", "select 2")
}

func TestWheelEnlargesAtThePointer(t *testing.T) {
	v, o := owned(t)
	o.wheel(3, 108, 108)
	if x, y := o.shownAt(0); !near(float64(x), 108, 0.01) || !near(float64(y), 108, 0.01) || !near(v.sight.scale, 2*1.728, 1e-9) {
		t.Errorf("the point under the pointer went to %v, %v at scale %v", x, y, v.sight.scale)
	}
	o.wheel(-30, 108, 108)
	if !v.sight.fitted() {
		t.Error("not fitted after all the way out")
	}
}

func TestEnlargingWhileDraggingThePicture(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(3, 200, 150)
	o.press(200, 30)
	o.drag(205, 30)
	o.drag(220, 40)
	o.wheel(2, 220, 40)
	px, py := v.sight.transform().Invert(220, 40)
	o.drag(230, 45)
	if x, y := v.sight.transform().Invert(230, 45); !near(x, px, 1e-9) || !near(y, py, 1e-9) {
		t.Errorf("the held place was %v, %v and is %v, %v", px, py, x, y)
	}
}

func TestPointerShowsWhatAClickWouldDo(t *testing.T) {
	v, o := owned(t)
	is := func(when string, want desktop.Cursor) {
		t.Helper()
		if got := v.Cursor(); got != want {
			t.Errorf("%s: cursor %v, want %v", when, got, want)
		}
	}
	v.MouseMoved(mouse(300, 30, 0))
	is("nothing to place", desktop.DefaultCursor)
	v.PlaceKind = "rim"
	is("placing", desktop.CrosshairCursor)
	v.MouseMoved(mouse(110, 110, 0))
	is("over a point", desktop.PointerCursor)
	o.press(110, 110)
	o.drag(130, 130)
	is("dragging it", desktop.PointerCursor)
	v.DragEnd()
	v.SetPicture(nil)
	is("no picture", desktop.DefaultCursor)
}

func TestDragEndsWhenThePointOrThePictureGoes(t *testing.T) {
	v, o := owned(t)
	grab := func() {
		o.press(108, 108)
		o.drag(120, 108)
		o.drag(130, 108)
		o.asked = nil
	}
	grab()
	v.SetPicture(nil)
	o.wasAsked(t, "end 0")

	v, o = owned(t)
	grab()
	o.keys(fyne.KeyDelete)
	o.drag(150, 108)
	v.DragEnd()
	o.wasAsked(t, "end 0", "select -1", "remove 0")
}

func TestKeyboardStaysWithTheViewAfterADragThatEndsElsewhere(t *testing.T) {
	v, o := owned(t)
	c := fyne.CurrentApp().Driver().CanvasForObject(v)
	o.press(108, 108)
	o.drag(120, 120)
	o.drag(900, 120)
	c.Unfocus() // so does the window when the button is released elsewhere
	v.DragEnd()
	if c.Focused() != v {
		t.Error("the view has not got the keyboard")
	}
}

// The keyway's corners lie on the rim, among its points: a click beside one of those or on
// it places a corner.
func TestClickOnAPointOfAnotherKindPlaces(t *testing.T) {
	v, o := owned(t) // its point of the rim is at 108, 108 of the view
	v.PlaceKind = "keyway"
	o.click(116, 108)
	o.wasAsked(t, "place keyway 54 50", "select 2")
	o.click(109, 108)
	o.wasAsked(t, "select 0", "place keyway 50.5 50", "select 3")
	v.PlaceKind = "rim"
	o.click(96, 108)
	o.wasAsked(t, "select 0")
}
