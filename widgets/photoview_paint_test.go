package widgets

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"pgregory.net/rapid"

	"pinphase/timing/figure"
)

// speckled returns a picture of random pixels.
func speckled(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = uint8(r.Uint32())
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	return img
}

// sloped returns a picture whose red grows by 2 a pixel to the right and whose
// green by 2 a pixel downwards, from 0.
func sloped(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{uint8(2 * x), uint8(2 * y), 77, 255})
		}
	}
	return img
}

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

// sampleAt is the slow way to a painted pixel: in floating point, from the
// definition of mixing four neighbours.
func sampleAt(img *image.RGBA, u, v float64) [3]float64 {
	x, y := math.Floor(u), math.Floor(v)
	fx, fy := u-x, v-y
	var sum [3]float64
	for _, n := range []struct{ x, y, part float64 }{
		{x, y, (1 - fx) * (1 - fy)}, {x + 1, y, fx * (1 - fy)}, {x, y + 1, (1 - fx) * fy}, {x + 1, y + 1, fx * fy},
	} {
		px := max(0, min(int(n.x), img.Rect.Dx()-1))
		py := max(0, min(int(n.y), img.Rect.Dy()-1))
		c := img.RGBAAt(px, py)
		sum[0] += n.part * float64(c.R)
		sum[1] += n.part * float64(c.G)
		sum[2] += n.part * float64(c.B)
	}
	return sum
}

func TestPaintedPixelsAreThePictures(t *testing.T) {
	beside := color.RGBA{1, 2, 3, 255}
	var s sampler
	rapid.Check(t, func(t *rapid.T) {
		img := speckled(rapid.IntRange(1, 700).Draw(t, "pw"), rapid.IntRange(1, 40).Draw(t, "ph"))
		p := NewPyramid(img)
		place := Transform{
			math.Exp(rapid.Float64Range(-3, 3).Draw(t, "log scale")),
			rapid.Float64Range(-400, 60).Draw(t, "dx"), rapid.Float64Range(-40, 40).Draw(t, "dy"),
		}
		dst := image.NewRGBA(image.Rect(0, 0, rapid.IntRange(1, 60).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")))
		s.paint(dst, p, place, beside)

		level := max(0, min(int(math.Round(-math.Log2(place.Scale))), len(p.levels)-1))
		for y := range dst.Rect.Dy() {
			for x := range dst.Rect.Dx() {
				u, v := place.Invert(float64(x)+0.5, float64(y)+0.5)
				got := dst.RGBAAt(x, y)
				if u < 0 || v < 0 || u >= float64(img.Rect.Dx()) || v >= float64(img.Rect.Dy()) {
					if got != beside && u > 1e-9 && v > 1e-9 {
						t.Fatalf("%d, %d beside the picture is %v", x, y, got)
					}
					continue
				}
				k := math.Ldexp(1, -level)
				want := sampleAt(p.levels[level], u*k-0.5, v*k-0.5)
				for i, g := range []uint8{got.R, got.G, got.B} {
					// Parts in 256ths: off by up to 1 twice, and half a step of rounding twice.
					if !near(float64(g), want[i], 3) {
						t.Fatalf("%d, %d is %v, want %v", x, y, got, want)
					}
				}
				if got.A != 255 {
					t.Fatalf("%d, %d is transparent", x, y)
				}
			}
		}
	})
}

func TestPictureIsPaintedOnlyWhenItMoves(t *testing.T) {
	v := photoIn(t, 400, 300)
	l := &v.layers
	paint := func() { v.paint(int(v.Size().Width), int(v.Size().Height)) }
	paint()
	for _, c := range []struct {
		what            string
		do              func()
		pictures, joins int // how many more times each is painted
	}{
		{"nothing", func() {}, 0, 0},
		{"points", func() { v.SetMarks([]Mark{{"rim", 10, 10}}) }, 0, 1},
		{"a selection", func() { v.Select(0) }, 0, 1},
		{"a nudge", func() { v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight}) }, 0, 1},
		{"the pointer", func() { v.MouseMoved(&desktop.MouseEvent{}) }, 0, 0},
		{"fitting what is fitted", v.Fit, 0, 1},
		{"a refresh", v.Refresh, 0, 1},
		{"enlarging", func() { v.Zoom(2) }, 1, 1},
		{"another size", func() { v.Resize(fyne.NewSize(300, 280)) }, 1, 1},
		{"another picture", func() { v.SetPicture(sloped(50, 50)) }, 1, 1},
		{"no picture", func() { v.SetPicture(nil) }, 1, 1},
	} {
		pictures, joins := l.pictures, l.joins
		c.do()
		paint()
		paint()
		if p, j := l.pictures-pictures, l.joins-joins; p != c.pictures || j != c.joins {
			t.Errorf("%s: picture painted %d times and all of it %d times, want %d and %d", c.what, p, j, c.pictures, c.joins)
		}
	}
}

