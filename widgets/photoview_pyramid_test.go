package widgets

import (
	"image"
	"image/color"
	"testing"
)

func TestPyramidHalvesEachLevel(t *testing.T) {
	p := NewPyramid(sloped(1001, 640))
	want := []image.Point{{1001, 640}, {501, 320}, {251, 160}}
	if len(p.levels) != len(want) {
		t.Fatalf("%d levels, want %d", len(p.levels), len(want))
	}
	for i, l := range p.levels {
		if l.Rect.Size() != want[i] {
			t.Errorf("level %d is %v, want %v", i, l.Rect.Size(), want[i])
		}
	}
	for _, c := range []struct {
		x, y int
		want color.RGBA
	}{
		{3, 5, color.RGBA{13, 21, 77, 255}},   // of columns 6 and 7, rows 10 and 11
		{500, 0, color.RGBA{208, 1, 77, 255}}, // column 1000 counts twice: 2000 modulo 256
	} {
		if got := p.levels[1].RGBAAt(c.x, c.y); got != c.want {
			t.Errorf("half size at %d, %d is %v, want %v", c.x, c.y, got, c.want)
		}
	}
}

func TestPyramidOfEveryKindOfPicture(t *testing.T) {
	glass := image.NewNRGBA(image.Rect(5, 5, 7, 7))
	glass.SetNRGBA(6, 6, color.NRGBA{200, 0, 0, 128})
	grey := image.NewYCbCr(image.Rect(0, 0, 2, 2), image.YCbCrSubsampleRatio420)
	for i := range grey.Y {
		grey.Y[i] = 90
	}
	grey.Cb[0], grey.Cr[0] = 128, 128
	sub := sloped(10, 10).SubImage(image.Rect(4, 4, 6, 6))
	for _, c := range []struct {
		name string
		img  image.Image
		want color.RGBA // of the second pixel of the second row
	}{
		{"transparent, over white", glass, color.RGBA{227, 127, 127, 255}},
		{"camera's", grey, color.RGBA{90, 90, 90, 255}},
		{"part of another", sub, color.RGBA{10, 10, 77, 255}},
		{"plain", sloped(2, 2), color.RGBA{2, 2, 77, 255}},
	} {
		p := NewPyramid(c.img)
		if p.Bounds() != image.Rect(0, 0, 2, 2) {
			t.Errorf("%s: bounds %v", c.name, p.Bounds())
		}
		got := p.At(1, 1).(color.RGBA)
		for _, d := range []int{int(got.R) - int(c.want.R), int(got.G) - int(c.want.G), int(got.B) - int(c.want.B)} {
			if d < -1 || d > 1 { // a step for rounding
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
	if NewPyramid(nil) != nil || NewPyramid(image.NewRGBA(image.Rectangle{})) != nil {
		t.Error("a picture without pixels has a pyramid")
	}
}
