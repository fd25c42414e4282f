package photo

import (
	"bytes"
	"encoding/json"
	"flag"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"pinphase/timing"
)

var regen = flag.Bool("regen", false, "draw the sample photographs and the coverage table anew")

// photos is where the sample photographs are, for other tests too.
const photos = "../../../testdata/photos"

// sample is a photograph with what is true of it and marks as a careful user
// would place them (scattered by half a pixel).
type sample struct {
	File     string       `json:"file"`
	TrueDeg  float64      `json:"true_clockwise_deg"` // from the keyway to the dowel
	TiltDeg  float64      `json:"tilt_deg"`
	Diameter float64      `json:"distance_rim_diameters"`
	Rim      [][2]float64 `json:"rim"`
	Keyway   [][2]float64 `json:"keyway"`
	Dowel    [][2]float64 `json:"dowel"`
	Centre   [][2]float64 `json:"centre"`
	Bolts    [][2]float64 `json:"bolts"`
}

func pairs(ps []Point) [][2]float64 {
	out := make([][2]float64, 0, len(ps))
	for _, p := range ps {
		out = append(out, [2]float64{float64(int(p.X*10+0.5)) / 10, float64(int(p.Y*10+0.5)) / 10})
	}
	return out
}

func points(ps [][2]float64) []Point {
	var out []Point
	for _, p := range ps {
		out = append(out, Point{p[0], p[1]})
	}
	return out
}

// focalOf is the focal length in pixels of a 26 mm equivalent.
func focalOf(width, height int) float64 {
	return exif{focal35: 26}.focalPx(width, height)
}

// sampleScenes are the scenes of the sample photographs by file name. The last
// is stored lying on its side, as phones do.
func sampleScenes() map[string]scene {
	base := scene{offX: 2, offY: -1.5, keyHalf: 7, dowelAt: 0.62, dowelR: 0.085, distance: 2.6}
	square, tilted, portrait := base, base, base
	square.width, square.height, square.tilt, square.azimuth, square.roll, square.key, square.dowel = 1600, 1200, 5, 60, 0, -80, -12.5
	tilted.width, tilted.height, tilted.tilt, tilted.azimuth, tilted.roll, tilted.key, tilted.dowel = 1600, 1200, 27, 200, 0, -120, 12.5
	tilted.bolts, tilted.boltsAt, tilted.distance = 6, 1.2, 3.4
	portrait.width, portrait.height, portrait.tilt, portrait.azimuth, portrait.roll, portrait.key, portrait.dowel = 1200, 1600, 14, 310, 0, -95, 37.8
	scenes := map[string]scene{"nose-square.jpg": square, "nose-bolts-tilted.jpg": tilted, "nose-portrait.jpg": portrait}
	for name, s := range scenes {
		s.f = focalOf(s.width, s.height)
		s.set()
		scenes[name] = s
	}
	return scenes
}

func drawSamples(t *testing.T) {
	t.Helper()
	var list []sample
	for _, name := range []string{"nose-square.jpg", "nose-bolts-tilted.jpg", "nose-portrait.jpg"} {
		s := sampleScenes()[name]
		img, orientation := s.render(1), 1
		if name == "nose-portrait.jpg" {
			img, orientation = orient(img, 8), 6 // laid on its side; 6 turns it back
		}
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 82}); err != nil {
			t.Fatal(err)
		}
		data := withEXIF(buf.Bytes(), tiff(orientation, 26, max(s.width, s.height), min(s.width, s.height)))
		if err := os.WriteFile(filepath.Join(photos, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(9, 9))
		m := s.marks(r, 0.5, 10, 6, RimAndCentre)
		if s.bolts > 0 {
			m.Bolts = s.marks(r, 0.5, 0, 0, BoltCircle).Bolts
		}
		list = append(list, sample{name, s.dowel, s.tilt, s.distance, pairs(m.Rim), pairs(m.Keyway), pairs(m.Dowel), pairs(m.Centre), pairs(m.Bolts)})
	}
	text, err := json.MarshalIndent(list, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(photos, "marks.json"), append(text, '\n'), 0o644); err != nil {
		t.Fatal(err)
	}
}

