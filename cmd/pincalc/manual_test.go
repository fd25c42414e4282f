package main

import (
	"bytes"
	"flag"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	chapters "pinphase.org/pinphase/assets/manual"
	"pinphase.org/pinphase/assets/manual/manualtest"
)

var regen = flag.Bool("regen", false, "run the manual's commands again and draw its figures again, into assets/manual; look at every change")

// manualFolder is where the chapters and their pictures lie.
const manualFolder = "../../assets/manual"

// manualFigures are the pictures of the manual that are figures of a job, with the
// command line that draws each. Those of the window are drawn in package app.
var manualFigures = map[string]string{
	"pictures/cycle.png":   "draw demo --figure cycle --at 258 --width 165mm",
	"pictures/wheel.png":   "draw demo --figure wheel --width 110mm",
	"pictures/part.png":    "draw photographs.toml --figure part --width 120mm",
	"pictures/signals.png": "draw tern-before.toml --figure signals --recording tern-scope.csv.gz --width 165mm",
	"pictures/gears.png":   "draw demo --figure gears --width 130mm",
	"pictures/light.png":   "draw demo --figure light --width 165mm",
	"pictures/engine.png":  "draw demo --figure engine --width 165mm",
}

// tryHere makes the files to try the current folder's.
func tryHere(t *testing.T) {
	t.Helper()
	folder := t.TempDir()
	entries, err := assets.Try.ReadDir("try")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := assets.Try.ReadFile("try/" + e.Name())
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, e.Name()), data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(folder)
}

// ran carries a command line out and returns what it says.
func ran(t *testing.T, line string, code int) string {
	t.Helper()
	var out bytes.Buffer
	args := strings.Fields(line)
	if got := run(args, streams{in: strings.NewReader(""), out: &out, errOut: &out}); got != code {
		t.Errorf("pincalc %s: exit status %d, want %d: %s", line, got, code, out.String())
	}
	return out.String()
}

