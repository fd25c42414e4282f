package chart

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
)

func TestParseSize(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		w, h float64 // mm; 0: no size
	}{
		{"200x150mm", 200, 150}, {"200x150", 200, 150}, {"20 x 15 cm", 200, 150}, {"8x6in", 203.2, 152.4}, {"200mmx15cm", 200, 150}, {"200mm x 150mm", 200, 150},
		{"72x144pt", 25.4, 50.8}, {"200×150 mm", 200, 150}, {"12,5x10cm", 125, 100}, {"200", 0, 0}, {"x", 0, 0}, {"-1x5", 0, 0}, {"0x5", 0, 0}, {"1e999x5", 0, 0},
		{"200x150x3", 0, 0}, {"axb", 0, 0}, {"", 0, 0},
	} {
		w, h, err := ParseSize(c.text)
		if (err != nil) != (c.w == 0) || math.Abs(w-c.w) > 1e-9 || math.Abs(h-c.h) > 1e-9 {
			t.Errorf("%q: %g by %g, %v; want %g by %g", c.text, w, h, err, c.w, c.h)
		}
	}
}

// A figure is as large as was asked, in every format: the PDF's page in points, the
// SVG's own size, the picture's pixels and how many of them it says go to the metre.
func TestChosenSize(t *testing.T) {
	t.Parallel()
	for _, name := range Names {
		box, err := Sized(name, 180, 120)
		if err != nil {
			t.Fatal(err)
		}
		d, err := Drawing(name, sample.Demo(t), Options{Box: box})
		if err != nil {
			t.Fatal(err)
		}
		files := map[string][]byte{}
		for _, ending := range Formats {
			var b bytes.Buffer
			if err := WriteAs(&b, ending, d, figure.Paper(), 300); err != nil {
				t.Fatal(err)
			}
			files[ending] = b.Bytes()
		}
		if !bytes.Contains(files[".pdf"], []byte("/MediaBox [0 0 510.24 340.16]")) {
			t.Errorf("%s: the page is not 180 by 120 mm", name)
		}
		if !bytes.Contains(files[".svg"], []byte(`width="510.24pt" height="340.16pt"`)) {
			t.Errorf("%s: the SVG is not 180 by 120 mm", name)
		}
		img, err := png.Decode(bytes.NewReader(files[".png"]))
		if err != nil || img.Bounds().Dx() != 2126 || img.Bounds().Dy() != 1418 { // 180/25.4*300, 120/25.4*300, rounded up
			t.Fatalf("%s: %v, %v", name, img.Bounds(), err)
		}
		at := bytes.Index(files[".png"], []byte("pHYs"))
		if at < 0 || binary.BigEndian.Uint32(files[".png"][at+4:]) != 11811 || files[".png"][at+12] != 1 { // 300/0.0254
			t.Errorf("%s: the picture does not say how large it is", name)
		}
	}
	for _, c := range [][2]float64{{20, 100}, {100, 20}, {2001, 100}, {math.NaN(), 100}, {100, math.Inf(1)}} {
		if _, err := Sized("cycle", c[0], c[1]); err == nil {
			t.Errorf("%g by %g mm is a size", c[0], c[1])
		}
	}
	wide, err := Sized("cycle", 842/figure.MM, 0)
	if err != nil || math.Abs(wide.H-480) > 1e-9 || wide.Type != 1 {
		t.Errorf("the usual width gives %+v, %v", wide, err)
	}
	if twice, err := Sized("cycle", 2*842/figure.MM, 0); err != nil || math.Abs(twice.Type-2) > 1e-9 {
		t.Errorf("twice the usual width gives %+v, %v; its type is to be twice as large", twice, err)
	}
}

func TestPicturesHaveLimits(t *testing.T) {
	t.Parallel()
	d := figure.Drawing{W: 842, H: 480}
	for _, dpi := range []float64{0, 10, 1201, math.NaN(), math.Inf(1)} {
		if err := WriteAs(io.Discard, ".png", d, figure.Light(), dpi); err == nil {
			t.Errorf("a picture of %g dots an inch", dpi)
		}
	}
	if err := WriteAs(io.Discard, ".png", figure.Drawing{W: 5000, H: 5000}, figure.Light(), 1200); err == nil || !strings.Contains(err.Error(), "million pixels") {
		t.Errorf("%v", err)
	}
}

func TestThemes(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, name := range Themes {
		st, err := Style(name)
		if err != nil || seen[st.Name] {
			t.Errorf("%s: %s, %v", name, st.Name, err)
		}
		seen[st.Name] = true
	}
	if _, err := Style("pink"); err == nil {
		t.Error("there is a pink theme")
	}
}

// What is supposed is what is drawn, and is said to be supposed.
func TestSupposedWheelError(t *testing.T) {
	t.Parallel()
	wheel := 6.5
	o := LightOptions{Of: finding.LightOptions{WheelErrorDeg: &wheel}}
	in, err := Light(sample.Demo(t), o)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(in.Bars[1].Start); math.Abs(got-(-16.5)) > 1e-9 { // 10 BTDC asked for, 6.5 early
		t.Errorf("injection is drawn at %g", got)
	}
	if in.Bars[1].Label != string(wordWouldLand) || !strings.HasPrefix(in.Finding, "What if: a wheel error of 6.5°") {
		t.Errorf("%q, %q", in.Bars[1].Label, in.Finding)
	}
}
