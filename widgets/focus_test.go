package widgets

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/timing"
)

// clickable is a view that is clicked and typed at.
type clickable interface {
	fyne.Widget
	fyne.Focusable
	desktop.Mouseable
}

// frameOf is what a view draws last: the ring, over all else.
func frameOf(v fyne.Widget) *canvas.Rectangle {
	objects := test.WidgetRenderer(v).Objects()
	return objects[len(objects)-1].(*canvas.Rectangle)
}

func TestViewsShareTheKeyboard(t *testing.T) {
	test.NewTempApp(t)
	var handed []fyne.KeyName
	note := func(e *fyne.KeyEvent) { handed = append(handed, e.Name) }
	cycle, light, trace := NewCycleView(), NewLightView(), NewTraceView()
	wheel, gears, photo := NewWheelView(), NewGearsView(), NewPhotoView()
	cycle.OnKey, light.OnKey, trace.OnKey, wheel.OnKey, gears.OnKey, photo.OnKey = note, note, note, note, note, note
	for _, tt := range []struct {
		name string
		view clickable
	}{{"cycle", cycle}, {"light", light}, {"trace", trace}, {"wheel", wheel}, {"gears", gears}, {"photo", photo}} {
		t.Run(tt.name, func(t *testing.T) {
			w := test.NewTempWindow(t, tt.view)
			w.Resize(fyne.NewSize(400, 300))
			if ring := frameOf(tt.view); ring.Visible() || ring.Size() != tt.view.Size() {
				t.Fatalf("before it has the keyboard the ring is shown: %v, %v large in %v", ring.Visible(), ring.Size(), tt.view.Size())
			}
			e := at(40, 30)
			tt.view.MouseDown(&e)
			tt.view.MouseUp(&e)
			if w.Canvas().Focused() != fyne.Focusable(tt.view) || !frameOf(tt.view).Visible() {
				t.Error("clicked, it does not show that it has the keyboard")
			}
			tt.view.Refresh()
			if !frameOf(tt.view).Visible() {
				t.Error("painted anew, it has lost its ring")
			}
			handed = nil
			tt.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF9})
			if !slices.Equal(handed, []fyne.KeyName{fyne.KeyF9}) {
				t.Errorf("of a key it has no use for its owner is told %q", handed)
			}
			w.Canvas().Unfocus()
			if frameOf(tt.view).Visible() {
				t.Error("left, it still looks as if it had the keyboard")
			}
		})
	}
}

func TestViewsWithoutAnOwnerTakeKeys(t *testing.T) {
	test.NewTempApp(t)
	for _, v := range []interface {
		fyne.Focusable
		fyne.Scrollable
	}{NewCycleView(), NewLightView(), NewTraceView(), NewWheelView(), NewGearsView()} {
		v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF9})
		v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
		v.FocusGained() // there is no ring yet
		v.FocusLost()
	}
}

// What turns the crank turns it the same way in every view.
func TestStepsAreTheSameInEveryView(t *testing.T) {
	test.NewTempApp(t)
	var to timing.Deg
	cycle, light, wheel, gears := NewCycleView(), NewLightView(), NewWheelView(), NewGearsView()
	cycle.OnCursor = func(at timing.Deg) { to = at }
	light.OnCursor = func(at timing.Deg) { to = at }
	wheel.OnTurn = func(by timing.Deg) { to = by }
	gears.OnTurn = func(by timing.Deg) { to = by }
	for i, v := range []interface {
		fyne.Focusable
		fyne.Scrollable
	}{cycle, light, wheel, gears} {
		for _, tt := range []struct {
			what string
			do   func()
			want timing.Deg
		}{
			{"the right arrow", func() { v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight}) }, 1},
			{"the down arrow", func() { v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown}) }, -1},
			{"the wheel towards the user", func() { v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)}) }, 1},
			{"the wheel away from the user", func() { v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)}) }, -1},
			{"the wheel sideways", func() { v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(-25, 0)}) }, 1},
			{"a wheel that did not move", func() { v.Scrolled(&fyne.ScrollEvent{}) }, 0},
		} {
			to = 0
			if tt.do(); to != tt.want {
				t.Errorf("view %d: %s moves the crank by %v, want %v", i, tt.what, to, tt.want)
			}
		}
	}
}
