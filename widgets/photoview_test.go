package widgets

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// photoIn returns a view of w by h units on a picture of the same proportions at
// half that size, less a margin, so that it is fitted at twice its size: pixel x, y
// is shown at 2x+8, 2y+8.
func photoIn(t testing.TB, w, h float32) *PhotoView {
	test.NewTempApp(t)
	v := NewPhotoView()
	win := test.NewTempWindow(t, v)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	v.SetPicture(sloped(int(w-2*fitMargin)/2, int(h-2*fitMargin)/2))
	return v
}

// owner keeps the points of a view as a job would, and writes down what it was
// asked.
type owner struct {
	v     *PhotoView
	marks []Mark
	asked []string
}

// owned returns a view on a picture of 192 by 142 pixels at twice its size with two
// points, and its owner.
func owned(t *testing.T) (*PhotoView, *owner) {
	v := photoIn(t, 400, 300)
	o := &owner{v: v, marks: []Mark{{"rim", 50, 50}, {"dowel", 100, 80}}}
	note := func(format string, args ...any) { o.asked = append(o.asked, fmt.Sprintf(format, args...)) }
	set := func(marks []Mark) { o.marks = marks; v.SetMarks(marks) }
	v.OnPlace = func(kind string, x, y float64) {
		note("place %s %g %g", kind, x, y)
		set(append(slices.Clone(o.marks), Mark{kind, x, y}))
	}
	v.OnMove = func(i int, x, y float64) {
		note("move %d %g %g", i, x, y)
		m := slices.Clone(o.marks)
		m[i].X, m[i].Y = x, y
		set(m)
	}
	v.OnMoveEnd = func(i int) { note("end %d", i) }
	v.OnRemove = func(i int) {
		note("remove %d", i)
		set(slices.Delete(slices.Clone(o.marks), i, i+1))
	}
	v.OnSelect = func(i int) { note("select %d", i) }
	v.OnKey = func(e *fyne.KeyEvent) { note("key %s", e.Name) }
	v.SetMarks(o.marks)
	return v, o
}

// wasAsked fails unless the owner was asked just that since the last time.
func (o *owner) wasAsked(t *testing.T, want ...string) {
	t.Helper()
	if got := strings.Join(o.asked, ", "); got != strings.Join(want, ", ") {
		t.Errorf("asked %q, want %q", got, strings.Join(want, ", "))
	}
	o.asked = nil
}

func mouse(x, y float32, b desktop.MouseButton) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: b}
}

func (o *owner) press(x, y float32)   { o.v.MouseDown(mouse(x, y, desktop.MouseButtonPrimary)) }
func (o *owner) release(x, y float32) { o.v.MouseUp(mouse(x, y, desktop.MouseButtonPrimary)) }
func (o *owner) click(x, y float32)   { o.press(x, y); o.release(x, y) }
func (o *owner) drag(x, y float32) {
	o.v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}})
}

// wheel turns the mouse wheel by notches at a place.
func (o *owner) wheel(notches, x, y float32) {
	o.v.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Scrolled: fyne.NewDelta(0, 25*notches)})
}

func (o *owner) keys(names ...fyne.KeyName) {
	for _, n := range names {
		o.v.KeyDown(&fyne.KeyEvent{Name: n})
		o.v.TypedKey(&fyne.KeyEvent{Name: n})
		o.v.KeyUp(&fyne.KeyEvent{Name: n})
	}
}

// shownAt returns where in the view a mark is.
func (o *owner) shownAt(i int) (x, y float32) {
	px, py := o.v.sight.transform().Apply(o.marks[i].X, o.marks[i].Y)
	return float32(px), float32(py)
}

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

