package widgets

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
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

// A point that its owner puts elsewhere, as onto an edge, is selected all the same, and
// so is one that takes the place of another.
func TestMovedPointIsSelected(t *testing.T) {
	v, o := owned(t)
	v.PlaceKind = "rim"
	o.click(30, 30)
	v.OnPlace = func(kind string, x, y float64) {
		v.SetMarks(slices.Insert(slices.Clone(v.marks), 1, Mark{kind, x + 3, y}))
	}
	v.Select(0)
	o.click(200, 100)
	if v.Selected() != 1 {
		t.Errorf("put beside the click, mark %d of %v is selected", v.Selected(), v.marks)
	}
	v.OnPlace = func(kind string, x, y float64) {
		marks := slices.Clone(v.marks)
		marks[0] = Mark{kind, x, y + 2}
		v.SetMarks(marks)
	}
	o.click(100, 200)
	if v.Selected() != 0 {
		t.Errorf("put in place of another, mark %d of %v is selected", v.Selected(), v.marks)
	}
}
