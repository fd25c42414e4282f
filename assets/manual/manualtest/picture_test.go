package manualtest

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"
)

// A picture with a line moved is another picture, one with two levels' difference is not.
func TestDiffering(t *testing.T) {
	picture := func(at, level int) []byte {
		img := image.NewGray(image.Rect(0, 0, 100, 50))
		for i := range img.Pix {
			img.Pix[i] = 200
		}
		for i := range 30 {
			img.Pix[at+i] = uint8(level)
		}
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	for _, c := range []struct{ at, level, want int }{{0, 0, 0}, {0, 2, 0}, {40, 0, 60}} {
		if n, err := Differing(picture(0, 0), picture(c.at, c.level)); n != c.want || err != nil {
			t.Errorf("moved to %d, level %d: %d pixels differ, want %d (%v)", c.at, c.level, n, c.want, err)
		}
	}
	if _, err := Differing([]byte("no picture"), picture(0, 0)); err == nil {
		t.Error("what is no picture differs without an error")
	}
}

// With fewer colours a picture is nearly the same: no pixel is further off than the
// spacing of the colours that are left.
func TestFewer(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 64, 64))
	for y := range 64 {
		for x := range 64 {
			img.SetRGBA(x, y, color.RGBA{uint8(4 * x), uint8(4 * x), uint8(4 * y), 255})
		}
	}
	data, err := Fewer(img)
	if err != nil {
		t.Fatal(err)
	}
	var whole bytes.Buffer
	if err := png.Encode(&whole, img); err != nil {
		t.Fatal(err)
	}
	small, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if p, ok := small.(*image.Paletted); !ok || len(p.Palette) < 100 || len(p.Palette) > 256 {
		t.Errorf("the picture is a %T", small)
	}
	if n, err := Differing(data, whole.Bytes()); n > 0 || err != nil {
		t.Errorf("%d pixels are clearly another colour (%v)", n, err)
	}
}
