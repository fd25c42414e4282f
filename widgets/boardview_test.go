package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/timing/figure"
)

func boardOf(role figure.Role) figure.BoardInput {
	return figure.BoardInput{Sentence: "What is it?", Desc: "A square.", Panels: []figure.BoardPanel{{Draw: square(role)}}}
}

func TestBoardViewFillsItsRoom(t *testing.T) {
	test.NewTempApp(t)
	v := NewBoardView()
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(1280, 720))
	v.SetPage(boardOf(figure.Measured), figure.BoardDark(), false)
	if d := v.plane.drawing; d.H != figure.BoardHeight || !near(d.W/d.H, 1280.0/720, 1e-6) {
		t.Errorf("the page is %g by %g", d.W, d.H)
	}
	if got, want := v.plane.raster.Generator(1280, 720).At(0, 0), figure.BoardDark().Color(figure.Surface); got != any(want) {
		t.Errorf("the corner is %v, want %v", got, want)
	}
	if v.AccessibilityLabel() != "What is it? A square." {
		t.Errorf("it is called %q", v.AccessibilityLabel())
	}
}

// A page that stands is as sharp as the screen; one that moves is painted with no
// more pixels than can be kept up with.
func TestBoardViewMovesWithFewerPixels(t *testing.T) {
	test.NewTempApp(t)
	v := NewBoardView()
	for _, c := range []struct {
		w, h   int
		moving bool
		most   int
	}{{3840, 2160, false, 3840 * 2160}, {3840, 2160, true, movingPixels}, {1024, 640, true, 1024 * 640}} {
		v.SetPage(boardOf(figure.Measured), figure.BoardLight(), c.moving)
		b := v.plane.raster.Generator(c.w, c.h).Bounds()
		if n := b.Dx() * b.Dy(); n > c.most || n < c.most*98/100 || !near(float64(b.Dx())/float64(b.Dy()), float64(c.w)/float64(c.h), 0.01) {
			t.Errorf("%dx%d, moving %v: painted at %v", c.w, c.h, c.moving, b)
		}
	}
}

func TestBoardViewHandsOn(t *testing.T) {
	test.NewTempApp(t)
	v := NewBoardView()
	test.Tap(v) // nobody listens: nothing happens
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyA})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -25}})
	var got []any
	v.OnKey = func(e *fyne.KeyEvent) { got = append(got, e.Name) }
	v.OnTap, v.OnBack = func() { got = append(got, "tap") }, func() { got = append(got, "back") }
	v.OnScroll = func(by float32) { got = append(got, by) }
	v.OnMove = func() { got = append(got, "move") }
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	test.Tap(v)
	test.TapSecondary(v)
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -25}})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: 25}})
	v.Scrolled(&fyne.ScrollEvent{})
	at := func(x float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 0)}}
	}
	v.MouseIn(at(1))
	v.MouseMoved(at(1)) // painted anew under a pointer that rests
	v.MouseMoved(at(2))
	want := []any{fyne.KeyPageDown, "tap", "back", float32(1), float32(-1), "move"}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got, want)
		}
	}
	if v.Cursor() != desktop.DefaultCursor {
		t.Error("the pointer is hidden")
	}
	if v.Pointer = false; v.Cursor() != desktop.HiddenCursor {
		t.Error("the pointer is seen")
	}
}