func TestEscapePutsADraggedPointBack(t *testing.T) {
	v, o := owned(t)
	o.press(108, 108)
	o.drag(120, 108)
	o.drag(140, 108)
	o.keys(fyne.KeyEscape)
	o.drag(180, 108)
	o.release(180, 108)
	v.DragEnd()
	o.wasAsked(t, "select 0", "move 0 60 50", "move 0 50 50", "end 0")
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

func TestKeysZoom(t *testing.T) {
	v, o := owned(t)
	v.Select(1)
	x, y := o.shownAt(1)
	test.Type(v, "++")
	if nx, ny := o.shownAt(1); !near(float64(nx), float64(x), 0.01) || !near(float64(ny), float64(y), 0.01) || v.sight.scale != 2*1.25*1.25 {
		t.Errorf("the selected point went from %v, %v to %v, %v at scale %v", x, y, nx, ny, v.sight.scale)
	}
	test.Type(v, "-")
	if !near(v.sight.scale, 2.5, 1e-9) {
		t.Errorf("scale %v after -, want 2.5", v.sight.scale)
	}
	test.Type(v, "0")
	if !v.sight.fitted() {
		t.Error("0 does not fit the picture")
	}
	v.TypedKey(&fyne.KeyEvent{Name: fyne.Key0})
	o.wasAsked(t)
}

func TestNudging(t *testing.T) {
	v, o := owned(t)
	v.Select(0)
	o.keys(fyne.KeyRight, fyne.KeyDown)
	o.wasAsked(t, "move 0 51 50", "end 0", "move 0 51 51", "end 0")
	v.typed(fyne.KeyLeft, fyne.KeyModifierShift)
	v.typed(fyne.KeyUp, fyne.KeyModifierControl)
	o.wasAsked(t, "move 0 41 51", "end 0", "move 0 41 50.9", "end 0")
	v.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyRight, Modifier: fyne.KeyModifierControl})
	o.wasAsked(t, "move 0 41.1 50.9", "end 0")
}

