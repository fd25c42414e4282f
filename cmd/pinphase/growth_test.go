//go:build e2e && monkey

package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

var (
	growthWarm   = flag.Int("warm", 10, "how often a thing is done before memory is measured")
	growthRounds = flag.String("rounds", "10,20", "after how many more times memory is measured again")
	growthKeep   = flag.String("keep", "", "a folder to keep the heap's profiles in")
)

// held is what the program holds on to after a collection.
type held struct{ Bytes, Objects, Goroutines int }

func (h held) String() string {
	return fmt.Sprintf("%.1f MiB in %d objects, %d goroutines", h.mib(), h.Objects, h.Goroutines)
}

func (h held) mib() float64 { return float64(h.Bytes) / (1 << 20) }

// buildTelling builds the program so that it tells what it holds (heap.go).
func buildTelling(t *testing.T, race bool) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "pinphase")
	flags := []string{fmt.Sprintf("-race=%t", race)}
	if race {
		for _, packages := range letters {
			flags = append(flags, "-gcflags="+packages+"=-race=false")
		}
	}
	if err := buildWith(binary, "heap,e2e", flags...); err != nil {
		t.Fatal(err)
	}
	return binary
}

// letters are the packages that shape letters and fill them in. They share nothing
// between goroutines, and a page's text takes 8 times as long with the race detector in
// them and 1.8 times without (60 lines of text, painted by the toolkit's software
// painter): with it a window would stand still for being watched.
var letters = []string{"golang.org/x/image/...", "github.com/go-text/...", "image/..."}

// teller asks a program again and again what it holds.
type teller struct {
	folder string
	asked  int
}

