package app

import (
	"flag"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"
)

var picture = flag.String("picture", "", "write the picture of the window for the README to this file")

// TestWindowPicture paints the whole window on the demo job with the software
// painter. With -picture it writes what it painted; without, it only sees to it
// that something was painted everywhere it should be.
func TestWindowPicture(t *testing.T) {
	a := test.NewTempApp(t)
	u := testUI(a)
	u.setTheme("light")
	u.SetAt(258)
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.SetScale(1.25)
	c.Resize(fyne.NewSize(1280, 790))
	u.Changed()
	c.Resize(fyne.NewSize(1280, 800)) // wrapped texts know their height once they know their width
	img := c.Capture()
	if b := img.Bounds(); b.Dx() != 1600 || b.Dy() != 1000 {
		t.Fatalf("painted %v", b)
	}
	colours := map[[3]uint32]bool{}
	for y := 0; y < 1000; y += 2 {
		for x := 600; x < 1600; x += 2 { // where the figures are
			r, g, b, _ := img.At(x, y).RGBA()
			colours[[3]uint32{r >> 8, g >> 8, b >> 8}] = true
		}
	}
	if len(colours) < 100 {
		t.Errorf("the figures show %d colours; they were not painted", len(colours))
	}
	if *picture == "" {
		return
	}
	f, err := os.Create(*picture)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
