//go:build e2e

package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
)

// atSizes are the sizes of the window in which every page is walked through: make
// walk goes through all that are promised.
var atSizes = flag.String("sizes", fmt.Sprintf("%dx%d", windowWidth, windowHeight), "sizes of the window, with commas between them")

// pageNames are the pages, in the order of their tabs.
var pageNames = []string{"Cycle", "Part", "Fuel ignition", "Signals", "Cause", "Gears", "Course", "Practice", "Lesson"}

// walk is a window to be walked through on a job that has something for every
// page.
type walk struct {
	*win
	homes homes
	path  string // of the job
}

// walked calls a test for each size of window.
func walked(t *testing.T, test func(t *testing.T, binary string, size image.Point)) {
	binary := build(t)
	for _, s := range strings.Split(*atSizes, ",") {
		var size image.Point
		if n, err := fmt.Sscanf(s, "%dx%d", &size.X, &size.Y); err != nil || n != 2 {
			t.Fatalf("-sizes: %q is no size such as 1280x800", s)
		}
		t.Run(s, func(t *testing.T) { test(t, binary, size) })
	}
}

func TestEveryPageByKeyboard(t *testing.T) {
	walked(t, func(t *testing.T, binary string, size image.Point) {
		path := copyOf(t, "pages.toml")
		homes := homesWith(t, fmt.Sprintf(`{"theme":"light","practice.kinds":["injection"],"job.last":%q}`, path))
		k := keys{walk{startAt(t, size, binary, homes), homes, path}}
		k.titleIs(savedTitle)
		k.timed("tour", k.tour)
		k.timed("window", k.window)
		k.timed("board", k.board)
		k.timed("pages", k.pages)
		k.timed("cycle", k.cycle)
		k.timed("part", k.part)
		k.timed("light", k.light)
		k.timed("signals", k.signals)
		k.timed("cause", k.cause)
		k.timed("gears", k.gears)
		k.timed("course", k.course)
		k.timed("practice", k.practice)
		k.timed("lesson", k.lesson)
		k.timed("paper", k.paper)
		k.timed("kept", k.kept)
	})
}

func TestEveryPageByMouse(t *testing.T) {
	walked(t, func(t *testing.T, binary string, size image.Point) {
		path := copyOf(t, "pages.toml")
		homes := homesWith(t, `{"theme":"light","tour.seen":true,"practice.kinds":["injection"]}`)
		m := mouse{walk{startAt(t, size, binary, homes, path), homes, path}}
		m.titleIs(savedTitle)
		m.timed("tour", m.tour)
		m.timed("window", m.window)
		m.timed("board", m.board)
		m.timed("cycle", m.cycle)
		m.timed("part", m.part)
		m.timed("light", m.light)
		m.timed("signals", m.signals)
		m.timed("cause", m.cause)
		m.timed("gears", m.gears)
		m.timed("course", m.course)
		m.timed("practice", m.practice)
		m.timed("lesson", m.lesson)
		m.timed("paper", m.paper)
		m.timed("kept", m.kept)
	})
}

// fileOf is a file beside the job.
func (w walk) fileOf(name string) string { return filepath.Join(filepath.Dir(w.path), name) }

// dirty and saved wait for the title to say that something is, or is not, to be
// saved.
func (w walk) dirty() { w.t.Helper(); w.titleIs(changedTitle) }
func (w walk) saved() { w.t.Helper(); w.titleIs(savedTitle) }

// theWholeWalk is what the saved job must have at the end of either walk.
func (w walk) theWholeWalk() {
	w.t.Helper()
	j := jobIn(w.t, w.path)
	if j.Engine.CompressionRatio.Value < 17.55 {
		w.t.Errorf("the file has a compression of %g, more was set", j.Engine.CompressionRatio.Value)
	}
	kinds := map[string]any{}
	for _, e := range j.Evidence {
		kinds[e.Kind] = e.Value
	}
	if kinds["starts"] != true {
		w.t.Errorf("the file has the evidence %+v, wanted that it starts", j.Evidence)
	}
	if _, ok := kinds["correlation_error_deg"]; !ok {
		w.t.Errorf("the file has the evidence %+v, wanted what the recording shows too", j.Evidence)
	}
	if text := read(w.t, w.path); !strings.HasPrefix(text, "# Something for every page") || !strings.Contains(text, "# bore gauge No. 2") {
		w.t.Errorf("comments are lost:\n%s", text)
	}
}

// jobIn reads a job file.
func jobIn(t testing.TB, path string) job.Job {
	t.Helper()
	doc, err := job.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return doc.Job()
}

// answered tells how many questions of the practice page were answered and how many
// of them rightly, by the score that is kept.
func (h homes) answered() (asked, right int) {
	data, err := os.ReadFile(h.own("practice.json"))
	if err != nil {
		return 0, 0
	}
	r, err := lesson.ReadRecord(data)
	if err != nil {
		return -1, -1
	}
	for _, s := range r.Kinds {
		asked += s.Asked
		right += s.Right
	}
	return asked, right
}

// own is a file in the program's own folder.
func (h homes) own(name string) string {
	dir, _ := strings.CutPrefix(h[1], "XDG_CONFIG_HOME=")
	return filepath.Join(dir, "fyne", "org.pinphase.desktop", name)
}

// keepsChoice waits until a choice is kept for the next start, which it is a moment
// after it was made.
func (w walk) keepsChoice(key string, want any) {
	w.t.Helper()
	w.until(fmt.Sprintf("%s to be kept as %v", key, want), func() bool {
		kept := map[string]any{}
		data, err := os.ReadFile(w.homes.own("choices.json"))
		return err == nil && json.Unmarshal(data, &kept) == nil && kept[key] != nil && (want == nil || kept[key] == want)
	})
}

// dark tells whether the corner of the page is.
func (w walk) dark() bool {
	img := w.part(image.Rect(w.size.X-40, w.size.Y-12, w.size.X-36, w.size.Y-8))
	if img == nil {
		return false
	}
	c := img.RGBAAt(img.Rect.Min.X, img.Rect.Min.Y)
	return int(c.R)+int(c.G)+int(c.B) < 200
}

// idlers are the idler gears in the saved job.
func (w walk) idlers(want ...int) {
	w.t.Helper()
	if g := jobIn(w.t, w.path).Gears; g == nil || !slices.Equal(g.IdlerTeeth, want) {
		w.t.Errorf("the file has the gears %+v, wanted idlers %v", g, want)
	}
}

// timed goes through a part of the walk and says how long it took.
func (w walk) timed(what string, part func()) {
	w.t.Helper()
	began := time.Now()
	part()
	w.t.Logf("%s: %.1f s", what, time.Since(began).Seconds())
}
