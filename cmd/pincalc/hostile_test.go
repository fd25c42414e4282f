package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/pflag"
	"pgregory.net/rapid"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/console"
)

// What a terminal obeys: escape sequences that set its title, clear it, or ask it to
// answer (ECMA-48, and its C1 forms, as characters and as raw bytes), what turns a line round
// (UAX #9), what has no width, and what makes one line two.
var orders = []string{
	"\x1b]0;title\a", "\x1b[2J", "\x1b[6n", "\x1bP", "\u009b31m", "\u009d0;t\u009c", "\x9b31m", "\xc2", "\xe2\x80", "\r", "\b", "\a", "\x7f", "\x00",
	"\u202e", "\u202a", "\u2066", "\u2069", "\u200f", "\u061c", "\u200b", "\u200d", "\ufeff", "\u2028", "\u2029", "\u0085", "\U000e0041", "\n", "\t", "\v",
}

// obeyed tells whether a terminal may take a character for an order; line feeds and
// tabs are the program's own, see lineCount.
func obeyed(r rune) bool {
	return r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp))
}

// hostile is what a command line is carried out with: the hole $ in an argument, a
// name or a file is filled with a text.
type hostile struct {
	args  []string
	files map[string]string // by name; what fills a hole in TOML is escaped as TOML is
	stdin string            // the name of the file that goes there
}

const hole = "$"

// carriedOut returns what a command line says with its holes filled, and its
// arguments as they may begin a line.
func (h hostile) carriedOut(t rapid.TB, folder, text string) (out, errOut string, filled []string) {
	inName := strings.NewReplacer("/", "", "\x00", "").Replace(text)
	if inName == "" {
		inName = "x"
	}
	var stdin io.Reader = strings.NewReader("")
	for name, data := range h.files {
		fill := text
		if strings.Contains(name, ".toml") {
			fill = tomlText(text)
		} else if strings.Contains(name, ".csv") {
			fill = strings.NewReplacer("\n", "", "\r", "", `"`, "", "\x00", "").Replace(text)
		}
		data = strings.ReplaceAll(data, hole, fill)
		if name == h.stdin {
			stdin = strings.NewReader(data)
		}
		path := filepath.Join(folder, strings.ReplaceAll(name, hole, inName))
		if err := os.WriteFile(path, []byte(data), 0o666); err != nil {
			t.Skip(err) // a name this system does not take
		}
	}
	args := make([]string, len(h.args))
	for i, a := range h.args {
		fill := text
		if strings.HasPrefix(a, "F/") {
			a, fill = filepath.Join(folder, a[2:]), inName
		}
		args[i] = strings.ReplaceAll(a, hole, strings.ReplaceAll(fill, "\x00", ""))
	}
	var o, e bytes.Buffer
	run(args, streams{in: stdin, out: &o, errOut: &e})
	hide := func(b bytes.Buffer) string { return strings.ReplaceAll(b.String(), folder, "FOLDER") }
	for _, a := range args {
		filled = append(filled, strings.ReplaceAll(console.Line(a), folder, "FOLDER")+":")
	}
	return hide(o), hide(e), filled
}

// tomlText writes a text as the inside of a basic string of TOML, with every
// character as its code where it could not stand otherwise. Bytes that are no UTF-8
// stay as they are: they make the file a faulty one.
func tomlText(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			b.WriteString(text[i : i+1])
		case r == '"' || r == '\\' || r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return b.String()
}

// checked are the lines of an output; nothing in it may give orders.
func checked(t rapid.TB, h hostile, text, what, s string) int {
	if !utf8.ValidString(s) {
		t.Fatalf("%q with %q: %s is no UTF-8: %q", h.args, text, what, s)
	}
	if i := strings.IndexFunc(s, obeyed); i >= 0 {
		t.Fatalf("%q with %q: %s: %q", h.args, text, what, s[max(0, i-60):min(len(s), i+60)])
	}
	return strings.Count(s, "\n")
}

