package widgets

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

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

func TestLoupeEnlargesWhatItLooksAt(t *testing.T) {
	v := photoIn(t, 400, 300)
	v.SetPicture(sloped(120, 100))
	v.OnMove = func(_ int, x, y float64) { v.SetMarks([]Mark{{"rim", x, y}}) }
	v.SetMarks([]Mark{{"rim", 60.5, 40.5}})
	v.Select(0)
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if v.loupe.raster.Hidden {
		t.Fatal("no loupe")
	}
	size := int(v.loupe.raster.Size().Width)
	img := v.loupe.paint(size, size).(*image.RGBA)
	scale := 4 * v.sight.scale
	for _, off := range []float64{-24, -14, 14, 24} { // units, clear of the cross's arms and the rim
		got := img.RGBAAt(size/2+int(off), size/2+int(off))
		red, green := 2*(61+(off+0.5)/scale), 2*(40+(off+0.5)/scale) // pixel 61's middle is at 61.5
		if !near(float64(got.R), red, 1) || !near(float64(got.G), green, 1) {
			t.Errorf("%v units from its middle the loupe shows %v, want red %.1f, green %.1f", off, got, red, green)
		}
	}
	if c := img.RGBAAt(2, 2); c != (color.RGBA{}) {
		t.Errorf("the loupe's corner is %v, want it transparent", c)
	}
}
