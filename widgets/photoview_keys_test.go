package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

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
