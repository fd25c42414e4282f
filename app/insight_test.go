package app

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Tab leads to nothing out of sight, on any page of a small window.
func TestFocusIsInSight(t *testing.T) {
	u := window(t)
	u.Window.Resize(fyne.NewSize(1024, 640))
	c := u.Window.Canvas()
	scrolled := 0
	for i, p := range u.pages.kinds {
		u.pages.show(i)
		c.Unfocus()
		first := fyne.Focusable(nil)
		for n := 0; n < 400; n++ {
			c.FocusNext()
			f := c.Focused()
			if f == nil || f == first {
				break
			}
			if first == nil {
				first = f
			}
			around, _ := scrollsAround(u.Root, f.(fyne.CanvasObject))
			before := offsets(around)
			for range 2 {
				u.focusInSight()
				for _, s := range around { // as a screen does before each frame
					s.Content.Resize(s.Content.MinSize().Max(s.Size()))
				}
			}
			u.focusInSight()
			if !slices.Equal(offsets(around), before) {
				scrolled++
			}
			o := f.(fyne.CanvasObject)
			for _, s := range around {
				at, size := place(o).Subtract(place(s)), o.Size()
				if x, y := at.X+size.Width/2, at.Y+size.Height/2; x < -1 || y < -1 || x > s.Size().Width+1 || y > s.Size().Height+1 {
					t.Errorf("%s: Tab leads to %T at %v of a room of %v, scrolled to %v of %v", p.Title, o, at, s.Size(), s.Offset, s.Content.MinSize())
				}
			}
		}
	}
	if scrolled < 5 {
		t.Errorf("only %d times something had to be scrolled", scrolled)
	}
}

func offsets(list []*container.Scroll) (at []fyne.Position) {
	for _, s := range list {
		at = append(at, s.Offset)
	}
	return at
}

func TestScrolledTo(t *testing.T) {
	for _, c := range []struct{ at, size, offset, room, want float32 }{
		{10, 30, 0, 100, 0},       // in sight
		{80, 30, 7, 100, 7},       // for the greater part
		{90, 30, 0, 100, 20},      // its middle is just below the edge
		{400, 30, 0, 100, 330},    // far below: its end comes to the end
		{-200, 30, 330, 100, 130}, // above: its beginning comes to the beginning
		{-60, 30, 50, 100, 0},
	} {
		if got := scrolledTo(c.at, c.size, c.offset, c.room); got != c.want {
			t.Errorf("%+v leads to %g", c, got)
		}
	}
}