func TestOverlayLiesWhereThePictureIs(t *testing.T) {
	v := photoIn(t, 400, 300)
	v.SetMarks(nil)
	v.Overlay = func(toView Transform) figure.Drawing {
		x0, y0 := toView.Apply(100, 50)
		x1, y1 := toView.Apply(140, 90)
		return figure.Drawing{Shapes: []figure.Shape{
			figure.Path{Segs: figure.Rectangle(figure.Rect{X: x0, Y: y0, W: x1 - x0, H: y1 - y0}), Fill: figure.Warning},
		}}
	}
	v.zoomAt(1.7, 200, 120)
	v.Refresh()
	img := v.paint(int(v.Size().Width), int(v.Size().Height)).(*image.RGBA)
	warning := styleOf(v.Theme()).Color(figure.Warning)
	for _, c := range []struct {
		x, y   float64
		inside bool
	}{{102, 52, true}, {138, 88, true}, {97, 70, false}, {143, 70, false}, {120, 47, false}, {120, 93, false}} {
		x, y := v.sight.transform().Apply(c.x, c.y)
		if got := img.RGBAAt(int(x), int(y)); (got == warning) != c.inside {
			t.Errorf("pixel %v, %v of the picture is shown as %v, overlay %v", c.x, c.y, got, c.inside)
		}
	}
}

// always is a theme in one of its variants.
type always struct {
	fyne.Theme
	variant fyne.ThemeVariant
}

func (a always) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	return a.Theme.Color(n, a.variant)
}

func TestMarkIsSeenOnAnyPicture(t *testing.T) {
	for i, ground := range []color.Gray{{0}, {60}, {128}, {200}, {255}, {0}, {60}, {128}, {200}, {255}} {
		variant := theme.VariantLight
		if i >= 5 {
			variant = theme.VariantDark
		}
		v := photoIn(t, 400, 300)
		fyne.CurrentApp().Settings().SetTheme(always{theme.DefaultTheme(), variant})
		flat := image.NewGray(image.Rect(0, 0, 400, 300))
		for i := range flat.Pix {
			flat.Pix[i] = ground.Y
		}
		v.SetPicture(flat)
		for form := MarkRing; form <= MarkCross; form++ {
			v.Looks = map[string]MarkLook{"rim": {form, figure.Measured}}
			v.SetMarks([]Mark{{"rim", 200, 150}})
			img := v.paint(int(v.Size().Width), int(v.Size().Height)).(*image.RGBA)
			x, y := v.sight.transform().Apply(200, 150)
			most := 0.0 // the strongest contrast near the mark, by WCAG 2.1's definition
			for dy := -14; dy <= 14; dy++ {
				for dx := -14; dx <= 14; dx++ {
					a, b := luminance(img.RGBAAt(int(x)+dx, int(y)+dy)), luminance(ground)
					most = max(most, (max(a, b)+0.05)/(min(a, b)+0.05))
				}
			}
			if most < 3 { // WCAG 2.1, 1.4.11: graphics
				t.Errorf("variant %d, form %d on grey %d: contrast %.1f, want 3", variant, form, ground.Y, most)
			}
		}
	}
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	lin := func(v uint32) float64 {
		s := float64(v) / 0xffff
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
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

func TestCutLinesKeepToTheWindow(t *testing.T) {
	window := figure.Rect{X: 10, Y: 20, W: 100, H: 50}
	rapid.Check(t, func(t *rapid.T) {
		var xy []float64
		for range rapid.IntRange(2, 8).Draw(t, "n") {
			xy = append(xy, rapid.Float64Range(-300, 400).Draw(t, "x"), rapid.Float64Range(-300, 400).Draw(t, "y"))
		}
		segs := figure.Polygon(xy...)
		got := length(cut(segs, window), figure.Rect{X: -1e6, Y: -1e6, W: 2e6, H: 2e6})
		if want := length(segs, window); !near(got, want, 1+want/50) {
			t.Fatalf("%v long, want %v in the window", got, want)
		}
		for _, s := range cut(segs, window) {
			if s.X < window.X-1e-6 || s.X > window.Right()+1e-6 || s.Y < window.Y-1e-6 || s.Y > window.Bottom()+1e-6 {
				t.Fatalf("%v lies outside", s)
			}
		}
	})
}

// length measures, by small steps, how much of a line lies in a window.
func length(segs []figure.Seg, window figure.Rect) float64 {
	const steps = 4000
	var sum, x, y float64
	var first figure.Seg
	for _, s := range segs {
		switch s.Op {
		case figure.MoveTo:
			first, x, y = s, s.X, s.Y
			continue
		case figure.CloseTo:
			s.X, s.Y = first.X, first.Y
		}
		step := math.Hypot(s.X-x, s.Y-y) / steps
		for i := range steps {
			k := (float64(i) + 0.5) / steps
			if window.Holds(x+(s.X-x)*k, y+(s.Y-y)*k) {
				sum += step
			}
		}
		x, y = s.X, s.Y
	}
	return sum
}

func TestShapesOutsideTheWindowAreLeftOut(t *testing.T) {
	window := figure.Rect{W: 100, H: 100}
	inside := figure.Path{Segs: figure.Line(10, 50, 90, 50), Stroke: figure.Ink}
	area := figure.Path{Segs: figure.Circle(100, 50, 30), Fill: figure.Ink}
	got := seen([]figure.Shape{
		inside, area,
		figure.Path{Segs: figure.Line(110, 0, 120, 100), Stroke: figure.Ink},
		figure.Text{X: 300, Y: 50, S: "far", Size: 10, Role: figure.Ink},
	}, window)
	if len(got) != 2 || got[0].String() != inside.String() || got[1].String() != area.String() {
		t.Errorf("got %v", got)
	}
}

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