// newTeller prepares for a program that is started after it.
func newTeller(t *testing.T, folder string) *teller {
	t.Helper()
	if err := os.MkdirAll(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PINPHASE_HEAP", folder)
	return &teller{folder: folder}
}

func (h *teller) ask(w *win) (held, error) {
	h.asked++
	if err := w.cmd.Process.Signal(syscall.SIGUSR1); err != nil {
		return held{}, err
	}
	var now held
	for deadline := time.Now().Add(patience); ; time.Sleep(50 * time.Millisecond) {
		sums, err := os.ReadFile(filepath.Join(h.folder, fmt.Sprintf("%d.json", h.asked)))
		if err == nil {
			return now, json.Unmarshal(sums, &now)
		}
		if time.Now().After(deadline) {
			return now, fmt.Errorf("it does not tell what it holds: %w", err)
		}
	}
}

// expire is how long the toolkit keeps what is not shown any more: for these tests
// less than its minute.
const expire = 2 * time.Second

// forgetting lets the program forget what the toolkit forgets with time: it does so
// when it paints, ten seconds apart at the least.
func (w *win) forgetting() {
	time.Sleep(expire + 9*time.Second)
	exec.Command("xdotool", "key", "ctrl+period", "ctrl+comma").Run() // the crank there and back; the window may have gone
	time.Sleep(300 * time.Millisecond)
}

// atRest asks a program what it holds until that goes down no more.
func (h *teller) atRest(w *win) (held, error) {
	const most, less = 8, 0.3 // times, MiB
	last, err := h.ask(w)
	for range most {
		w.forgetting()
		var now held
		if now, err = h.ask(w); err != nil || now.mib() > last.mib()-less {
			return now, err
		}
		last = now
	}
	return last, err
}

// growths are things done again and again in the real window, there and back. Where
// there is no way back, doing it again is the same thing again.
var growths = []struct {
	name        string
	there, back func(g *growth)
}{
	{"text sizes", func(g *growth) { g.keys("ctrl+equal") }, func(g *growth) { g.keys("ctrl+minus") }},
	{"themes", func(g *growth) { g.setting(5, 3) }, func(g *growth) { g.setting(5, 2) }},
	{"languages", func(g *growth) { g.setting(1, 3) }, func(g *growth) { g.setting(1, 2) }},
	{"pages", func(g *growth) { g.keys("ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+7") }, func(g *growth) { g.keys("ctrl+1") }},
	{"settings", opened("ctrl+t"), closed}, {"help", opened("F1"), closed}, {"figures saved", opened("ctrl+e"), closed}, {"library", opened("ctrl+l"), closed},
	{"files", opened("ctrl+o"), closed}, {"sheets", opened("ctrl+p"), closed},
	{"boards", func(g *growth) {
		g.keys("F5")
		g.w.other(boardTitle)
		g.keys("Right", "Right", "Right")
	}, func(g *growth) {
		g.keys("Escape")
		g.w.gone(boardTitle)
		g.w.xdo("windowactivate", g.w.id)
		time.Sleep(300 * time.Millisecond)
	}},
	{"jobs", dropped(func(g *growth) string { return g.other }), dropped(func(g *growth) string { return g.job })},
	{"recordings", dropped(func(g *growth) string { return g.recording }), nil},
	{"photographs", dropped(func(g *growth) string { return g.photograph }), nil},
	{"edits", behindTheKnob, func(g *growth) { g.keys("ctrl+z") }},
	{"sizes of the window", func(g *growth) { g.size(1024, 640) }, func(g *growth) { g.size(windowWidth, windowHeight) }},
}

// behindTheKnob puts the dowel far ahead.
func behindTheKnob(g *growth) {
	slider := g.w.inSight("the dowel's slider", fieldOf("Dowel at")).Place
	g.w.clickAt(image.Pt(slider.Min.X+slider.Dx()*3/4, centre(slider).Y))
}

// opened is something opened by keys, closed how it is closed.
func opened(keys ...string) func(*growth) { return func(g *growth) { g.keys(keys...) } }

func closed(g *growth) { g.keys("Escape") }

// dropped is a file dropped on the window.
func dropped(file func(*growth) string) func(*growth) {
	return func(g *growth) {
		g.w.drop(640, 400, file(g))
		time.Sleep(time.Second)
	}
}

// growth is one of them under way.
type growth struct {
	w                                 *win
	n                                 int // how often it was done
	job, other, recording, photograph string
}

// size gives the window a size.
func (g *growth) size(width, height int) {
	g.w.xdo("windowsize", g.w.id, strconv.Itoa(width), strconv.Itoa(height))
	time.Sleep(300 * time.Millisecond)
}

func (g *growth) keys(names ...string) {
	for _, n := range names {
		g.w.xdo("key", "--clearmodifiers", n)
		time.Sleep(150 * time.Millisecond)
	}
}

// catchUp waits until the window has done all that it was told so far.
func (g *growth) catchUp() {
	g.w.t.Helper()
	for _, name := range []string{"Practice", "Cycle"} {
		g.keys(fmt.Sprintf("ctrl+%d", slices.Index(pageNames, name)+1))
		g.w.page(name)
	}
}

// setting chooses from a list of the settings, the n-th from the top, one way after
// the other, by their places in it from 1.
func (g *growth) setting(n int, ways ...int) {
	g.keys("ctrl+t")
	for range n {
		g.keys("Tab")
	}
	for _, way := range ways {
		g.keys("Down") // opens the list
		for range way {
			g.keys("Down")
		}
		g.keys("Return")
		time.Sleep(500 * time.Millisecond)
	}
	g.keys("Escape")
}

// Whatever is done in the window, doing it again takes no more memory for good.
func TestNothingGrows(t *testing.T) {
	t.Setenv("FYNE_CACHE", expire.String())
	binary := buildTelling(t, false)
	for _, row := range growths {
		t.Run(row.name, func(t *testing.T) {
			folder := *growthKeep
			if folder == "" {
				folder = t.TempDir()
			}
			tell := newTeller(t, filepath.Join(folder, strings.ReplaceAll(row.name, " ", "-")))
			path := copyOf(t, "pages.toml")
			g := &growth{job: path, other: jobFile(t), recording: recordingFile(t), photograph: testFile(t, "photos/nose-square.jpg")}
			g.w = open(t, binary, newHomes(t), path)
			do := func(times int) held {
				for range times {
					if g.n == 0 { // that it does anything is seen the first time
						g.w.does(row.name, 500, func() { row.there(g) })
					} else {
						row.there(g)
					}
					if row.back != nil {
						row.back(g)
					}
					if g.n++; g.n%5 == 0 {
						g.catchUp()
					}
				}
				g.w.forgetting()
				now, err := tell.atRest(g.w)
				if err != nil {
					t.Fatalf("%v\n%s", err, g.w.log)
				}
				t.Logf("after %3d times %v, resident %s", g.n, now, g.w.memory())
				return now
			}
			first := do(*growthWarm)
			var times []int
			for _, s := range strings.Split(*growthRounds, ",") {
				n, err := strconv.Atoi(s)
				if err != nil {
					t.Fatal(err)
				}
				times = append(times, n)
			}
			for _, n := range times {
				now := do(n)
				if grown := now.mib() - first.mib(); grown > 3 {
					t.Errorf("%.1f MiB more than after %d times", grown, *growthWarm)
				}
			}
		})
	}
}

// does does something and waits until that changes at least so many pixels of the
// window.
func (w *win) does(what string, least int, do func()) {
	w.t.Helper()
	before := w.picture()
	do()
	w.until(what, func() bool { now := w.picture(); return now != nil && changed(before, now) >= least })
}
