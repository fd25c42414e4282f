package light

import (
	"image"
	"image/draw"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/software"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing"
)

// BenchmarkDragLight drags each slider of the light-off page by one step a
// frame, on the screen of the other benchmarks and with their measures, and the
// crank through the figure. What is worked out after a pause is not a frame's.
func BenchmarkDragLight(b *testing.B) {
	for _, c := range []struct {
		name string
		move func(u *desktest.Bench, frame int)
	}{
		{"air", func(u *desktest.Bench, n int) { u.Page.(*page).sliders.air.Change(float64(n%60 - 25)) }},
		{"rpm", func(u *desktest.Bench, n int) { u.Page.(*page).sliders.rpm.Change(float64(100 + 5*(n%50))) }},
		{"compression", func(u *desktest.Bench, n int) { u.Page.(*page).sliders.ratio.Change(14 + 0.1*float64(n%80)) }},
		{"wheel", func(u *desktest.Bench, n int) { u.Page.(*page).sliders.wheel.Change(0.5*float64(n%100) - 30) }},
		{"crank", func(u *desktest.Bench, n int) { u.Page.(*page).view.OnCursor(timing.Deg(n%100 - 50)) }},
	} {
		b.Run(c.name, func(b *testing.B) { benchLight(b, c.move) })
	}
}

func benchLight(b *testing.B, move func(u *desktest.Bench, frame int)) {
	u := desktest.New(b, Kind)
	u.InTurn = true
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.Resize(fyne.NewSize(desktest.Width, desktest.Height))
	u.Page.(*page).rest()
	s := newLightScreen(b, u.Page.(*page))
	// Maps are worked out beside the frames, as in the program, and shown between
	// two of them.
	shows := make(chan func(), 1)
	u.Page.(*page).beside = func(work func() func()) { go func() { shows <- work() }() }
	frame := 0
	next := func() {
		frame++
		move(u, frame)
		select {
		case show := <-shows:
			show()
		default:
		}
	}
	b.Run("handle", func(b *testing.B) { desktest.Percentiles(b, func() { next(); s.paint() }) })
	b.Run("frame", func(b *testing.B) { desktest.Percentiles(b, func() { next(); s.paint(); s.compose() }) })
	b.Run("capture", func(b *testing.B) { desktest.Percentiles(b, func() { next(); c.Capture() }) })
}

// lightScreen paints the page's two figures as the toolkit's software painter
// does, without the rest of the window.
type lightScreen struct {
	figures []*canvas.Raster
	images  []image.Image
	at      []image.Rectangle
	frame   *image.RGBA
}

func newLightScreen(b *testing.B, p *page) *lightScreen {
	s := &lightScreen{frame: image.NewRGBA(image.Rect(0, 0, desktest.Width, desktest.Height))}
	for _, f := range desktest.Rasters(p.content) {
		at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(f), f.Size()
		s.figures = append(s.figures, f)
		s.at = append(s.at, image.Rect(int(at.X), int(at.Y), int(at.X+size.Width), int(at.Y+size.Height)))
	}
	if len(s.figures) != 2 || s.at[0].Empty() || s.at[1].Empty() {
		b.Fatalf("the page shows %d figures at %v", len(s.figures), s.at)
	}
	s.images = make([]image.Image, 2)
	return s
}

// paint has each figure paint itself, if it must.
func (s *lightScreen) paint() {
	for i, f := range s.figures {
		s.images[i] = f.Generator(s.at[i].Dx(), s.at[i].Dy())
	}
}

// compose puts the frame together from the pictures.
func (s *lightScreen) compose() {
	for i, img := range s.images {
		draw.Draw(s.frame, s.at[i], img, image.Point{}, draw.Src)
	}
}
