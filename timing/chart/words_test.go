package chart

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// listener returns a translation that marks what goes through it, and notes the
// texts it was given.
func listener(t *testing.T) (say Say, used map[phrase.Text]bool) {
	used = map[phrase.Text]bool{}
	return func(s phrase.Sentence) string {
		used[s.Text] = true
		if got := s.String(); got == "" || strings.Contains(got, "{{") {
			t.Errorf("%q is filled to %q", s.Text, got)
		}
		return "~" + s.String()
	}, used
}

// Every word of the figures, of the sample jobs and of thin ones, goes through
// the reader's translation, and so do the words inside them.
func TestEveryWordIsTranslated(t *testing.T) {
	t.Parallel()
	say, used := listener(t)
	jobs := []job.Job{
		sample.Demo(t), sample.Read(t, thin), sample.File(t, "v16-uneven"), sample.File(t, "two-stroke"), sample.File(t, "keyway-and-dowel"), sample.File(t, "five-cylinder-flywheel-view"),
		sample.Read(t, thin+"[crank_wheel]\npositions = 4\nfirst_tooth_btdc_deg = 0\n[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"),
		sample.Read(t, thin+"[crank_wheel]\npositions = 4\nfirst_tooth_btdc_deg = 0\n"),
	}
	for _, j := range jobs {
		for at := timing.Deg(0); at < 720; at += 5 {
			in, err := Cycle(j, CycleOptions{Cursor: &at, Say: say})
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range in.Rows {
				if !strings.HasPrefix(r.Readout, "~") || !strings.HasPrefix(r.Label.Full, "~") {
					t.Fatalf("row %+v speaks English only", r)
				}
			}
			for _, from := range []timing.End{timing.Nose, timing.Flywheel} {
				w, err := Wheel(j, WheelOptions{At: at, From: from, Say: say})
				if err != nil {
					t.Fatal(err)
				}
				for _, line := range append(w.Caption, w.Words.TDC, w.Words.BTDC, w.Words.ATDC, w.Words.Rotation, w.Title, w.Desc) {
					if !strings.HasPrefix(line, "~") {
						t.Fatalf("%q speaks English only", line)
					}
				}
			}
		}
	}
	for _, at := range []float64{-1, 0, 1} {
		if got := say.BTDC(at); !strings.HasPrefix(got, "~") {
			t.Errorf("%q speaks English only", got)
		}
	}
	sayParts(t, say)
	var said []phrase.Text
	for _, file := range wordFiles(t) {
		for _, text := range wordsIn(t, file) {
			said = append(said, text)
		}
	}
	for _, text := range said {
		if !used[text] {
			t.Errorf("%q is among the words and never said", text)
		}
	}
}

// wordFiles are the files that hold the words of the cycle, wheel and part.
func wordFiles(t *testing.T) []string {
	files, err := filepath.Glob("*words.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("%v, %v", files, err)
	}
	return files
}

// wordsIn returns the word constants of a file, by name.
func wordsIn(t *testing.T, file string) map[string]phrase.Text {
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]phrase.Text{}
	ast.Inspect(f, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Names) != 1 || !strings.HasPrefix(spec.Names[0].Name, "word") || len(spec.Values) != 1 {
			return true
		}
		if literal, ok := spec.Values[0].(*ast.BasicLit); ok {
			text, err := strconv.Unquote(literal.Value)
			if err != nil {
				t.Fatal(err)
			}
			words[spec.Names[0].Name] = phrase.Text(text)
		}
		return true
	})
	return words
}