func hold(t rapid.TB, h hostile, folder func() string, text string) {
	out, errOut, filled := h.carriedOut(t, folder(), text)
	plainOut, _, _ := h.carriedOut(t, folder(), "x")
	lines, plain := checked(t, h, text, "standard output", out), strings.Count(plainOut, "\n")
	checked(t, h, text, "standard error", errOut)
	// No text makes a line of its own.
	if out != "" && plainOut != "" && lines != plain && !slices.Contains(h.args, "--json") {
		t.Fatalf("%q with %q: %d lines of output, not %d:\n%s", h.args, text, lines, plain, out)
	}
	for line := range strings.Lines(errOut) {
		known := func(begin string) bool { return strings.HasPrefix(line, begin) }
		if !slices.ContainsFunc(append(filled, "pincalc: ", inputName+":", "exercise ", "answers in "), known) {
			t.Fatalf("%q with %q: a line of standard error is %q", h.args, text, line)
		}
	}
}

// every command with what it needs, for a job.
func everyCommand(jobName string) [][]string {
	return [][]string{
		{"check", jobName}, {"check", jobName, "--json"}, {"phase", jobName}, {"phase", jobName, "--json"},
		{"shift", jobName}, {"shift", jobName, "--json", "--lang", "de"}, {"part", jobName}, {"part", jobName, "--json"},
		{"light", jobName, "--draws", "0"}, {"light", jobName, "--json", "--draws", "0"}, {"gears", jobName}, {"gears", jobName, "--json"},
		{"cause", jobName}, {"cause", jobName, "--json", "--lang", "es"}, {"signal", jobName}, {"trace", jobName, "F/r.csv"}, {"trace", jobName, "F/r.csv", "--json"},
		{"draw", jobName, "--figure", "cycle", "-o", "F/c.svg"}, {"sheet", jobName, "-o", "F/s.html"}, {"sheet", jobName, "-o", "F/s.pdf", "--claim"},
		{"exercise", jobName, "-o", "F/e.html", "--seed", "1", "--count", "1"}, {"tape", jobName, "-o", "F/t.pdf", "--diameter-mm", "100"},
		{"degreewheel", jobName, "-o", "F/w.pdf", "--diameter-mm", "100"},
	}
}

// jobTexts are jobs with a hole in each text that a job has, and in names where none
// is known.
func jobTexts() map[string]string {
	demo := string(assets.DemoJob)
	in := func(old, new string) string {
		if !strings.Contains(demo, old) {
			panic("the demo job has no " + old)
		}
		return strings.Replace(demo, old, new, 1)
	}
	list := map[string]string{
		"title":         in(`title = "`, `title = "$`),
		"notes":         in(`notes = "`, `notes = "$`),
		"rotation":      in(`rotation = "`, `rotation = "$`),
		"sensor":        in(`sensor = "`, `sensor = "$`),
		"seen_from":     in(`seen_from = "`, `seen_from = "$`),
		"side":          in(`side = "`, `side = "$`),
		"method":        in(`method = "`, `method = "$`),
		"over":          in(`method = "chord"`, `method = "chord", over = "$"`),
		"on":            in(`method = "chord"`, `method = "chord", on = "$"`),
		"file":          in(`measured = { method = "angle", angle_deg = 90.0, side = "clockwise", u_deg = 0.25 }`, `measured = { method = "photo", file = "$.png", rim = [[0, 0], [1, 0], [2, 1], [1, 2], [0, 1]], keyway = [[0, 0], [1, 0]], throw = [[1, 2]] }`),
		"pump":          in("cam_teeth_out = 0", "cam_teeth_out = 0\npump_teeth = 30\npump_driven_by = \"$\""),
		"evidence":      demo + "\n[[evidence]]\nkind = \"$\"\nvalue = true\n",
		"evidence text": demo + "\n[[evidence]]\nkind = \"smoke\"\nvalue = \"$\"\n",
		"evidence code": demo + "\n[[evidence]]\nkind = \"fault_code\"\nvalue = \"$\"\n",
		"number":        in("bore_mm = 108.0", `bore_mm = "$"`),
		"key":           in("bore_mm = 108.0", `"$" = 1`),
		"section":       demo + "\n[\"$\"]\na = 1\n",
		"sections":      demo + "\n[engine.\"$\".\"$\"]\na = 1\n",
		"dotted":        demo + "\n[gears.\"$\"]\n",
		"bare":          in("bore_mm = 108.0", "bore_mm = $"),
		"nonsense":      in("bore_mm = 108.0", "$"),
	}
	return list
}

