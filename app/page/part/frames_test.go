package part

import (
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/software"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/widgets"
)

// BenchmarkDragPoint drags a rim point on a photograph of twelve megapixels, on
// the largest usual screen: handle is from the input to the picture and its points
// being painted, capture the same with the toolkit painting the whole window anew.
func BenchmarkDragPoint(b *testing.B) {
	u := desktest.New(b, Kind)
	u.InTurn = true
	u.OpenFile(b, largePhoto(b))
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.Resize(fyne.NewSize(desktest.Width, desktest.Height))
	u.OpenPage("part", "")
	view := u.Page.(*page).photo.view
	if _, ok := u.Page.(*page).photo.result(); !ok || view.Size().Width < 500 {
		b.Fatalf("no angle, or a view of %v: %s", view.Size(), u.Page.(*page).photo.found.Text)
	}
	from := u.Session.Job().Dowel.Measured.Rim[0]
	frame := 0
	move := func() {
		frame++
		view.OnMove(0, from.X+float64(frame%40), from.Y)
	}
	raster := rasterOf(view)
	paint := func() { raster.Generator(int(raster.Size().Width), int(raster.Size().Height)) }
	b.Run("handle", func(b *testing.B) { desktest.Percentiles(b, func() { move(); paint() }) })
	b.Run("capture", func(b *testing.B) { desktest.Percentiles(b, func() { move(); c.Capture() }) })
}

func rasterOf(view *widgets.PhotoView) *canvas.Raster {
	for _, o := range desktest.Shown(view) {
		if r, ok := o.(*canvas.Raster); ok {
			return r
		}
	}
	return nil
}

// largePhoto writes a job with its picture: a sample at two and a half times its
// size, marked alike.
func largePhoto(b *testing.B) string {
	const k = 2.5
	folder := b.TempDir()
	in, err := os.Open(filepath.Join(desktest.PhotoFolder, "nose-square.jpg"))
	if err != nil {
		b.Fatal(err)
	}
	defer in.Close()
	small, err := jpeg.Decode(in)
	if err != nil {
		b.Fatal(err)
	}
	large := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	for y := range 3000 {
		for x := range 4000 {
			large.Set(x, y, small.At(int(float64(x)/k), int(float64(y)/k)))
		}
	}
	out, err := os.Create(filepath.Join(folder, "large.jpg"))
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	if err := jpeg.Encode(out, large, nil); err != nil {
		b.Fatal(err)
	}
	m := desktest.MarksOf(b, "nose-square.jpg")
	m.File = "large.jpg"
	for _, list := range [][][2]float64{m.Rim, m.Keyway, m.Dowel} {
		for i := range list {
			list[i] = [2]float64{list[i][0] * k, list[i][1] * k}
		}
	}
	m.Centre = nil
	path := filepath.Join(folder, "job.toml")
	if err := os.WriteFile(path, []byte(desktest.NoReading+"measured = "+m.Reading()+"\n"), 0o666); err != nil {
		b.Fatal(err)
	}
	return path
}
