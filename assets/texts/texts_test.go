package texts

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

const sample = `package sample

const named = "a constant"

var table = []row{{label: "a field"}, {label: "another " + "field"}}

type row struct{ label string }

var words = map[string]string{"key": "a word of a table"}

func show(r row, k string) {
	tr("given at once")
	tr(named)
	tr(r.label)
	tr(words[k])
	with("with {{.Places}}", nil)
	hand("handed on")
	text := "in a variable"
	if k == "" {
		text = "in a variable too"
	}
	tr(text)
	r.label = "assigned to a field"
	say(Sentence{Text: "of a sentence"})
	say(Sentence{named, nil})
	phrase.Errorf("an error at %d", 1)
	fmt.Errorf("never shown")
	worded("a word of its own")
	tr("snake_case")
	tr("{{.N}} °")
}

func hand(text string) { tr(text) }

func worded(w phrase.Word) {}
`

// Every way in which a text comes to where it is looked up is followed; what is
// looked up nowhere, and what has no words, is left out.
func TestIn(t *testing.T) {
	folder := t.TempDir()
	for name, source := range map[string]string{"sample.go": sample, "sample_test.go": `package sample
func init() { tr("only in a test") }`} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(source), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	found, err := In(folder)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"a constant", "a field", "a word of a table", "a word of its own", "an error at %d", "another field", "assigned to a field", "given at once",
		"handed on", "in a variable", "in a variable too", "of a sentence", "with {{.Places}}",
	}
	if got := slices.Sorted(maps.Keys(found)); !slices.Equal(got, want) {
		t.Errorf("found\n%q, want\n%q", got, want)
	}
}
