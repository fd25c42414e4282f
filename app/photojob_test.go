package app

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

// marked is a sample photograph with the clicks that go with it.
type marked struct {
	File   string       `json:"file"`
	True   float64      `json:"true_clockwise_deg"`
	Rim    [][2]float64 `json:"rim"`
	Keyway [][2]float64 `json:"keyway"`
	Dowel  [][2]float64 `json:"dowel"`
	Centre [][2]float64 `json:"centre"`
	Bolts  [][2]float64 `json:"bolts"`
}

const photoFolder = "../testdata/photos"

func marksOf(t testing.TB, name string) marked {
	t.Helper()
	var list []marked
	if err := json.Unmarshal([]byte(read(t, filepath.Join(photoFolder, "marks.json"))), &list); err != nil {
		t.Fatal(err)
	}
	for _, m := range list {
		if m.File == name {
			return m
		}
	}
	t.Fatalf("there are no marks for %s", name)
	return marked{}
}

// reading is the marks as they stand in a job.
func (m marked) reading() string {
	list := func(name string, points [][2]float64) string {
		if len(points) == 0 {
			return ""
		}
		var words []string
		for _, p := range points {
			words = append(words, fmt.Sprintf("[%g, %g]", p[0], p[1]))
		}
		return ", " + name + " = [" + strings.Join(words, ", ") + "]"
	}
	return `{ method = "photo", file = "` + m.File + `"` + list("rim", m.Rim) + list("keyway", m.Keyway) + list("dowel", m.Dowel) +
		list("centre", m.Centre) + list("bolts", m.Bolts) + " }"
}

func points(list [][2]float64) []job.Point {
	var out []job.Point
	for _, p := range list {
		out = append(out, job.Point{X: p[0], Y: p[1]})
	}
	return out
}

// photoJob is a job whose dowel is marked on a sample photograph; the picture's
// name is its full one.
func photoJob(t testing.TB, name string) string {
	m := marksOf(t, name)
	full, err := filepath.Abs(filepath.Join(photoFolder, name))
	if err != nil {
		t.Fatal(err)
	}
	m.File = filepath.ToSlash(full)
	return noReading + "measured = " + m.reading() + "\n"
}

// photoFile writes such a job and its picture into one folder of the test's own;
// the picture's name is relative.
func photoFile(t testing.TB, name string) string {
	folder := t.TempDir()
	copyFile(t, filepath.Join(photoFolder, name), filepath.Join(folder, name))
	path := filepath.Join(folder, "job.toml")
	if err := os.WriteFile(path, []byte(noReading+"measured = "+marksOf(t, name).reading()+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func copyFile(t testing.TB, from, to string) {
	t.Helper()
	if err := os.WriteFile(to, []byte(read(t, from)), 0o666); err != nil {
		t.Fatal(err)
	}
}

// onPhoto returns the window on the Part page with a sample photograph and its
// marks.
func onPhoto(t testing.TB, name string) *ui {
	u := window(t)
	u.InTurn = true
	u.openFile(photoFile(t, name))
	if u.Session.Path == "" {
		t.Fatalf("the job did not open: %q", said(u))
	}
	u.OpenPage("part", "")
	return u
}
