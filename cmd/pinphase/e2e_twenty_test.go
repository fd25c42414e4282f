//go:build e2e

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/draw"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// larger is by how much each photograph of the job with many is larger than those that
// come with the program: as a telephone takes them, about ten megapixels.
const larger = 3

// photographed is the job that the program carries with old and new crankshaft on
// photographs.
func photographed(t *testing.T) job.Job {
	t.Helper()
	text, err := assets.Try.ReadFile("try/photographs.toml")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := job.Read("photographs.toml", text)
	if err != nil {
		t.Fatal(err)
	}
	return doc.Job()
}

// twentyParts writes a job with twenty parts, each with a photograph of its own.
func twentyParts(t *testing.T) (path string) {
	t.Helper()
	j, folder := photographed(t), t.TempDir()
	large := func(points []job.Point) (list []job.Point) {
		for _, p := range points {
			list = append(list, job.Point{X: larger * p.X, Y: larger * p.Y})
		}
		return list
	}
	pictures := map[string][]byte{}
	two := j.Parts
	j.Parts = nil
	for i := range 20 {
		p := two[min(i, 1)]
		if i > 1 {
			p.Use, p.What = "", "spare"
		}
		p.Name = fmt.Sprintf("Crankshaft %d", i+1)
		r := *p.Dowel
		from := r.File
		if pictures[from] == nil {
			pictures[from] = enlarged(t, from)
		}
		r.File = fmt.Sprintf("nose-%02d.jpg", i+1)
		r.Rim, r.Keyway, r.Dowel, r.Centre = large(r.Rim), large(r.Keyway), large(r.Dowel), large(r.Centre)
		if err := os.WriteFile(filepath.Join(folder, r.File), pictures[from], 0o600); err != nil {
			t.Fatal(err)
		}
		p.Dowel = &r
		j.Parts = append(j.Parts, p)
	}
	path = filepath.Join(folder, "twenty.toml")
	if err := os.WriteFile(path, job.New(j).Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// enlarged is one of the program's photographs with more pixels.
func enlarged(t *testing.T, name string) []byte {
	t.Helper()
	data, err := assets.Try.ReadFile("try/" + name)
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	to := image.NewRGBA(image.Rect(0, 0, larger*img.Bounds().Dx(), larger*img.Bounds().Dy()))
	draw.ApproxBiLinear.Scale(to, to.Rect, img, img.Bounds(), draw.Src, nil)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, to, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestTwentyParts: a job with twenty parts and a photograph of each is opened, looked
// through, edited and saved, and the window never stands still: the watchdog says when it
// does. How long each takes is told.
func TestTwentyParts(t *testing.T) {
	binary, path := build(t), twentyParts(t)
	began := time.Now()
	w := start(t, binary, newHomes(t), path)
	timed := func(what string) {
		t.Logf("%s after %.1f s", what, time.Since(began).Seconds())
		began = time.Now()
	}
	const title = "twenty.toml – Pinphase"
	w.titleIs(title)
	timed("opened")
	row := func(n int) finder { return the(beginning(fmt.Sprintf("Crankshaft %d: ", n))) }
	measured := func(n int) effect {
		return func() bool {
			r, ok := row(n)(w.look())
			return ok && strings.Contains(r.Says, "13.9° anticlockwise")
		}
	}
	w.step("going to the part", measured(20), func() { w.key("ctrl+2") })
	timed("every part measured")
	for _, n := range []int{20, 11} {
		w.step(fmt.Sprintf("choosing part %d", n), func() bool {
			_, there := photoView(w.look())
			_, is := chosen(row(n))(w.look())
			return there && is
		}, func() { w.click(fmt.Sprintf("part %d", n), row(n)) })
		timed(fmt.Sprintf("part %d with its photograph", n))
	}
	w.step("turning to its dowel", w.shows(chosen(the(beginning("Dowel: ")))), func() { w.click("the dowel's points", the(beginning("Dowel: "))) })
	w.step("removing all points", w.titled("• "+title), func() { w.press("Remove all points") })
	timed("edited")
	w.step("taking it back", w.shows(button("Rim of the face: 10")), func() { w.key("ctrl+z") })
	timed("undone")
	w.step("showing what a part is", w.shows(button("Remove this part")), func() { w.press("Name, use and day…") })
	w.step("removing a part", w.titled("• "+title), func() { w.press("Remove this part") })
	timed("a part removed")
	w.step("saving", w.titled(title), func() { w.key("ctrl+s") })
	timed("saved")
	if n := len(jobIn(t, path).Parts); n != 19 {
		t.Errorf("the file has %d parts, want 19", n)
	}
}
