package photo

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"pinphase.org/pinphase/timing/part/photo/internal/render"
)

// tryFolder is where the job with photographs lies that the window offers to try.
const tryFolder = "../../../assets/try"

// TestTryPhotographs: the photographs that the program offers to try are those of the
// renderer, and the marks of their job, placed on the scene by half a pixel, are those
// of the same scenes. What the job comes to, a test of the command line says. With -regen
// pictures and job are written.
func TestTryPhotographs(t *testing.T) {
	job := bytes.NewBufferString(tryHead)
	r := rand.New(rand.NewPCG(11, 3))
	for _, part := range []struct{ file, name, what, use, dated string }{
		{"old-nose.jpg", "Old crankshaft", "old", "datum", "2026-03-28"},
		{"new-nose.jpg", "New crankshaft", "new", "engine", "2026-03-29"},
	} {
		s := scene{render.Try()[part.file]}
		m := s.marks(r, 0.5, 10, 6, RimAndCentre)
		fmt.Fprintf(job, "\n[[part]]\nname = %q\nwhat = %q\nuse = %q\ndated = %q\n", part.name, part.what, part.use, part.dated)
		fmt.Fprintf(job, "[part.dowel]\nmethod = \"photo\"\nfile = %q\nrim = %s\nkeyway = %s\ndowel = %s\ncentre = %s\n",
			part.file, list(m.Rim), list(m.Keyway), list(m.Dowel), inBrackets(m.Centre[0]))
		path := filepath.Join(tryFolder, part.file)
		if *regen {
			var b bytes.Buffer
			if err := jpeg.Encode(&b, s.Render(2), &jpeg.Options{Quality: 70}); err != nil {
				t.Fatal(err)
			}
			data := render.WithEXIF(b.Bytes(), render.TIFF(1, 2*render.SampleMM, s.Width, s.Height))
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		info, err := InspectFile(path)
		if err != nil || info.Width != s.Width || info.Height != s.Height {
			t.Errorf("%s: %+v, %v; want %d × %d", part.file, info, err, s.Width, s.Height)
		}
	}
	path := filepath.Join(tryFolder, "photographs.toml")
	if *regen {
		if err := os.WriteFile(path, job.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	held, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(held, job.Bytes()) {
		t.Errorf("photographs.toml is not what the scenes say: run make try (%v)", err)
	}
}

const tryHead = `# The demo job's engine, with a photograph of the end of the old crankshaft and one of the
# new crankshaft's. Invented and drawn by make try, as the photographs are.
format = 2
title = "Gravel barge Tern: old and new crankshaft"

[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
rotation = "clockwise"
bore_mm = 108.0
stroke_mm = 126.0
rod_mm = 207.0
compression_ratio = 17.0

[engine.valves]
intake_opens_btdc_deg = 14.0
intake_closes_abdc_deg = 36.0
exhaust_opens_bbdc_deg = 48.0
exhaust_closes_atdc_deg = 12.0

[injection]
start_btdc_deg = 10.0
cranking_rpm = 180.0
air_c = 12.0
air_kpa = 101.0
cetane = 50.0

[crank_wheel]
positions = 60
missing = [59, 60]
first_tooth_btdc_deg = 84.0
sensor = "inductive"
`

// list writes points as the job file does.
func list(points []Point) string {
	text := "["
	for i, p := range points {
		if i > 0 {
			text += ", "
		}
		text += inBrackets(p)
	}
	return text + "]"
}

func inBrackets(p Point) string { return fmt.Sprintf("[%.1f, %.1f]", p.X, p.Y) }
