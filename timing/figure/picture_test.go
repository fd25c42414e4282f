package figure

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

// pictured is a drawing with a picture, half red and half blue, in its middle.
func pictured(w, h int) Drawing {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{0xff, 0, 0, 0xff}
			if x >= w/2 {
				c = color.RGBA{0, 0, 0xff, 0xff}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return Drawing{W: 100, H: 80, Shapes: []Shape{Picture{Rect: Rect{20, 10, 60, 40}, Image: img, Name: "two"}}}
}

// On the raster the picture lies where it belongs, upright.
func TestPictureOnTheRaster(t *testing.T) {
	t.Parallel()
	var r Raster
	img := r.Render(pictured(60, 40), Light(), 200, 160, 2)
	for _, c := range []struct {
		x, y int
		want color.RGBA
	}{{50, 60, color.RGBA{0xff, 0, 0, 0xff}}, {150, 60, color.RGBA{0, 0, 0xff, 0xff}}, {20, 60, Light().Color(Surface)}, {100, 140, Light().Color(Surface)}} {
		if got := img.RGBAAt(c.x, c.y); got != c.want {
			t.Errorf("at %d, %d: %v, want %v", c.x, c.y, got, c.want)
		}
	}
}

// A small picture is stored as it is, a photograph as JPEG; both can be read back.
func TestPictureInSVG(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind string
		w, h int
	}{{"png", 60, 40}, {"jpeg", 600, 400}} {
		var b bytes.Buffer
		if err := WriteSVG(&b, pictured(c.w, c.h), Paper()); err != nil {
			t.Fatal(err)
		}
		_, rest, ok := strings.Cut(b.String(), `<image x="20" y="10" width="60" height="40" preserveAspectRatio="none" href="data:image/`+c.kind+`;base64,`)
		if !ok {
			t.Fatalf("no %s picture in %.300s", c.kind, b.String())
		}
		data, err := base64.StdEncoding.DecodeString(rest[:strings.Index(rest, `"`)])
		if err != nil {
			t.Fatal(err)
		}
		var img image.Image
		if c.kind == "png" {
			img, err = png.Decode(bytes.NewReader(data))
		} else {
			img, err = jpeg.Decode(bytes.NewReader(data))
		}
		if err != nil || img.Bounds().Dx() != c.w {
			t.Errorf("%s: %v", c.kind, err)
		}
		b.Reset()
		if err := WritePDF(&b, pictured(c.w, c.h), Paper()); err != nil || !bytes.Contains(b.Bytes(), []byte("/Subtype /Image")) {
			t.Errorf("%s in a PDF: %v", c.kind, err)
		}
	}
}

// A drawing half as large is the same drawing, every measure halved.
func TestScaled(t *testing.T) {
	t.Parallel()
	d := sampleWheel()
	d.Shapes = append(d.Shapes, pictured(4, 4).Shapes[0], Marker{X: 10, Y: 10, Size: 4, Role: Ink})
	half := d.Scaled(0.5)
	if half.W != d.W/2 || half.H != d.H/2 || len(half.Shapes) != len(d.Shapes) || len(half.Hits) != len(d.Hits) {
		t.Fatalf("%g by %g with %d shapes", half.W, half.H, len(half.Shapes))
	}
	for i, s := range d.Shapes {
		a, b := s.Bounds(), half.Shapes[i].Bounds()
		if hypot(a.X-2*b.X, a.Y-2*b.Y) > 1e-6 || hypot(a.W-2*b.W, a.H-2*b.H) > 1e-6 {
			t.Errorf("%s became %s", s, half.Shapes[i])
		}
	}
	if again := half.Scaled(2).String(); again != d.String() {
		t.Error("twice the half is not the whole")
	}
}

// A letter beyond the basic plane does not keep a PDF from being written.
func TestPDFOfAnyLetter(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	d := Drawing{W: 100, H: 80, Title: "\U0001f600", Shapes: []Shape{Text{X: 5, Y: 20, S: "a\U0001f600\U00010480b 漢", Size: 10, Role: Ink}}}
	if err := WritePDF(&b, d, Paper()); err != nil {
		t.Fatal(err)
	}
}

// Drawings of one page share one font, with the letters of all.
func TestSVGSheet(t *testing.T) {
	t.Parallel()
	var s SVGSheet
	var a, b bytes.Buffer
	one := Drawing{W: 10, H: 10, Shapes: []Shape{Text{S: "AB", Size: 9, Role: Ink}}}
	two := Drawing{W: 10, H: 10, Shapes: []Shape{Text{S: "BC", Size: 9, Role: Ink, Bold: true}}}
	if err := s.Write(&a, one, Light()); err != nil {
		t.Fatal(err)
	}
	if err := s.Write(&b, two, Light()); err != nil {
		t.Fatal(err)
	}
	s.Use(false, "D")
	if got := string(s.used[0]) + "/" + string(s.used[1]); got != "ABD/BC" {
		t.Errorf("used %s", got)
	}
	if strings.Contains(a.String()+b.String(), "@font-face") {
		t.Error("a drawing of a page has a font of its own")
	}
	css, err := s.CSS()
	if err != nil || strings.Count(css, "@font-face") != 2 {
		t.Errorf("%v, %.200s", err, css)
	}
}
