package figure

import (
	"image"
	"image/color"
	"testing"
)

// ink is the box of the pixels that are not the surface.
func ink(img *image.RGBA, surface color.RGBA) image.Rectangle {
	var r image.Rectangle
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.RGBAAt(x, y) != surface {
				r = r.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return r
}

// Text stands where its anchor says, turned or level, and Bounds holds it.
func TestTextStandsInItsBounds(t *testing.T) {
	t.Parallel()
	var r Raster
	for _, turn := range []float64{0, 30, 90, 180, -90} {
		for h := Left; h <= Right; h++ {
			for v := Baseline; v <= Bottom; v++ {
				txt := Text{X: 100, Y: 100, S: "Ågj −12.5°", Size: 12, H: h, V: v, Turn: turn, Role: Ink}
				img := r.Render(Drawing{W: 200, H: 200, Shapes: []Shape{txt}}, Light(), 200, 200, 1)
				got := ink(img, Light().Color(Surface))
				b := txt.Bounds().Grown(1.5) // glyphs stand on whole pixels
				if got.Empty() || float64(got.Min.X) < b.X || float64(got.Max.X) > b.Right() || float64(got.Min.Y) < b.Y || float64(got.Max.Y) > b.Bottom() {
					t.Errorf("%v: ink in %v, bounds %v", txt, got, b)
				}
			}
		}
	}
}

// As wide as it is measured, so it is drawn.
func TestMeasuredWidthIsDrawnWidth(t *testing.T) {
	t.Parallel()
	for _, bold := range []bool{false, true} {
		w, _, _ := MeasureText(20, bold, "HHHHHHHHHH")
		one, _, _ := MeasureText(20, bold, "H")
		img := new(Raster).Render(Drawing{Shapes: []Shape{Text{X: 10, Y: 50, S: "HHHHHHHHHH", Size: 20, Bold: bold, Role: Ink}}}, Light(), 300, 80, 1)
		got := ink(img, Light().Color(Surface))
		if d := float64(got.Dx()) - w; d > 0 || d < -0.4*one {
			t.Errorf("bold %v: %d pixels of ink, measured %g", bold, got.Dx(), w)
		}
		if height := float64(got.Dy()); height < 20*capHeight-1 || height > 20*capHeight+1.5 {
			t.Errorf("bold %v: capitals are %g high, want %g", bold, height, 20*capHeight)
		}
	}
}

// Every sign the program writes is in the font.
func TestFontHasTheSigns(t *testing.T) {
	t.Parallel()
	for _, bold := range []bool{false, true} {
		for _, r := range "−±°≤≥≈⌀↻↺×·µ–—…≠√∞∠▲▼●○✓äöüßéèçñåøœłşžığ" {
			if i, err := fontOf(bold).font.GlyphIndex(nil, r); err != nil || i == 0 {
				t.Errorf("bold %v: the font has no %c", bold, r)
			}
		}
	}
}

func TestRasterKeepsItsPicture(t *testing.T) {
	t.Parallel()
	d, _ := Wheel(wheelInput(36, []int{36}, -25), Box{W: 200, H: 150})
	var r Raster
	a := r.Render(d, Light(), 300, 225, 1.5)
	first := append([]uint8(nil), a.Pix...)
	r.Render(Drawing{}, Dark(), 300, 225, 1.5)
	b := r.Render(d, Light(), 300, 225, 1.5)
	if a != b {
		t.Error("a second picture of the same size was made")
	}
	if string(first) != string(b.Pix) {
		t.Error("the same figure gave another picture over a used one")
	}
	if c := r.Render(d, Light(), 0, -3, 1); c.Rect.Dx() != 1 || c.Rect.Dy() != 1 {
		t.Errorf("a picture without pixels is %v, want 1 by 1", c.Rect)
	}
}

// The two layers of the wheel laid over each other are the whole wheel.
func TestLayersMakeTheWhole(t *testing.T) {
	t.Parallel()
	in, box := wheelInput(36, []int{36}, -25), Box{W: 400, H: 300}
	whole, _ := Wheel(in, box)
	turning, fixed, _ := WheelLayers(in, box)
	want := new(Raster).Render(whole, Light(), 400, 300, 1)
	got := new(Raster).Render(turning, Light(), 400, 300, 1)
	over := (&Raster{Clear: true}).Render(fixed, Light(), 400, 300, 1)
	if over.RGBAAt(2, 2).A != 0 {
		t.Error("a clear picture has a surface")
	}
	for i := 0; i < len(got.Pix); i += 4 { // over, as in Porter and Duff 1984
		for c := range 4 {
			got.Pix[i+c] = uint8(int(over.Pix[i+c]) + int(got.Pix[i+c])*(255-int(over.Pix[i+3]))/255)
		}
	}
	if mean := meanDifference(t, got, want); mean > 0.1 { // edges are rounded to whole steps twice
		t.Errorf("the layers differ from the whole by %.3f on average", mean)
	}
	in.Theta += 77
	if _, later, _ := WheelLayers(in, box); later.String() != fixed.String() {
		t.Error("what stands still has changed with the crank angle")
	}
}

func TestPlace(t *testing.T) {
	t.Parallel()
	page := Drawing{W: 595, H: 842, Title: "Page"}
	part, _ := Cycle(cycleInput(engine(4, []int{1, 3, 4, 2}), 0), Box{W: 300, H: 200})
	page.Place(part, 40, 500)
	for i, s := range part.Shapes {
		a, b := s.Bounds(), page.Shapes[i].Bounds()
		a.X, a.Y = a.X+40, a.Y+500
		if hypot(a.X-b.X, a.Y-b.Y) > 1e-9 || hypot(a.W-b.W, a.H-b.H) > 1e-9 {
			t.Fatalf("%v has gone to %v, want %v", s, b, a)
		}
	}
	if h, ok := page.At(part.Hits[0].X+40+1, part.Hits[0].Y+500+1); !ok || h.Name != part.Hits[0].Name {
		t.Errorf("the hit has not moved along: %v", h)
	}
}

// The pattern stays inside its area and fills it evenly.
func TestHatchStaysInside(t *testing.T) {
	t.Parallel()
	area := Rect{13.3, 7.7, 100, 40}
	for _, h := range []Hatch{{Turn: 45, Gap: 4, Width: 0.5}, {Turn: 135, Gap: 4, Width: 0.5}, {Turn: 90, Gap: 4, Width: 0.5}, {Turn: 0, Gap: 4, Width: 0.5}, {Turn: 90, Gap: 4, Width: 1, Dots: true}} {
		lines := h.lines(flatten(Rectangle(area)))
		length := 0.0
		for i := 0; i < len(lines); i += 2 {
			for _, s := range lines[i : i+2] {
				if !area.Grown(1e-9).Holds(s.X, s.Y) {
					t.Fatalf("%v: a line reaches %g, %g outside %v", h, s.X, s.Y, area)
				}
			}
			b := Path{Segs: lines[i : i+2]}.Bounds()
			length += hypot(b.W, b.H)
		}
		want := area.W * area.H / h.Gap // total length of lines Gap apart
		if h.Dots {
			want = area.W * area.H / h.Gap / h.Gap * h.Width
		}
		if length < 0.85*want || length > 1.15*want {
			t.Errorf("%v: %g points of line, want about %g", h, length, want)
		}
	}
	hole := append(Circle(50, 50, 40), Circle(50, 50, 20)...)
	for _, s := range (Hatch{Turn: 90, Gap: 3, Width: 0.5}).lines(flatten(hole)) {
		if d := hypot(s.X-50, s.Y-50); d < 19.8 || d > 40.1 {
			t.Fatalf("a line ends %g from the middle of a ring from 20 to 40", d)
		}
	}
}

// The pattern painted pixel by pixel is the one drawn line by line: the same
// amount of it, and a picture that differs by no more than soft edges do.
func TestPaintedHatchIsTheDrawnOne(t *testing.T) {
	t.Parallel()
	for role := StrokePower; role <= StrokeCompression; role++ {
		area := Rectangle(Rect{10, 10, 90, 60})
		corner := append(append([]Seg{}, area[:4]...), Seg{Op: LineTo, X: 10, Y: 40}, Seg{Op: CloseTo}) // the same, not known as a rectangle
		render := func(segs []Seg) *image.RGBA {
			d := Drawing{W: 110, H: 80, Shapes: []Shape{Path{Segs: segs, Fill: role}}}
			return new(Raster).Render(d, Paper(), 330, 240, 3)
		}
		painted, drawn := render(area), render(corner)
		if mean := meanDifference(t, painted, drawn); mean > 3 {
			t.Errorf("%v: painted and drawn differ by %.2f on average", role, mean)
		}
		dark := func(img *image.RGBA) (sum int) {
			for i := 0; i < len(img.Pix); i += 4 {
				sum += 255 - int(img.Pix[i])
			}
			return sum
		}
		if a, b := dark(painted), dark(drawn); a < b*93/100 || a > b*107/100 {
			t.Errorf("%v: %d steps of dark painted, %d drawn", role, a, b)
		}
	}
}

// A rectangle is filled whole, whichever corner its outline begins at.
func TestRectangleFromAnyCorner(t *testing.T) {
	t.Parallel()
	xy := []float64{10, 10, 50, 10, 50, 40, 10, 40}
	for i := range 4 {
		for _, back := range []bool{false, true} {
			var from []float64
			for k := range 4 {
				n := (i + k) % 4
				if back {
					n = (i - k + 4) % 4
				}
				from = append(from, xy[2*n], xy[2*n+1])
			}
			img := new(Raster).Render(Drawing{W: 60, H: 50, Shapes: []Shape{Path{Segs: Polygon(from...), Fill: Ink}}}, Light(), 60, 50, 1)
			if got := ink(img, Light().Color(Surface)); got != image.Rect(10, 10, 50, 40) {
				t.Errorf("from corner %d, backwards %v: filled %v", i, back, got)
			}
		}
	}
}
