package sheet

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

var regen = flag.Bool("regen", false, "rewrite the golden files; look at every one that changes")

var someDay = time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)

// thin has nothing but an engine.
const thin = "[engine]\nstrokes = 4\nfiring_order = [2, 1, 3]\n"

// on is the input of a job whose photographs lie among the samples.
func on(t testing.TB, j job.Job) Input {
	t.Helper()
	const folder = "../../testdata/photos"
	angles, photos, err := finding.WithPhotos(j, folder, photo.InspectFile, 100)
	if err != nil {
		t.Fatal(err)
	}
	return Input{Job: j, Angles: angles, Photos: photos, Date: someDay, Picture: Pictures{Folder: folder, Load: picture.Reader{}.Load}.Read}
}

// golden compares text with a file in testdata and shows the first difference.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *regen {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("%s, line %d:\n got %.300s\nwant %.300s", name, i+1, g[i], w[i])
		}
	}
	if len(g) != len(w) {
		t.Fatalf("%s: %d lines, want %d", name, len(g), len(w))
	}
}
