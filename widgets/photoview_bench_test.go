package widgets

import (
	"image"
	"math"
	"testing"

	"pinphase.org/pinphase/timing/figure"
)

// benchView is a view of 1280 by 800 on a picture of a phone's size, with points
// and an ellipse over it.
func benchView(b *testing.B, w, h int) *PhotoView {
	v := photoIn(b, 1280, 800)
	var marks []Mark
	cx, cy := float64(w)/2, float64(h)/2
	for i := range 16 {
		s, c := math.Sincos(float64(i) / 16 * 2 * math.Pi)
		marks = append(marks, Mark{"rim", cx + cx*c/2, cy + cy*s/2})
	}
	v.Overlay = func(t Transform) figure.Drawing {
		var xy []float64
		for i := range 240 {
			s, c := math.Sincos(float64(i) / 240 * 2 * math.Pi)
			x, y := t.Apply(cx+cx*c/2, cy+cy*s/2)
			xy = append(xy, x, y)
		}
		return figure.Drawing{Shapes: haloed(figure.Polygon(xy...), figure.Ghost, figure.Medium)}
	}
	v.SetMarks(marks)
	v.SetPicture(speckled(w, h))
	return v
}

// BenchmarkPhotoPan moves the picture, at the scale that costs most.
func BenchmarkPhotoPan(b *testing.B) {
	v := benchView(b, 4000, 3000)
	v.sight.zoom(0.7072/v.sight.scale, 640, 400) // at 0.7071 a level with a quarter of the pixels takes over
	i := 0
	for b.Loop() {
		i++
		v.sight.look(2000+float64(i%7), 1500)
		v.show()
		v.paint(1280, 800)
	}
}

// BenchmarkPhotoZoom goes through all scales.
func BenchmarkPhotoZoom(b *testing.B) {
	v := benchView(b, 4000, 3000)
	by := 1.2
	for b.Loop() {
		was := v.sight.scale
		v.zoomAt(by, 640, 400)
		if v.sight.scale == was {
			by = 1 / by
		}
		v.paint(1280, 800)
	}
}

// BenchmarkPhotoDrag moves a point, with the loupe on it.
func BenchmarkPhotoDrag(b *testing.B) {
	v := benchView(b, 4000, 3000)
	v.sight.zoom(4, 640, 400)
	v.hold = &hold{mark: 0}
	i := 0
	for b.Loop() {
		i++
		v.marks[0].X = 2000 + float64(i%7)
		v.show()
		v.paint(1280, 800)
		v.loupe.paint(loupeSize, loupeSize)
	}
}

// BenchmarkPhotoPyramid makes the pyramid of a camera's picture of 12 megapixels.
func BenchmarkPhotoPyramid(b *testing.B) {
	img := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for b.Loop() {
		NewPyramid(img)
	}
}
