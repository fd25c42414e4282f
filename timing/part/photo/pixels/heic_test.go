package pixels

import (
	"context"
	"flag"
	"image"
	"math"
	"os"
	"testing"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

var regen = flag.Bool("regen", false, "draw the sample photographs anew")

func readTestFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// lying.heic is nose-portrait.jpg at a tenth of its size, lying on its side, its
// EXIF data saying so; turned.heic is the same with HEIF's own turning, as
// phones write it.
func TestHEICTurning(t *testing.T) {
	if !HEIC {
		t.Skip("built without HEIC")
	}
	lying := readTestFile(t, "lying.heic")
	stored, info, err := Decode(context.Background(), lying, 0)
	if err != nil {
		t.Fatal(err)
	}
	if info.Width != 160 || info.Height != 120 {
		t.Errorf("without turning: %+v, want 160 × 120: EXIF orientation does not count in HEIF", info)
	}
	if want := render.Focal(render.SampleMM, 160, 120); math.Abs(info.FocalPx-want) > 1e-9 {
		t.Errorf("focal length %v px, want %v", info.FocalPx, want)
	}
	for _, c := range []struct {
		name        string
		kind        string
		value       byte
		orientation int // the EXIF orientation that does the same
	}{
		{"a quarter anticlockwise", "irot", 1, 8},
		{"half", "irot", 2, 3},
		{"three quarters anticlockwise", "irot", 3, 6},
		{"top and bottom exchanged", "imir", 0, 4},
		{"left and right exchanged", "imir", 1, 2},
	} {
		got, info, err := Decode(context.Background(), render.WithProperty(lying, c.kind, c.value), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got.Rect.Dx() != info.Width || got.Rect.Dy() != info.Height {
			t.Errorf("%s: picture %v, said %+v", c.name, got.Rect, info)
		}
		if d := difference(got, picture.Oriented(stored, c.orientation)); d > 2 {
			t.Errorf("%s: mean difference %v from orientation %d", c.name, d, c.orientation)
		}
	}
	if *regen {
		if err := os.WriteFile("testdata/turned.heic", render.WithProperty(lying, "irot", 3), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if info, err := photo.InspectFile("testdata/turned.heic"); err != nil || info.Width != 120 || info.Height != 160 {
		t.Errorf("turned.heic: %+v, %v", info, err)
	}
}

// difference is the mean difference of two pictures of one size, in steps of a
// channel; infinite for different sizes.
func difference(a, b *image.RGBA) float64 {
	if a.Rect.Size() != b.Rect.Size() {
		return 1e9
	}
	s := 0
	for i := range a.Pix {
		d := int(a.Pix[i]) - int(b.Pix[i])
		s += max(d, -d)
	}
	return float64(s) / float64(len(a.Pix))
}
