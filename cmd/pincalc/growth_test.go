package main

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const (
	// Below this, growth is lost among everything else.
	tooShort = 150 * time.Millisecond
	// How often a measurement is tried before it is believed.
	tries = 5
)

// growing are commands that set or draw a job's texts.
var growing = [][]string{
	{"check", "F/j.toml"}, {"shift", "F/j.toml", "--json"}, {"part", "F/j.toml"}, {"cause", "F/j.toml"},
	{"draw", "F/j.toml", "--figure", "cycle", "-o", "F/o.svg"}, {"draw", "F/j.toml", "--figure", "wheel", "-o", "F/o.pdf"},
	{"draw", "F/j.toml", "--figure", "part", "-o", "F/o.png"}, {"draw", "F/j.toml", "--figure", "light", "-o", "F/o.svg"},
	{"draw", "F/j.toml", "--figure", "gears", "-o", "F/o.svg"}, {"draw", "F/j.toml", "--figure", "signals", "-o", "F/o.svg"},
	{"sheet", "F/j.toml", "-o", "F/o.pdf"}, {"sheet", "F/j.toml", "-o", "F/o.html"}, {"sheet", "F/j.toml", "-o", "F/o.pdf", "--claim"},
	{"exercise", "F/j.toml", "-o", "F/o.pdf", "--seed", "1", "--count", "1"}, {"tape", "F/j.toml", "-o", "F/o.pdf", "--diameter-mm", "100"},
}

// taken is how long the processor works on a command with a job whose hole is
// filled.
func taken(t *testing.T, args []string, job, text string) time.Duration {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "j.toml"), []byte(strings.Replace(job, hole, text, 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	args = slices.Clone(args)
	for i, a := range args {
		if strings.HasPrefix(a, "F/") {
			args[i] = filepath.Join(folder, a[2:])
		}
	}
	var out, errOut bytes.Buffer
	start := worked()
	run(args, streams{out: &out, errOut: &errOut})
	return worked() - start
}

// grows holds a command to time in proportion to a text of the job: with twice the
// text no more than three times as long, and below a limit, if there is one.
func grows(t *testing.T, name string, args []string, job, unit string, length int, limit time.Duration) {
	filled := func(n int) string { return strings.Repeat(unit, n/len([]rune(unit))) }
	var once, twice time.Duration
	for range tries {
		none := taken(t, args, job, "x")
		twice = taken(t, args, job, filled(length)) - none
		if twice < tooShort {
			return
		}
		if once = taken(t, args, job, filled(length/2)) - none; twice < limit && twice < 3*once {
			return
		}
	}
	t.Errorf("%s of %d %q, %q: %v, half of it: %v", name, length, unit, args, twice, once)
}

// A word without an end as title or notes, through every command that shows them.
func TestALongWordTakesNoTime(t *testing.T) {
	jobs := jobTexts()
	for _, name := range []string{"title", "notes"} {
		for _, args := range growing {
			grows(t, name, args, jobs[name], "W", 200_000, time.Second)
		}
	}
}

// Many words, letters beyond those that are measured beforehand, letters without
// width, what HTML writes as something longer, and lines; and every other text of a
// job, whether the job is sound with it or not.
func TestTimeGrowsWithTheText(t *testing.T) {
	const none = time.Hour
	jobs := jobTexts()
	paper := [][]string{{"sheet", "F/j.toml", "-o", "F/o.pdf"}, {"sheet", "F/j.toml", "-o", "F/o.html"}}
	for _, unit := range []string{"ab ", "漢", "e\u0301", "&", "\\n"} {
		for _, name := range []string{"title", "notes"} {
			for _, args := range paper {
				grows(t, name, args, jobs[name], unit, 100_000, none)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(jobs)) {
		for _, args := range [][]string{{"check", "F/j.toml"}, {"cause", "F/j.toml"}, paper[0]} {
			grows(t, name, args, jobs[name], "W", 100_000, none)
		}
	}
}
