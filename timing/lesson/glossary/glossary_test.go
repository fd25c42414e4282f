package glossary_test

import (
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson/glossary"
)

func book(t *testing.T, code string) glossary.Book {
	t.Helper()
	folder, err := fs.Sub(assets.Words, "words")
	if err != nil {
		t.Fatal(err)
	}
	b, err := glossary.Read(folder, code)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Every word has its term, its forms and its explanation in every language: no two
// words of a language share a form, and each is found by its own.
func TestEveryWordInEveryLanguage(t *testing.T) {
	ids := func(b glossary.Book) (list []string) {
		for _, w := range b {
			list = append(list, w.ID)
		}
		slices.Sort(list)
		return list
	}
	want := ids(book(t, "en"))
	if len(want) < 40 || len(slices.Compact(slices.Clone(want))) != len(want) {
		t.Errorf("%d words, of which some have the same id", len(want))
	}
	for _, code := range language.Codes {
		b := book(t, code)
		if got := ids(b); !slices.Equal(got, want) {
			t.Errorf("%s has %v, English %v", code, got, want)
		}
		of := map[string]string{}
		for _, w := range b {
			for _, f := range w.Alone {
				if !slices.ContainsFunc(b.In("…\n"+f+", 9°"), func(x glossary.Word) bool { return x.ID == w.ID }) {
					t.Errorf("%s: %s is not found by %q alone", code, w.ID, f)
				}
			}
			for _, f := range append(slices.Clone(w.Forms), w.Alone...) {
				if other := of[f]; other != "" {
					t.Errorf("%s: %q is a form of %s and of %s", code, f, other, w.ID)
				}
				of[f] = w.ID
				if slices.Contains(w.Alone, f) {
					continue
				}
				if !slices.ContainsFunc(b.In("… "+f+"."), func(x glossary.Word) bool { return x.ID == w.ID }) {
					t.Errorf("%s: %s is not found by %q", code, w.ID, f)
				}
			}
			if !strings.HasSuffix(w.Text, ".") || len(w.Text) > 260 {
				t.Errorf("%s: %s is explained by %d bytes: %q", code, w.ID, len(w.Text), w.Text)
			}
		}
	}
}

// What is found, by hand: whole words only, the longest first, abbreviations as they are
// written.
func TestIn(t *testing.T) {
	for _, c := range []struct{ code, text, want string }{
		{"en", "Valve overlap 22°", "overlap"},
		{"en", "firing TDC of cylinder 1", "firing_tdc"},
		{"en", "overlap TDC", "overlap_tdc"},
		{"en", "Remarks", ""},
		{"en", "9° BTDC", "btdc"},
		{"de", "Geberradversatz −28°", "wheel_error"},
		{"de", "Zünd-OT", "firing_tdc"},
		{"de", "Not", ""},
		{"de", "Das Rad ist richtig", ""},
		{"de", "Ist das Foto gespiegelt?", ""},
		{"de", "Ist, 16° n. OT", "actual"},
		{"de", "Soll", "commanded"},
		{"en", "intake open", "valve_open"},
		{"en", "exhaust", "exhaust"},
		{"es", "El trabajo no nombra nada", ""},
		{"es", "trabajo", "power"},
		{"es", "Orden de encendido", "firing_order"},
		{"es", "18° d. PMS", "btdc"},
	} {
		w, ok := book(t, c.code).Best(c.text)
		if w.ID != c.want || ok != (c.want != "") {
			t.Errorf("%s: %q is about %q, want %q", c.code, c.text, w.ID, c.want)
		}
	}
}

func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"[[word]]\nid = \"a\"":   "all four",
		"[[word]]\nname = \"a\"": "xx.toml",
		"[[word":                 "xx.toml",
	} {
		_, err := glossary.Read(fstest.MapFS{"xx.toml": &fstest.MapFile{Data: []byte(text)}}, "xx")
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
