//go:build e2e

// The whole program, as built for its users, on a display that nobody sees:
// scripts/with-xvfb go test -tags e2e ./cmd/pinphase

package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// TestMain builds the program once for all tests, into a folder that goes with
// them.
func TestMain(m *testing.M) {
	os.Exit(func() int {
		dir, err := os.MkdirTemp("", "pinphase-e2e-")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(dir)
		binaryPath = filepath.Join(dir, "pinphase")
		return m.Run()
	}())
}

var (
	binaryPath string
	buildOnce  sync.Once
	buildErr   error
)

// build builds the program, if no test has yet, and returns its path.
func build(t testing.TB) string {
	t.Helper()
	if os.Getenv("DISPLAY") == "" {
		t.Fatal("DISPLAY is not set: run this test through scripts/with-xvfb")
	}
	for _, tool := range []string{"xdotool", "xprop", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Fatalf("%v: make test installs it", err)
		}
	}
	buildOnce.Do(func() {
		buildErr = buildWith(binaryPath, "e2e")
	})
	if buildErr != nil {
		t.Fatal(buildErr)
	}
	return binaryPath
}

// buildWith builds the program with the tags that its users' has, which the Makefile
// says, and others.
func buildWith(path, tags string, flags ...string) error {
	makefile, err := os.ReadFile(filepath.Join("..", "..", "Makefile"))
	if err != nil {
		return err
	}
	its := regexp.MustCompile(`(?m)^WINDOW_TAGS = (.+)$`).FindSubmatch(makefile)
	if its == nil {
		return errors.New("the Makefile names no WINDOW_TAGS")
	}
	args := append([]string{"build", "-buildvcs=false", "-tags", string(its[1]) + "," + tags, "-o", path}, flags...)
	cmd := exec.Command("go", append(args, ".")...)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=1")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("building: %v\n%s", err, out)
	}
	return nil
}

// jobFile copies the sample job into a folder of the test's own.
func jobFile(t testing.TB) string { return copyOf(t, "launch.toml") }