const fewRows = "time,$crank,$cam\ns,$V,$V\n0.0,0,5\n0.1,$,5\n0.2,0,5\n0.3,$,5\n0.4,0,5\n0.5,0,5\n0.6,1,5\n0.7,2,5\n0.8,0,5\n0.9,0,5\n1.0,3,5\n1.1,0,4\n1.2,0,0\n1.3,0,5\n1.4,0,5\n"

// moving is a recording whose analysis succeeds or names its channels.
func moving(t *testing.T) string {
	var o, e bytes.Buffer
	if run([]string{"signal", "demo", "-o", "-", "--format", "csv", "--cycles", "4", "--rate", "5000"}, streams{out: &o, errOut: &e}) != 0 {
		t.Fatal(e.String())
	}
	return strings.Replace(o.String(), "crank_V,cam_V", "$crank,$cam", 1)
}

// orderly is a text with some orders in it.
func orderly(t *rapid.T) string {
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(append([]string{"a", "ü", " ", "°"}, orders...)), 1, 6).Draw(t, "text"), "")
}

// inFolders makes folders to work in, a few by turns; what is written without one stays
// beside them.
func inFolders(t *testing.T) func() string {
	n, root := 0, t.TempDir()
	t.Chdir(root)
	return func() string {
		n++
		dir := filepath.Join(root, fmt.Sprint(n%4))
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		return dir
	}
}

// asOne are the orders in one text; those that are no UTF-8 only where a file may
// hold them.
func asOne(raw bool) string {
	var b strings.Builder
	for _, o := range orders {
		if raw || utf8.ValidString(o) {
			b.WriteString("a" + o)
		}
	}
	return b.String()
}

// No text of a job gives a terminal orders, through any command.
func TestNoTextOfAJobGivesOrders(t *testing.T) {
	folder, jobs := inFolders(t), jobTexts()
	files := func(name string) map[string]string {
		return map[string]string{"j.toml": jobs[name], "r.csv": fewRows}
	}
	for _, name := range slices.Sorted(maps.Keys(jobs)) {
		for _, args := range everyCommand("F/j.toml") {
			hold(t, hostile{args, files(name), ""}, folder, asOne(false))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(slices.Sorted(maps.Keys(jobs))).Draw(t, "key")
		args := slices.Clone(rapid.SampledFrom(everyCommand("F/j.toml")).Draw(t, "command"))
		h := hostile{args, files(name), ""}
		if rapid.Bool().Draw(t, "from standard input") {
			args[1], h.stdin = standard, "j.toml"
		}
		hold(t, h, folder, orderly(t))
	})
}

// Nor does the header of a recording, nor what stands in its rows.
func TestNoTextOfARecordingGivesOrders(t *testing.T) {
	folder, whole := inFolders(t), moving(t)
	commands := [][]string{
		{"trace", "demo", "F/r.csv"}, {"trace", "demo", "F/r.csv", "--json"}, {"trace", "demo", "F/r.csv", "--crank", "none", "--lang", "de"},
		{"trace", "demo", "F/r.csv", "--cam", "1"}, {"draw", "demo", "--figure", "signals", "--recording", "F/r.csv", "-o", "F/c.svg"}, {"trace", "F/r.csv", "F/r.csv"},
	}
	for _, data := range []string{fewRows, whole, "$\n$\n", "# $\n" + fewRows, "$"} {
		for _, args := range commands {
			hold(t, hostile{args, map[string]string{"r.csv": data}, ""}, folder, asOne(true))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		args := rapid.SampledFrom(commands).Draw(t, "command")
		hold(t, hostile{args, map[string]string{"r.csv": rapid.SampledFrom([]string{fewRows, "$", "# $\n" + fewRows}).Draw(t, "rows")}, ""}, folder, orderly(t))
	})
}