func TestHeldArrowIsOneMovement(t *testing.T) {
	v, o := owned(t)
	v.Select(0)
	v.KeyDown(&fyne.KeyEvent{Name: fyne.KeyRight})
	for range 3 {
		v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	v.KeyUp(&fyne.KeyEvent{Name: fyne.KeyRight})
	o.wasAsked(t, "move 0 51 50", "move 0 52 50", "move 0 53 50", "end 0")

	v.KeyDown(&fyne.KeyEvent{Name: fyne.KeyUp})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	v.FocusLost() // the key comes up elsewhere
	o.wasAsked(t, "move 0 53 49", "end 0")
}

func TestNudgeAgainstTheEdge(t *testing.T) {
	v, o := owned(t)
	v.SetMarks([]Mark{{"rim", 0, 0}})
	v.Select(0)
	o.keys(fyne.KeyLeft, fyne.KeyUp)
	o.wasAsked(t)
}

func TestNudgedPointStaysInView(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(8, 108, 108)
	v.Select(0)
	for range 6 {
		v.typed(fyne.KeyRight, fyne.KeyModifierShift)
		if x, _ := o.shownAt(0); x < 0 || x > 400 {
			t.Fatalf("the point is at %v", x)
		}
	}
}

func TestNextAndPreviousPoint(t *testing.T) {
	v, o := owned(t)
	test.Type(v, "n")
	o.keys(fyne.KeyPageDown, fyne.KeyPageDown)
	test.Type(v, "P")
	o.keys(fyne.KeyPageUp)
	o.wasAsked(t, "select 0", "select 1", "select 0", "select 1", "select 0")
	v.Select(-1)
	o.keys(fyne.KeyPageUp)
	o.wasAsked(t, "select 1")
	v.SetMarks(nil)
	o.keys(fyne.KeyPageUp)
	o.wasAsked(t)
}

func TestStepBringsThePointIntoView(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(8, 390, 290)
	test.Type(v, "n")
	if x, y := o.shownAt(0); x < 0 || y < 0 || x > 400 || y > 300 {
		t.Errorf("the selected point is at %v, %v", x, y)
	}
}

func TestRemoving(t *testing.T) {
	v, o := owned(t)
	o.keys(fyne.KeyDelete) // none selected
	v.Select(0)
	o.keys(fyne.KeyDelete)
	o.wasAsked(t, "key Delete", "select -1", "remove 0")
	if v.Selected() != -1 || len(v.marks) != 1 || v.marks[0].Kind != "dowel" {
		t.Errorf("%d selected of %v", v.Selected(), v.marks)
	}
}

func TestEscapeLetsGoStepByStep(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	v.Select(0)
	o.keys(fyne.KeyEnter) // the cross, on the point
	o.keys(fyne.KeyEscape, fyne.KeyEscape)
	o.wasAsked(t, "select -1", "key Escape")
	v.Select(1)
	o.keys(fyne.KeyEscape)
	o.wasAsked(t, "select -1")
}

func TestPlacingWithTheKeys(t *testing.T) {
	v, o := owned(t)
	o.keys(fyne.KeyReturn)
	o.wasAsked(t, "key Return") // nothing to place
	v.PlaceKind = "bolt"
	o.keys(fyne.KeyReturn, fyne.KeyRight, fyne.KeyRight, fyne.KeyUp) // from the middle, 4 pixels a step
	o.keys(fyne.KeyReturn)
	o.wasAsked(t, "place bolt 104 67", "select 2")
	o.keys(fyne.KeyLeft) // now the point itself
	o.wasAsked(t, "move 2 103 67", "end 2")
	o.keys(fyne.KeyReturn, fyne.KeyDown, fyne.KeyReturn) // the next one begins there
	o.wasAsked(t, "select -1", "place bolt 103 71", "select 3")
}

func TestArrowsMoveThePicture(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(4, 200, 150)
	x := v.sight.x
	o.keys(fyne.KeyRight)
	if v.sight.x != x+1 { // 8 units at 8 units per pixel
		t.Errorf("the middle went from %v to %v", x, v.sight.x)
	}
	o.wasAsked(t)
}

func TestKeysOfNoUseGoOn(t *testing.T) {
	v, o := owned(t)
	o.keys(fyne.KeyF11)
	o.wasAsked(t, "key F11")
	v.TypedShortcut(&fyne.ShortcutUndo{}) // is the window's, which has none here
	o.wasAsked(t)
	v.SetPicture(nil)
	o.keys(fyne.KeyPageDown, fyne.KeyLeft)
	o.wasAsked(t, "key Next", "key Left")
}

func TestLoupeIsThereWhileSomethingIsPlacedDraggedOrNudged(t *testing.T) {
	v, o := owned(t)
	shown := func(when string, want bool) {
		t.Helper()
		if got := !v.loupe.raster.Hidden; got != want {
			t.Errorf("%s: loupe %v, want %v", when, got, want)
		}
	}
	looksAt := func(when string, x, y float64) {
		t.Helper()
		shown(when, true)
		if !near(v.loupe.at.X, x, 1e-6) || !near(v.loupe.at.Y, y, 1e-6) {
			t.Errorf("%s: the loupe looks at %v, want %v, %v", when, v.loupe.at, x, y)
		}
	}
	v.MouseIn(mouse(300, 30, 0))
	shown("nothing to place", false)
	v.PlaceKind = "rim"
	v.MouseMoved(mouse(308, 28, 0))
	looksAt("about to place", 150, 10)
	v.MouseMoved(mouse(110, 110, 0))
	shown("over a point", false)
	v.MouseMoved(mouse(308, 28, 0))
	v.MouseOut()
	shown("pointer elsewhere", false)

	o.press(300, 30)
	shown("pressed", true)
	o.drag(310, 40)
	shown("dragging the picture", false)
	v.DragEnd()
	v.MouseOut()

	o.press(108, 108)
	looksAt("point pressed", 50, 50)
	o.drag(120, 108)
	o.drag(140, 108)
	looksAt("point dragged", 60, 50)
	o.release(140, 108)
	v.DragEnd()
	shown("point released", false)
	v.MouseOut()

	o.keys(fyne.KeyUp)
	looksAt("nudged", 60, 49)
	o.keys(fyne.KeyPageDown)
	shown("another point selected", false)
	o.keys(fyne.KeyUp)
	v.MouseMoved(mouse(140, 106, 0))
	shown("mouse moved on", false)
	o.keys(fyne.KeyEnter)
	looksAt("aiming", 100, 79)
	v.FocusLost()
	shown("keyboard elsewhere", false)
}

func TestLoupeNeverCoversThePointItShows(t *testing.T) {
	test.NewTempApp(t)
	v := NewPhotoView()
	test.NewTempWindow(t, v).Resize(fyne.NewSize(700, 520))
	v.SetPicture(sloped(600, 400))
	v.PlaceKind = "rim"
	for x := float32(10); x < 700; x += 23 {
		for y := float32(10); y < 500; y += 17 {
			v.MouseMoved(mouse(x, y, 0))
			l := v.loupe.raster
			if l.Hidden {
				continue
			}
			p, s := l.Position(), l.Size()
			if p.X < 0 || p.Y < 0 || p.X+s.Width > v.Size().Width || p.Y+s.Height > v.Size().Height {
				t.Fatalf("pointer at %v, %v: the loupe at %v sticks out of the view", x, y, p)
			}
			dx, dy := p.X+s.Width/2-x, p.Y+s.Height/2-y
			if r := s.Width/2 + grabRadius; dx*dx+dy*dy < r*r {
				t.Fatalf("pointer at %v, %v: the loupe at %v covers it", x, y, p)
			}
		}
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

func TestEmptyViewSaysWhatToDo(t *testing.T) {
	v, o := owned(t)
	v.Placeholder, v.Label = "Open a photograph", "Photograph of the nose"
	v.Refresh()
	if v.hint.Visible() || v.AccessibilityLabel() != "Photograph of the nose" {
		t.Errorf("with a picture: hint %v, label %q", v.hint.Visible(), v.AccessibilityLabel())
	}
	v.SetMarks(nil)
	v.SetPicture(nil)
	if !v.hint.Visible() || v.hint.Text != "Open a photograph" || v.AccessibilityLabel() != "Open a photograph" {
		t.Errorf("without: hint %v %q, label %q", v.hint.Visible(), v.hint.Text, v.AccessibilityLabel())
	}
	v.PlaceKind = "rim"
	o.click(100, 100)
	o.wheel(1, 100, 100)
	test.Type(v, "+0np")
	v.Zoom(2)
	v.Fit()
	o.wasAsked(t)
}

func TestAnotherPictureIsShownWhole(t *testing.T) {
	v, o := owned(t)
	v.zoomAt(5, 0, 0)
	o.press(108, 108)
	v.SetPicture(sloped(768, 40))
	if !v.sight.fitted() || v.sight.x != 384 || v.sight.y != 20 || v.hold != nil {
		t.Errorf("the new picture is seen as %+v, held: %v", v.sight, v.hold)
	}
}

func TestSamePictureKeepsItsView(t *testing.T) {
	v, _ := owned(t)
	p := NewPyramid(sloped(300, 200))
	v.SetPicture(p)
	v.Zoom(3)
	was := v.sight
	v.SetPicture(p)
	if v.sight != was {
		t.Errorf("seen as %+v, was %+v", v.sight, was)
	}
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

func TestPictureSetBeforeTheViewHasASize(t *testing.T) {
	test.NewTempApp(t)
	v := NewPhotoView()
	v.SetPicture(sloped(100, 100))
	v.SetMarks([]Mark{{"rim", 5, 5}})
	v.Select(0)
	win := test.NewTempWindow(t, v)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(316, 316))
	if !v.sight.fitted() || v.sight.scale != 3 {
		t.Errorf("seen as %+v, want it fitted", v.sight)
	}
}

func TestOnePixelPicture(t *testing.T) {
	v, o := owned(t)
	v.SetMarks(nil)
	v.SetPicture(sloped(1, 1))
	v.PlaceKind = "rim"
	o.click(200, 150)
	o.wheel(40, 200, 150)
	v.paint(400, 300)
	v.loupe.paint(176, 176)
	o.wasAsked(t, "place rim 0.5 0.5", "select 2")
}

func TestTabGoesOn(t *testing.T) {
	test.NewTempApp(t)
	v := NewPhotoView()
	before, after := widget.NewEntry(), widget.NewEntry()
	win := test.NewTempWindow(t, container.NewWithoutLayout(before, v, after))
	v.SetPicture(sloped(100, 100))
	for _, want := range []fyne.Focusable{before, v, after} {
		win.Canvas().FocusNext()
		if got := win.Canvas().Focused(); got != want {
			t.Errorf("Tab went to %T, want %T", got, want)
		}
	}
	if _, ok := fyne.Focusable(v).(fyne.Tabbable); ok {
		t.Error("the view keeps Tab for itself")
	}
	if v.focused || !v.ring.Hidden {
		t.Error("the ring stays when the keyboard has gone")
	}
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