func copyOf(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// dowelIn reads the measured dowel's angle out of a job file.
func dowelIn(t testing.TB, path string) float64 {
	t.Helper()
	doc, err := job.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := finding.PartOf(doc.Job())
	if err != nil {
		t.Fatal(err)
	}
	return *p.Dowel.MeasuredDeg
}

func TestWindow(t *testing.T) {
	binary, path := build(t), jobFile(t)
	homes := newHomes(t)
	first := dowelIn(t, path)

	w := open(t, binary, homes, path)
	w.titleIs("launch.toml – Pinphase")

	// The cursor follows the pointer, then keys, then runs by itself.
	x, y := w.cursor()
	w.drag(x+100, y, x+300, y)
	w.until("the cursor to be where it was dragged", func() bool { return near(w.cursorX(), x+300, 3) })
	w.key("shift+Left")
	w.until("the cursor to go back by ten degrees", func() bool { return w.cursorX() < x+297 })
	w.key("ctrl+Right", "ctrl+Right", "Home")
	w.until("the cursor to go home", func() bool { return near(w.cursorX(), x, 3) })
	w.key("space")
	w.until("the crank to run", func() bool { return w.cursorX() > x+8 })
	w.key("space")
	w.still()

	// The dowel's slider supposes; told so, it changes the job, and saving the file.
	knob, _ := w.knob()
	w.slides(60)
	w.titleIs("launch.toml – Pinphase")
	w.press(asMeasured)
	w.until("the slider to go back", func() bool { k, _ := w.knob(); return near(k, knob, 4) })
	w.slides(60)
	w.press(intoTheJob)
	w.titleIs("• launch.toml – Pinphase")
	w.key("ctrl+s")
	w.titleIs("launch.toml – Pinphase")
	saved := dowelIn(t, path)
	if saved < first+3 {
		t.Errorf("saved, the dowel is at %g, was at %g", saved, first)
	}
	if text := read(t, path); !strings.HasPrefix(text, "# The launch's new crankshaft") || !strings.Contains(text, "# bore gauge No. 2") {
		t.Errorf("comments are lost:\n%s", text)
	}

	// What was supposed is one step to undo.
	w.goes("what is supposed", button(asMeasured))
	knob, _ = w.knob()
	w.slides(-40)
	w.press(intoTheJob)
	w.titleIs("• launch.toml – Pinphase")
	w.key("ctrl+z")
	w.titleIs("launch.toml – Pinphase")
	w.until("the slider to go back", func() bool { k, _ := w.knob(); return near(k, knob, 4) })
	w.key("ctrl+y")
	w.titleIs("• launch.toml – Pinphase")

	// Quitting asks, and saves when told to.
	before := w.picture()
	w.key("ctrl+q")
	w.until("a question", func() bool { return w.differs(before) })
	w.key("Escape") // go on working
	w.until("the question to go", func() bool { return !w.differs(before) })
	w.key("ctrl+q")
	w.until("the question again", func() bool { return w.differs(before) })
	w.key("space") // on Save, which has the keyboard
	w.ended()
	if got := dowelIn(t, path); got > saved-2 {
		t.Errorf("saved at the end, the dowel is at %g, before at %g", got, saved)
	}

	// The next start opens the same job, in a window of the same size.
	w = open(t, binary, homes)
	w.titleIs("launch.toml – Pinphase")
	if w.opened.X != windowWidth || w.opened.Y != windowHeight {
		t.Errorf("the window opens at %v, was left at %d by %d", w.opened, windowWidth, windowHeight)
	}
	w.key("ctrl+q")
	w.ended()
}

// What stands beside what is supposed.
const asMeasured, intoTheJob = "As measured", "Enter it in the job"

// slides drags the dowel's slider so many pixels to the right.
func (w *win) slides(by int) {
	w.t.Helper()
	knob, level := w.knob()
	w.drag(knob, level, knob+by, level)
	w.until("the slider to be where it was dragged", func() bool { k, _ := w.knob(); return near(k, knob+by, 4) })
}

func TestKilledProgramGivesTheJobBack(t *testing.T) {
	binary, path := build(t), jobFile(t)
	homes := newHomes(t)
	first := dowelIn(t, path)

	w := open(t, binary, homes, path)
	knob, _ := w.knob()
	w.slides(60)
	w.press(intoTheJob)
	w.titleIs("• launch.toml – Pinphase")
	w.until("a copy of the job against a crash", func() bool {
		copies, _ := filepath.Glob(homes.own(filepath.Join("recovery", "*.json"))) // the pattern is sound
		return len(copies) == 1
	})
	w.kill()
	if got := dowelIn(t, path); got != first {
		t.Errorf("the file changed without saving: %g, was %g", got, first)
	}

	w = start(t, binary, homes)
	w.titleIs("launch.toml – Pinphase")
	w.sees("the offer", button("Restore"))
	w.step("closing the offer", w.hides(button("Restore")), func() { w.key("Escape") })
	w.key("ctrl+q")
	w.ended()

	w = start(t, binary, homes) // closing it threw nothing away
	w.titleIs("launch.toml – Pinphase")
	w.sees("the offer", button("Restore"))
	w.pushes("Restore")
	w.titleIs("• launch.toml – Pinphase")
	w.until("the slider to be where it was", func() bool { k, _ := w.knob(); return near(k, knob+60, 4) })
	w.key("ctrl+s")
	w.titleIs("launch.toml – Pinphase")
	if got := dowelIn(t, path); got < first+3 {
		t.Errorf("taken back and saved, the dowel is at %g, was at %g", got, first)
	}
	w.key("ctrl+q")
	w.ended()

	w = open(t, binary, homes) // there is nothing more to offer
	w.key("ctrl+q")
	w.ended()
}

func near(a, b, by int) bool { return math.Abs(float64(a-b)) <= float64(by) }

func read(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