// Nor does the name of a file that is there or is not, is read or written.
func TestNoNameOfAFileGivesOrders(t *testing.T) {
	folder, demo := inFolders(t), string(assets.DemoJob)
	var list [][]string
	for _, name := range []string{"F/$.toml", "F/$", "$"} {
		list = append(list, everyCommand(name)...)
		list = append(list, []string{"check", name, name}, []string{"trace", "demo", name}, []string{"trace", name, name},
			[]string{"draw", "demo", "--figure", "signals", "--recording", name, "-o", "F/c.svg"})
		for _, end := range []string{".svg", ".pdf", ".html", ".csv", ""} {
			list = append(list, []string{"draw", "demo", "--figure", "cycle", "-o", name + end}, []string{"signal", "demo", "-o", "F/no/" + name + end},
				[]string{"sheet", "demo", "-o", name + "/" + end}, []string{"exercise", "demo", "-o", name + end, "--answers", name + "-" + end, "--count", "1", "--seed", "2"},
				[]string{"exercise", "demo", "-o", "F/$" + end, "--answers", "F/$ 2" + end, "--count", "1", "--seed", "2", "--json"})
		}
	}
	files := func(args []string) map[string]string {
		files := map[string]string{"$.toml": demo, "r.csv": fewRows}
		if args[0] == "check" {
			files["$.toml"] += "\nbad\n"
		}
		return files
	}
	t.Chdir(folder())
	for _, args := range list {
		hold(t, hostile{args, files(args), ""}, folder, asOne(true))
	}
}

// Nor does anything else that stands on a command line: every option's value, and
// names of commands and options that there are not.
func TestNoOptionGivesOrders(t *testing.T) {
	folder := inFolders(t)
	var list [][]string
	for _, c := range newRoot(newShell(streams{})).Commands() {
		list = append(list, []string{c.Name(), "$", "$", "$"}, []string{c.Name(), "demo", "--$"}, []string{c.Name(), "demo", "--$=1"}, []string{c.Name(), "demo", "-$"},
			[]string{c.Name() + "$"}, []string{"help", c.Name(), "$"})
		c.Flags().VisitAll(func(f *pflag.Flag) {
			list = append(list, []string{c.Name(), "demo", "--" + f.Name + "=$"}, []string{c.Name(), "demo", "--" + f.Name, "$"}, []string{c.Name(), "demo", "--" + f.Name + "$=1"},
				[]string{"--" + f.Name + "=$", c.Name(), "demo"})
		})
	}
	list = append(list, []string{"$"}, []string{"--$"}, []string{"-$"}, []string{"help", "$"}, []string{"completion", "$"}, []string{"--lang", "$", "shift", "demo"},
		[]string{"light", "demo", "--sweep", "$=1:2:1"}, []string{"light", "demo", "--sweep", "air=$:2:1"}, []string{"cause", "demo", "--prior", "$=0.5"},
		[]string{"cause", "demo", "--minutes", "$=5"}, []string{"draw", "demo", "--figure", "cycle", "--size", "$", "-o", "F/c.svg"},
		[]string{"draw", "demo", "--figure", "cycle", "--width", "$", "-o", "F/c.svg"}, []string{"exercise", "demo", "-o", "F/e.pdf", "--kinds", "$"},
		[]string{"sheet", "demo", "-o", "F/s.pdf", "--date", "$"}, []string{"trace", "demo", "F/r.csv", "--crank", "$"})
	files := map[string]string{"r.csv": fewRows}
	for _, args := range list {
		for _, text := range []string{asOne(true), "\u202e", "\x1b[2J"} {
			hold(t, hostile{args, files, ""}, folder, text)
		}
	}
}

// What is printed for programs is JSON, though nothing in it gives orders, and says
// what was in the job.
func TestJSONSaysWhatWasThere(t *testing.T) {
	var o, e bytes.Buffer
	job := strings.Replace(string(assets.DemoJob), "bore_mm = 108.0", `"a\u202e\u001b" = 1`, 1)
	if code := run([]string{"check", "-", "--json"}, streams{in: strings.NewReader(job), out: &o, errOut: &e}); code != exitInput {
		t.Fatal(code, e.String())
	}
	if want := `"a\\u202e\\x1b"`; !strings.Contains(o.String(), `engine.\"a\\u202e\\x1b\"`) {
		t.Fatalf("no %s in %s", want, o.String())
	}
}
