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

	"pinphase.org/pinphase/timing/figure"
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
