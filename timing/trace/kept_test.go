package trace

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"

	"pinphase.org/pinphase/timing/trace/simulate"
)

// kept are the recordings kept in testdata/recordings; -regen writes them anew.
// The first is of the demo job, the second of three-cylinder.toml beside it.
func kept() map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		"gravel-barge.csv.gz": func(w io.Writer) error {
			wheels := wheel60()
			wheels.Delta = -28
			s, _ := tryout{cylinders: 6, wheels: wheels, start: 37, seed: 4, seconds: 3.2,
				scope: simulate.Scope{Rate: 12500, Noise: 0.03, Hum: 0.05, Offset: 0.1, Bits: 9}}.play()
			return s.WriteCSV(w, 5, "CH1", "CH2")
		},
		"three-cylinder.csv.gz": func(w io.Writer) error {
			wheels := wheel36()
			wheels.CrankHall, wheels.Gamma = true, 12
			s, _ := tryout{cylinders: 3, wheels: wheels, start: 200, seed: 5, seconds: 3.2,
				change: func(e *simulate.Engine) { e.Strength = []float64{1, 0.6, 1} },
				scope:  simulate.Scope{Rate: 12500, Noise: 0.02, Bits: 9}}.play()
			return s.WriteCSV(w, 5, "crank", "cam")
		},
	}
}

func TestKept(t *testing.T) {
	for name, write := range kept() {
		path := filepath.Join("..", "..", "testdata", "recordings", name)
		var text bytes.Buffer
		if err := write(&text); err != nil {
			t.Fatal(err)
		}
		if *regen {
			var packed bytes.Buffer
			z, _ := gzip.NewWriterLevel(&packed, gzip.BestCompression)
			z.Write(text.Bytes())
			z.Close()
			if err := os.WriteFile(path, packed.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d bytes", name, packed.Len())
		}
		file, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		z, err := gzip.NewReader(file)
		if err != nil {
			t.Fatal(err)
		}
		held, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if len(held) < 100000 || !bytes.Equal(held[:2000], text.Bytes()[:2000]) {
			t.Errorf("%s is not what the simulator makes: run make recordings", name)
		}
	}
}