func samples(t testing.TB) []sample {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(photos, "marks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list []sample
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// The sample photographs come back by each basis that their marks allow.
func TestSamples(t *testing.T) {
	if *regen {
		drawSamples(t)
	}
	list := samples(t)
	if len(list) != len(sampleScenes()) {
		t.Fatalf("%d samples", len(list))
	}
	for _, s := range list {
		info, err := InspectFile(filepath.Join(photos, s.File))
		if err != nil {
			t.Fatal(err)
		}
		if want := focalOf(info.Width, info.Height); info.FocalPx != want {
			t.Errorf("%s: focal length %v px, want %v", s.File, info.FocalPx, want)
		}
		for basis := RimOnly; basis <= BoltCircle; basis++ {
			m := Marks{Rim: points(s.Rim), Keyway: points(s.Keyway), Dowel: points(s.Dowel)}
			switch basis {
			case RimAndCentre:
				m.Centre = points(s.Centre)
			case BoltCircle:
				m.Bolts = points(s.Bolts)
			}
			if basis == BoltCircle && len(m.Bolts) == 0 {
				continue
			}
			got, err := Measure(m, Options{Picture: info})
			if err != nil {
				t.Errorf("%s: %v", s.File, err)
				continue
			}
			t.Logf("%s, %v: %.2f ± %.2f, true %.2f; tilt %.1f ± %.1f, true %.1f", s.File, basis, got.Clockwise.Value, got.Clockwise.U, s.TrueDeg, got.Tilt.Value, got.Tilt.U, s.TiltDeg)
			if d := apart(got.Clockwise.Value, timing.Deg(s.TrueDeg)); d > 1.96*float64(got.Clockwise.U) {
				t.Errorf("%s, %v: %v ± %v, true %v", s.File, basis, got.Clockwise.Value, got.Clockwise.U, s.TrueDeg)
			}
		}
	}
}

// The whole way: the picture is read and turned upright, its edges are found in
// the pixels, and the angle comes back. Nothing is taken from the scene but
// roughly where to look.
func TestFromPixels(t *testing.T) {
	for name, s := range sampleScenes() {
		img, info, err := Load(filepath.Join(photos, name), 0)
		if err != nil {
			t.Fatal(err)
		}
		if info.Width != s.width || info.Height != s.height {
			t.Fatalf("%s: %+v, want %d × %d", name, info, s.width, s.height)
		}
		at := func(p Point) float64 { return float64(img.RGBAAt(int(p.X), int(p.Y)).G) / 255 }
		// step looks outwards from the face's point for the greatest change.
		step := func(inside, outside Point) Point {
			best, where := 0.0, Point{}
			d := outside.minus(inside)
			const n = 400
			for i := 8; i < n-8; i++ {
				on := func(k int) float64 {
					f := float64(i+k) / n
					return at(Point{inside.X + f*d.X, inside.Y + f*d.Y})
				}
				jump := 0.0
				for k := 1; k <= 8; k++ {
					jump += on(-k) - on(k-1)
				}
				if math.Abs(jump) > best {
					best, where = math.Abs(jump), Point{inside.X + d.X*float64(i)/n, inside.Y + d.Y*float64(i)/n}
				}
			}
			return where
		}
		// dark is the middle of the pixels darker than the face around a place.
		dark := func(p Point, reach float64) Point {
			var sum Point
			n := 0.0
			for y := p.Y - reach; y <= p.Y+reach; y++ {
				for x := p.X - reach; x <= p.X+reach; x++ {
					if q := (Point{math.Floor(x) + 0.5, math.Floor(y) + 0.5}); at(q) < 0.45 {
						sum.X, sum.Y, n = sum.X+q.X, sum.Y+q.Y, n+1
					}
				}
			}
			return Point{sum.X / n, sum.Y / n}
		}
		var m Marks
		for a := 20.0; a < 340; a += 25 {
			m.Rim = append(m.Rim, step(s.at(s.key+a, 0.9), s.at(s.key+a, 1.1)))
		}
		// The corners: where the rim meets the walls, found just inside it.
		for _, side := range []float64{-1, 1} {
			wall := step(s.at(s.key+side*3, 0.95), s.at(s.key+side*12, 0.95))
			further := step(s.at(s.key+side*3, 0.85), s.at(s.key+side*12, 0.85))
			d := wall.minus(further)
			m.Keyway = append(m.Keyway, Point{wall.X + d.X/2, wall.Y + d.Y/2})
		}
		for a := 0.0; a < 360; a += 60 {
			sin, cos := math.Sincos((s.key + s.dowel) * math.Pi / 180)
			x, y := s.dowelAt*cos, s.dowelAt*sin
			sin, cos = math.Sincos(a * math.Pi / 180)
			m.Dowel = append(m.Dowel, step(s.project(x+0.04*cos, y+0.04*sin), s.project(x+0.12*cos, y+0.12*sin)))
		}
		m.Centre = []Point{dark(s.at(0, 0), 0.09*s.at(0, 1).minus(s.at(180, 1)).length()/2)}
		got, err := Measure(m, Options{Picture: info})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		t.Logf("%s: %.2f ± %.2f, true %.2f; rms %.2f px", name, got.Clockwise.Value, got.Clockwise.U, s.dowel, got.ResidualPx)
		if d := apart(got.Clockwise.Value, timing.Deg(s.dowel)); d > 1.96*float64(got.Clockwise.U) {
			t.Errorf("%s: %v ± %v, true %v", name, got.Clockwise.Value, got.Clockwise.U, s.dowel)
		}
		if got.ResidualPx > 1 {
			t.Errorf("%s: rim points miss the ellipse by %v px", name, got.ResidualPx)
		}
	}
}
