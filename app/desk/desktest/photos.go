package desktest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// Marked is a sample photograph with the clicks that go with it.
type Marked struct {
	File   string       `json:"file"`
	True   float64      `json:"true_clockwise_deg"`
	Rim    [][2]float64 `json:"rim"`
	Keyway [][2]float64 `json:"keyway"`
	Dowel  [][2]float64 `json:"dowel"`
	Centre [][2]float64 `json:"centre"`
	Bolts  [][2]float64 `json:"bolts"`
}

// PhotoFolder is where the sample photographs are.
var PhotoFolder = filepath.Join(top(), "testdata", "photos")

// top is the project's folder.
func top() string {
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if filepath.Dir(dir) == dir {
			break
		}
		dir = filepath.Dir(dir)
	}
	return "."
}

// MarksOf are the marks on a sample photograph.
func MarksOf(t testing.TB, name string) Marked {
	t.Helper()
	var list []Marked
	if err := json.Unmarshal([]byte(Read(t, filepath.Join(PhotoFolder, "marks.json"))), &list); err != nil {
		t.Fatal(err)
	}
	for _, m := range list {
		if m.File == name {
			return m
		}
	}
	t.Fatalf("there are no marks for %s", name)
	return Marked{}
}

// Reading is the marks as they stand in a job.
func (m Marked) Reading() string {
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

// Points are points of a job.
func Points(list [][2]float64) []job.Point {
	var out []job.Point
	for _, p := range list {
		out = append(out, job.Point{X: p[0], Y: p[1]})
	}
	return out
}

// PhotoJob is a job whose dowel is Marked on a sample photograph; the picture's
// name is its full one.
func PhotoJob(t testing.TB, name string) string {
	m := MarksOf(t, name)
	full, err := filepath.Abs(filepath.Join(PhotoFolder, name))
	if err != nil {
		t.Fatal(err)
	}
	m.File = filepath.ToSlash(full)
	return NoReading + "measured = " + m.Reading() + "\n"
}

// PhotoFile writes such a job and its picture into one folder of the test's own;
// the picture's name is relative.
func PhotoFile(t testing.TB, name string) string {
	folder := t.TempDir()
	CopyFile(t, filepath.Join(PhotoFolder, name), filepath.Join(folder, name))
	path := filepath.Join(folder, "job.toml")
	if err := os.WriteFile(path, []byte(NoReading+"measured = "+MarksOf(t, name).Reading()+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// CopyFile copies a file.
func CopyFile(t testing.TB, from, to string) {
	t.Helper()
	if err := os.WriteFile(to, []byte(Read(t, from)), 0o666); err != nil {
		t.Fatal(err)
	}
}

// NoReading is a job whose dowel has a drawing and was not measured.
const NoReading = `format = 1
title = "Bench"

[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
rotation = "clockwise"
bore_mm = 102.0
stroke_mm = 118.0
rod_mm = 192.0

[injection]
start_btdc_deg = 9.0

[dowel]
seen_from = "nose"
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
`

// ByMethod are the ways in which the demo's dowel may have been measured, all of
// them 14 degrees behind the keyway.
var ByMethod = map[string]string{
	"angle":  `{ angle_deg = 14.0, side = "anticlockwise" }`,
	"chord":  `{ method = "chord", chord_mm = 16.18, dowel_radius_mm = 41.0, keyway_radius_mm = 27.0, side = "anticlockwise" }`,
	"arc":    `{ method = "arc", arc_mm = 10.018, rim_radius_mm = 41.0, side = "anticlockwise" }`,
	"xy":     `{ method = "xy", centre = [100, 50], keyway = [127, 50], dowel = [139.782, 59.919] }`,
	"behind": `{ angle_deg = 14.0, side = "clockwise", seen_from = "flywheel" }`,
}

// MeasuredBy returns the demo job with its dowel measured otherwise.
func MeasuredBy(reading string) string {
	var out []string
	section := ""
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if strings.HasPrefix(line, "[") {
			section = strings.Fields(line)[0]
		}
		if section == "[dowel]" && strings.HasPrefix(line, "measured") {
			line = "measured = " + reading
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}
