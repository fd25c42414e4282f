package pixels

import (
	"bytes"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

// photos is where the sample photographs are, for other tests too.
const photos = "../../../../testdata/photos"

// drawSample draws a sample photograph. The upright one is stored lying on its side,
// as phones do.
func drawSample(t *testing.T, name string, s render.Scene) {
	t.Helper()
	img, orientation := s.Render(1), 1
	if s.Height > s.Width {
		img, orientation = picture.Oriented(img, 8), 6
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 82}); err != nil {
		t.Fatal(err)
	}
	data := render.WithEXIF(buf.Bytes(), render.TIFF(orientation, render.SampleMM, max(s.Width, s.Height), min(s.Width, s.Height)))
	if err := os.WriteFile(filepath.Join(photos, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The whole way: the picture is read and turned upright, its edges are found in
// the pixels, and the angle comes back. Nothing is taken from the scene but
// roughly where to look.
func TestFromPixels(t *testing.T) {
	for name, s := range render.Samples() {
		if *regen {
			drawSample(t, name, s)
		}
		img, info, err := Load(t.Context(), filepath.Join(photos, name), 0)
		if err != nil {
			t.Fatal(err)
		}
		if info.Width != s.Width || info.Height != s.Height {
			t.Fatalf("%s: %+v, want %d × %d", name, info, s.Width, s.Height)
		}
		at := func(p render.Point) float64 { return float64(img.RGBAAt(int(p.X), int(p.Y)).G) / 255 }
		// step looks outwards from the face's point for the greatest change.
		step := func(inside, outside render.Point) photo.Point {
			best, where := 0.0, photo.Point{}
			d := render.Point{X: outside.X - inside.X, Y: outside.Y - inside.Y}
			const n = 400
			for i := 8; i < n-8; i++ {
				on := func(k int) float64 {
					f := float64(i+k) / n
					return at(render.Point{X: inside.X + f*d.X, Y: inside.Y + f*d.Y})
				}
				jump := 0.0
				for k := 1; k <= 8; k++ {
					jump += on(-k) - on(k-1)
				}
				if math.Abs(jump) > best {
					best, where = math.Abs(jump), photo.Point{X: inside.X + d.X*float64(i)/n, Y: inside.Y + d.Y*float64(i)/n}
				}
			}
			return where
		}
		// dark is the middle of the pixels darker than the face around a place.
		dark := func(p render.Point, reach float64) photo.Point {
			var sum photo.Point
			n := 0.0
			for y := p.Y - reach; y <= p.Y+reach; y++ {
				for x := p.X - reach; x <= p.X+reach; x++ {
					if q := (render.Point{X: math.Floor(x) + 0.5, Y: math.Floor(y) + 0.5}); at(q) < 0.45 {
						sum.X, sum.Y, n = sum.X+q.X, sum.Y+q.Y, n+1
					}
				}
			}
			return photo.Point{X: sum.X / n, Y: sum.Y / n}
		}
		var m photo.Marks
		for a := 20.0; a < 340; a += 25 {
			m.Rim = append(m.Rim, step(s.At(s.Key+a, 0.9), s.At(s.Key+a, 1.1)))
		}
		// The corners: where the rim meets the walls, found just inside it.
		for _, side := range []float64{-1, 1} {
			wall := step(s.At(s.Key+side*3, 0.95), s.At(s.Key+side*12, 0.95))
			further := step(s.At(s.Key+side*3, 0.85), s.At(s.Key+side*12, 0.85))
			m.Keyway = append(m.Keyway, photo.Point{X: wall.X + (wall.X-further.X)/2, Y: wall.Y + (wall.Y-further.Y)/2})
		}
		for a := 0.0; a < 360; a += 60 {
			m.Dowel = append(m.Dowel, step(s.DowelEdge(a, 0.5), s.DowelEdge(a, 1.4)))
		}
		a, b := s.At(0, 1), s.At(180, 1)
		m.Centre = []photo.Point{dark(s.At(0, 0), 0.045*math.Hypot(a.X-b.X, a.Y-b.Y))}
		got, err := photo.Measure(m, photo.Options{Picture: info})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		t.Logf("%s: %.2f ± %.2f, true %.2f; rms %.2f px", name, got.Clockwise.Value, got.Clockwise.U, s.Dowel, got.ResidualPx)
		if d := math.Abs(float64(got.Clockwise.Value) - s.Dowel); d > 1.96*float64(got.Clockwise.U) {
			t.Errorf("%s: %v ± %v, true %v", name, got.Clockwise.Value, got.Clockwise.U, s.Dowel)
		}
		if got.ResidualPx > 1 {
			t.Errorf("%s: rim points miss the ellipse by %v px", name, got.ResidualPx)
		}
	}
}
