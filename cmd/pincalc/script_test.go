package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"pincalc": main})
}

// TestScripts runs the command lines in testdata/script, one file a command,
// which are its manual too. Each has the sample jobs in the folder jobs, sample
// photographs in photos, recordings in recordings, and these commands beside the usual ones:
//
//	exits N command ...   the command ends with exit code N
//	faulty                the last command said something on standard error, line
//	                      by line, and nothing on standard output
//	has PATH name ...     the JSON object has these fields; it may have more
//	json PATH value ...   the JSON value is that: a number to the digits given,
//	                      or any other JSON; several for the items of a list
//	xml file              the file is well-formed
//	near PATH value U [MOST]
//	                      the JSON number is that value, within twice the number at
//	                      the path U (95 %), which is at most 2, or MOST
//	begins file "text"    the file begins with the text, a Go string
//
// PATH leads through the last command's standard output: "cylinders.0.stroke",
// "." for all of it, and "*" for every item of a list.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                "testdata/script",
		RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			if err := os.CopyFS(filepath.Join(env.WorkDir, "jobs"), os.DirFS("../../testdata/jobs")); err != nil {
				return err
			}
			if err := os.CopyFS(filepath.Join(env.WorkDir, "recordings"), os.DirFS("../../testdata/recordings")); err != nil {
				return err
			}
			return samplePhotos(filepath.Join(env.WorkDir, "photos"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "faulty": faulty, "has": has, "json": jsonIs, "xml": wellFormed, "begins": begins, "near": near,
		},
	})
}

func want(ts *testscript.TestScript, neg, ok bool, usage string) {
	if neg {
		ts.Fatalf("cannot be turned round with !")
	}
	if !ok {
		ts.Fatalf("usage: %s", usage)
	}
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) >= 2, "exits N command ...")
	code := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		code = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("exit code %d, want %s", code, args[0])
	}
}

func faulty(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) == 0, "faulty")
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("standard output beside an error: %q", out)
	}
	errOut := ts.ReadFile("stderr")
	if !strings.HasSuffix(errOut, "\n") {
		ts.Fatalf("standard error %q", errOut)
	}
	for line := range strings.Lines(errOut) {
		if line = strings.TrimSuffix(line, "\n"); strings.TrimSpace(line) != line || line == "" {
			ts.Fatalf("a line of standard error is %q", line)
		}
	}
}

// values returns what PATH leads to in the last command's standard output.
func values(ts *testscript.TestScript, path string) []any {
	d := json.NewDecoder(strings.NewReader(ts.ReadFile("stdout")))
	var all any
	if err := d.Decode(&all); err != nil {
		ts.Fatalf("standard output is no JSON: %v", err)
	}
	if _, err := d.Token(); err != io.EOF {
		ts.Fatalf("standard output goes on after the JSON: %v", err)
	}
	found := []any{all}
	if path == "." {
		return found
	}
	for _, step := range strings.Split(path, ".") {
		var next []any
		for _, v := range found {
			switch v := v.(type) {
			case map[string]any:
				item, ok := v[step]
				if !ok {
					ts.Fatalf("%s: no field %q", path, step)
				}
				next = append(next, item)
			case []any:
				if step == "*" {
					next = append(next, v...)
					continue
				}
				i, err := strconv.Atoi(step)
				if err != nil || i < 0 || i >= len(v) {
					ts.Fatalf("%s: no item %q of %d", path, step, len(v))
				}
				next = append(next, v[i])
			default:
				ts.Fatalf("%s: nothing has a %q", path, step)
			}
		}
		found = next
	}
	return found
}

func has(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) >= 2, "has PATH name ...")
	for _, v := range values(ts, args[0]) {
		object, ok := v.(map[string]any)
		if !ok {
			ts.Fatalf("%s is no object", args[0])
		}
		for _, name := range args[1:] {
			if _, ok := object[name]; !ok {
				ts.Fatalf("%s has no field %q", args[0], name)
			}
		}
	}
}

func jsonIs(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) >= 2, "json PATH value ...")
	found := values(ts, args[0])
	if len(found) != len(args)-1 {
		ts.Fatalf("%s leads to %d values, not %d", args[0], len(found), len(args)-1)
	}
	for i, v := range found {
		got, err := json.Marshal(v)
		if err != nil {
			ts.Fatalf("%v", err)
		}
		if !same(string(got), v, args[i+1]) {
			ts.Fatalf("%s is %s, want %s", args[0], got, args[i+1])
		}
	}
}

// same compares a value with a wanted text: numbers to half a unit of the text's
// last digit and no further than a billionth, words with or without quotation
// marks.
func same(got string, v any, text string) bool {
	number, isNumber := v.(float64)
	wanted, err := strconv.ParseFloat(text, 64)
	if !isNumber || err != nil {
		return got == text || got == strconv.Quote(text)
	}
	tolerance := 1e-9
	if _, decimals, ok := strings.Cut(text, "."); ok {
		tolerance = 0.5000001 * math.Pow10(-len(decimals))
	}
	return math.Abs(number-wanted) <= tolerance
}

func wellFormed(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) == 1, "xml file")
	d := xml.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	elements := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			ts.Fatalf("%s: %v", args[0], err)
		}
		if start, ok := token.(xml.StartElement); ok {
			if elements == 0 && start.Name.Local != "svg" {
				ts.Fatalf("%s begins with <%s>", args[0], start.Name.Local)
			}
			elements++
		}
	}
	if elements < 20 {
		ts.Fatalf("%s has %d elements", args[0], elements)
	}
}

func begins(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) == 2, `begins file "text"`)
	text, err := strconv.Unquote(args[1])
	if err != nil {
		ts.Fatalf("%s: %v", args[1], err)
	}
	if got := ts.ReadFile(args[0]); !strings.HasPrefix(got, text) {
		ts.Fatalf("%s begins with %q, want %q", args[0], got[:min(len(text), len(got))], text)
	}
}

// near tells whether a measured number agrees with what is true, given its own
// standard uncertainty.
func near(ts *testscript.TestScript, neg bool, args []string) {
	want(ts, neg, len(args) == 3 || len(args) == 4, "near PATH value U [MOST]")
	number := func(path string) float64 {
		found := values(ts, path)
		if v, ok := found[0].(float64); ok && len(found) == 1 {
			return v
		}
		ts.Fatalf("%s leads to no number", path)
		return 0
	}
	value, err := strconv.ParseFloat(args[1], 64)
	if err != nil {
		ts.Fatalf("%v", err)
	}
	most := 2.0
	if len(args) == 4 {
		if most, err = strconv.ParseFloat(args[3], 64); err != nil {
			ts.Fatalf("%v", err)
		}
	}
	got, u := number(args[0]), number(args[2])
	if !(math.Abs(got-value) <= 2*u) || u > most {
		ts.Fatalf("%s is %g ± %g, want %g", args[0], got, u, value)
	}
}

// samplePhotos puts photographs into a folder: those of testdata, and some that
// cannot be read.
func samplePhotos(folder string) error {
	if err := os.CopyFS(folder, os.DirFS("../../testdata/photos")); err != nil {
		return err
	}
	var dot bytes.Buffer
	if err := png.Encode(&dot, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		return err
	}
	heic, err := os.ReadFile("../../timing/part/photo/pixels/testdata/lying.heic")
	if err != nil {
		return err
	}
	for name, data := range map[string][]byte{"dot.png": dot.Bytes(), "whole.heic": heic, "half.heic": heic[:len(heic)/2]} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o666); err != nil {
			return err
		}
	}
	return nil
}
