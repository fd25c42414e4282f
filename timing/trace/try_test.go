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

// triedOut are the recordings in assets/try, one of each kind that is read, by name.
func triedOut(t *testing.T) map[string][]byte {
	t.Helper()
	made := func(o tryout, crank, cam string) (map[string][]byte, []byte) {
		s, _ := o.play()
		var text bytes.Buffer
		if err := s.WriteCSV(&text, 5, crank, cam); err != nil {
			t.Fatal(err)
		}
		others, err := simulate.Formats(zipped(t, text.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		return others, text.Bytes()
	}
	tern := wheel60()
	tern.Delta = -28
	of, scope := made(tryout{cylinders: 6, wheels: tern, start: 37, seed: 14, seconds: 3,
		scope: simulate.Scope{Rate: 12500, Noise: 0.015, Hum: 0.03, Offset: 0.1, Bits: 9}}, "CH1", "CH2")
	plover := wheel36()
	plover.CrankHall, plover.Gamma = true, 12
	other, _ := made(tryout{cylinders: 3, wheels: plover, start: 200, seed: 15, seconds: 3.2,
		scope: simulate.Scope{Rate: 50000, Noise: 0.02, Bits: 9}}, "crank", "cam")
	return map[string][]byte{
		"tern-scope.csv.gz": scope, "tern-soundcard.wav.gz": of["sound.wav"],
		"plover-analyser.vcd.gz": other["analyser.vcd"], "plover-changes.csv.gz": other["changes.csv"],
	}
}

func zipped(t *testing.T, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if _, err := z.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestTryRecordings: the recordings that the program offers to try are those of the
// simulator. What they show, the tests of the window and of the command line say. With
// -regen they are written (make try). Their beginnings are compared: other processors
// round otherwise, and that adds up.
func TestTryRecordings(t *testing.T) {
	for name, data := range triedOut(t) {
		path := filepath.Join("..", "..", "assets", "try", name)
		if *regen {
			packed := zipped(t, data)
			if err := os.WriteFile(path, packed, 0o644); err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d bytes", name, len(packed))
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
		if n := 400; len(held) < 3000 || !bytes.Equal(held[:n], data[:n]) {
			t.Errorf("%s is not what the simulator makes: run make try", name)
		}
	}
}
