package photo

import (
	"encoding/json"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
)

var regen = flag.Bool("regen", false, "write the marks of the sample photographs and the coverage table anew")

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

func writeMarks(t *testing.T) {
	t.Helper()
	var list []sample
	for _, name := range []string{"nose-square.jpg", "nose-bolts-tilted.jpg", "nose-portrait.jpg"} {
		s := sampleScene(name)
		r := rand.New(rand.NewPCG(9, 9))
		m := s.marks(r, 0.5, 10, 6, RimAndCentre)
		if s.Bolts > 0 {
			m.Bolts = s.marks(r, 0.5, 0, 0, BoltCircle).Bolts
		}
		list = append(list, sample{name, s.Dowel, s.Tilt, s.Distance, pairs(m.Rim), pairs(m.Keyway), pairs(m.Dowel), pairs(m.Centre), pairs(m.Bolts)})
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
		writeMarks(t)
	}
	list := samples(t)
	if len(list) != len(render.Samples()) {
		t.Fatalf("%d samples", len(list))
	}
	for _, s := range list {
		info, err := InspectFile(filepath.Join(photos, s.File))
		if err != nil {
			t.Fatal(err)
		}
		if want := render.Focal(render.SampleMM, info.Width, info.Height); math.Abs(info.FocalPx-want) > 1e-9 {
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