// TestManualCommands: every command line in the manual says what stands below it, in
// each language. A block that begins "```console 8" shows at most 8 lines of each answer
// and "…" for the rest; in one with "fails" the input is wrong. A block that begins
// "```toml NAME" is a file that the commands below it read.
func TestManualCommands(t *testing.T) {
	origin, err := filepath.Abs(manualFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, lang := range chapters.Languages {
		for _, c := range chapters.Chapters(lang) {
			t.Run(lang+"/"+c.File, func(t *testing.T) {
				tryHere(t)
				now := answered(t, c.Text)
				if now == c.Text {
					return
				}
				if *regen {
					if err := os.WriteFile(filepath.Join(origin, lang, c.File), []byte(now), 0o644); err != nil {
						t.Fatal(err)
					}
					return
				}
				a, b := strings.Split(c.Text, "\n"), strings.Split(now, "\n")
				for i := range min(len(a), len(b)) {
					if a[i] != b[i] {
						t.Fatalf("line %d is\n%s\nand pincalc says\n%s\nrun make manual and look at what changed", i+1, a[i], b[i])
					}
				}
				t.Fatalf("the chapter has %d lines, with what pincalc says %d: run make manual", len(a), len(b))
			})
		}
	}
}

var blockBegins = regexp.MustCompile("^```(console|toml)((?: [\\w.-]+)*)$")

// answered is a chapter in which every command has the answer that it gives now.
func answered(t *testing.T, chapter string) string {
	t.Helper()
	var b strings.Builder
	lines := strings.Split(chapter, "\n")
	for i := 0; i < len(lines); i++ {
		fmt.Fprintln(&b, lines[i])
		begins := blockBegins.FindStringSubmatch(lines[i])
		if begins == nil {
			continue
		}
		end := i + 1 + slices.Index(lines[i+1:], "```")
		block, words := lines[i+1:end], strings.Fields(begins[2])
		i = end
		if begins[1] == "toml" {
			if len(words) == 1 {
				if err := os.WriteFile(words[0], []byte(strings.Join(block, "\n")+"\n"), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			b.WriteString(strings.Join(append(block, "```"), "\n") + "\n")
			continue
		}
		most, code := 1000, exitDone
		for _, w := range words {
			if n, err := strconv.Atoi(w); err == nil {
				most = n
			} else if w == "fails" {
				code = exitInput
			} else {
				t.Errorf("```console %s: %q means nothing", begins[2], w)
			}
		}
		for _, line := range block {
			command, ok := strings.CutPrefix(line, "$ pincalc ")
			if !ok {
				continue // what it said when the chapter was made
			}
			fmt.Fprintln(&b, line)
			said := strings.TrimRight(ran(t, command, code), "\n")
			if said == "" {
				continue
			}
			answer := strings.Split(said, "\n")
			if len(answer) > most {
				answer = append(answer[:most:most], "…")
			}
			for _, a := range answer {
				fmt.Fprintln(&b, strings.TrimRight(a, " "))
			}
		}
		fmt.Fprintln(&b, "```")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// TestManualFigures: the pictures in the manual are what the figures look like now, in
// each language.
func TestManualFigures(t *testing.T) {
	origin, err := filepath.Abs(manualFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, lang := range chapters.Languages {
		t.Run(lang, func(t *testing.T) {
			tryHere(t)
			for name, line := range manualFigures {
				ran(t, line+" --dpi 150 -o now.png --lang "+lang, exitDone)
				drawn, err := os.Open("now.png")
				if err != nil {
					t.Fatal(err)
				}
				img, err := png.Decode(drawn)
				_ = drawn.Close()
				if err != nil {
					t.Fatal(err)
				}
				now, err := manualtest.Fewer(img)
				if err != nil {
					t.Fatal(err)
				}
				if *regen {
					path := filepath.Join(origin, lang, name)
					if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(path, now, 0o644); err != nil {
						t.Fatal(err)
					}
					continue
				}
				held, err := chapters.Picture(lang, name)
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				if n, err := manualtest.Differing(held, now); n > 20 || err != nil {
					t.Errorf("%s/%s is older than its figure: %d pixels differ; run make manual (%v)", lang, name, n, err)
				}
			}
		})
	}
}

// TestManualCommandTable: the chapter on the command line lists the commands that there
// are, and no others.
func TestManualCommandTable(t *testing.T) {
	row := regexp.MustCompile("(?m)^\\| `pincalc (\\w+)")
	var want []string
	root := newRoot(newShell(streams{}))
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() && c.Name() != "help" && c.Name() != "man" && c.Name() != "manual" {
			want = append(want, c.Name())
		}
	}
	slices.Sort(want)
	for _, lang := range chapters.Languages {
		var got []string
		for _, c := range chapters.Chapters(lang) {
			if c.File != "09-command-line.md" {
				continue
			}
			for _, m := range row.FindAllStringSubmatch(c.Text, -1) {
				got = append(got, m[1])
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the manual lists %v, pincalc has %v", lang, got, want)
		}
	}
}

// What the jobs to try come to: the new dowel of the photographs is drawn at 14 degrees
// on the other side (render.Try), the recordings are simulated with a wheel 28 degrees
// behind and a camshaft one tooth of 30, 12 degrees, ahead (trace/try_test.go).
func TestTry(t *testing.T) {
	tryHere(t)
	number := regexp.MustCompile(`"(\w+)": (-?[\d.]+)`)
	for _, c := range []struct {
		line, value, u string
		want           float64
	}{
		{"part photographs.toml --json", "measured_deg", "u_deg", -14},
		{"trace tern-before.toml tern-scope.csv.gz --json", "correlation_error_deg", "correlation_u_deg", -28},
		{"trace tern-before.toml tern-scope.csv.gz --json", "tdc_offset_deg", "tdc_offset_u_deg", -28},
		{"trace tern-before.toml tern-soundcard.wav.gz --json", "correlation_error_deg", "correlation_u_deg", -28},
		{"trace tern-before.toml tern-soundcard.wav.gz --json", "tdc_offset_deg", "tdc_offset_u_deg", -28},
		{"trace plover.toml plover-analyser.vcd.gz --json", "correlation_error_deg", "correlation_u_deg", -12},
		{"trace plover.toml plover-changes.csv.gz --json", "correlation_error_deg", "correlation_u_deg", -12},
	} {
		found := map[string]float64{}
		for _, m := range number.FindAllStringSubmatch(ran(t, c.line, exitDone), -1) {
			if _, ok := found[m[1]]; !ok {
				found[m[1]], _ = strconv.ParseFloat(m[2], 64)
			}
		}
		value, ok := found[c.value]
		u := found[c.u]
		if off := value - c.want; !ok || u <= 0 || u > 2 || off > 2*u || off < -2*u {
			t.Errorf("pincalc %s: %s is %g ± %g, want %g", c.line, c.value, value, u, c.want)
		}
	}
}
