package app

import (
	"image"
	"image/draw"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing"
)

// The benchmarks drag on the largest usual screen with sixteen cylinders and
// painting in software. Each tells the half and the 95 in 100 of its frames that
// take least, p50-ms and p95-ms:
//
//	handle   from the input to all that changed being painted: the figures and
//	         what lies over them
//	frame    the same, put together into a whole picture of the window
//	capture  the same, with the toolkit painting the whole window anew
//	empty    the toolkit painting an empty window, for comparison
const benchWidth, benchHeight = desktest.Width, desktest.Height

// BenchmarkDragCursor drags the cursor of the cycle figure by a degree a frame.
func BenchmarkDragCursor(b *testing.B) {
	benchDrag(b, func(u *ui, frame int) { cycleOf(u).Cycle.OnCursor(timing.Deg(frame % 720)) })
}

// BenchmarkDragDowel drags the dowel's slider by a tenth of a degree a frame.
func BenchmarkDragDowel(b *testing.B) {
	benchDrag(b, func(u *ui, frame int) { cycleOf(u).Dowel.Slider.OnChanged(5 + 0.1*float64(frame%300)) })
}

func benchDrag(b *testing.B, move func(u *ui, frame int)) {
	u := testUI(test.NewTempApp(b))
	u.openFile("../testdata/jobs/v16-uneven.toml")
	if len(cycleOf(u).Rows) != 16 {
		b.Fatal("the job with sixteen cylinders did not open")
	}
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.Resize(fyne.NewSize(benchWidth, benchHeight))
	s := newScreen(b, u)
	frame := 0
	next := func() { frame++; move(u, frame) }

	b.Run("handle", func(b *testing.B) { desktest.Percentiles(b, func() { next(); s.paint() }) })
	b.Run("frame", func(b *testing.B) { desktest.Percentiles(b, func() { next(); s.paint(); s.compose() }) })
	b.Run("capture", func(b *testing.B) { desktest.Percentiles(b, func() { next(); c.Capture() }) })
	b.Run("empty", func(b *testing.B) {
		e := software.NewCanvas()
		e.SetContent(container.NewWithoutLayout())
		e.Resize(fyne.NewSize(benchWidth, benchHeight))
		desktest.Percentiles(b, func() { e.Capture() })
	})
}

// screen paints the window's two figures as the toolkit's software painter does,
// without the rest of the window.
type screen struct {
	figures []*canvas.Raster
	at      []image.Rectangle
	images  []image.Image

	over     software.WindowlessCanvas // the cursor's tag and the readouts
	overlays []image.Image
	texts    []*canvas.Text
	was      []string

	frame *image.RGBA
}

func newScreen(b *testing.B, u *ui) *screen {
	s := &screen{frame: image.NewRGBA(image.Rect(0, 0, benchWidth, benchHeight))}
	where := func(o fyne.CanvasObject) image.Rectangle {
		p, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
		return image.Rect(int(p.X), int(p.Y), int(p.X+size.Width), int(p.Y+size.Height))
	}
	for _, v := range []fyne.CanvasObject{cycleOf(u).Cycle, cycleOf(u).Wheel} {
		for _, o := range shown(v) {
			switch o := o.(type) {
			case *canvas.Raster:
				s.figures = append(s.figures, o)
				r := where(v)
				s.at = append(s.at, image.Rectangle{r.Min, r.Min.Add(image.Pt(int(o.Size().Width), int(o.Size().Height)))})
			case *canvas.Text:
				s.texts = append(s.texts, o)
			}
		}
	}
	if len(s.figures) != 2 || len(s.texts) < 17 || s.at[0].Empty() || s.at[1].Empty() {
		b.Fatalf("the window shows %d figures at %v and %d texts", len(s.figures), s.at, len(s.texts))
	}
	s.images = make([]image.Image, len(s.figures))
	s.overlays = make([]image.Image, len(s.texts))
	s.was = make([]string, len(s.texts))
	s.over = software.NewTransparentCanvas()
	s.over.SetPadded(false)
	return s
}

// paint paints what has changed: a figure paints itself, if it must, and a text
// is painted into a picture of its own.
func (s *screen) paint() {
	for i, f := range s.figures {
		s.images[i] = f.Generator(s.at[i].Dx(), s.at[i].Dy())
	}
	for i, t := range s.texts {
		if t.Text == s.was[i] {
			continue
		}
		word := canvas.NewText(t.Text, t.Color)
		word.TextSize, word.TextStyle = t.TextSize, t.TextStyle
		s.over.SetContent(word)
		s.over.Resize(word.MinSize())
		s.overlays[i], s.was[i] = s.over.Capture(), t.Text
	}
}

// compose puts the frame together from the pictures.
func (s *screen) compose() {
	for i, img := range s.images {
		draw.Draw(s.frame, s.at[i], img, image.Point{}, draw.Src)
	}
	for i, img := range s.overlays {
		p := s.texts[i].Position()
		at := s.at[0].Min.Add(image.Pt(int(p.X), int(p.Y)))
		draw.Draw(s.frame, image.Rectangle{at, at.Add(img.Bounds().Size())}, img, image.Point{}, draw.Over)
	}
}
