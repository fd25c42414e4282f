package assets_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/language"
)

var missing = flag.String("missing", "", "write the texts that have no translation to files that begin with this name, ready to be filled in")

// TestTranslationsAreComplete holds every translation against the source: each
// text that can be said has one, with the same places, and none is left that
// nothing says.
func TestTranslationsAreComplete(t *testing.T) {
	found, err := source()
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string][]string{}
	for _, s := range found.said {
		if hasWords(s.text) || strings.Contains(s.text, "“") { // each language quotes in its own way
			shown[s.text] = append(shown[s.text], s.at)
		}
	}
	if len(shown) < 2000 {
		t.Fatalf("only %d texts were found in the source", len(shown))
	}
	for _, code := range language.Codes[1:] {
		translations := read(t, "translations/"+code+".json")
		left := map[string]string{}
		for _, text := range slices.Sorted(maps.Keys(shown)) {
			translation, ok := translations[text]
			switch {
			case !ok:
				left[text] = ""
				if *missing == "" {
					t.Errorf("%s: %s: no translation of %q", code, shown[text][0], text)
				}
			case strings.TrimSpace(translation) == "":
				t.Errorf("%s: the translation of %q is empty", code, text)
			case !slices.Equal(places(text), places(translation)):
				t.Errorf("%s: %q has the places %v, its translation %q has %v", code, text, places(text), translation, places(translation))
			}
		}
		for text := range translations {
			if _, ok := shown[text]; !ok {
				t.Errorf("%s: nothing shows %q any more", code, text)
			}
		}
		if *missing != "" && len(left) > 0 {
			write(t, *missing+code+".json", left)
		}
	}
}

// TestToolkitWords: the same words in every language.
func TestToolkitWords(t *testing.T) {
	var keys []string
	for _, code := range language.Codes {
		data, err := assets.Translations.ReadFile("translations/toolkit/" + code + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var words map[string]any
		if err := json.Unmarshal(data, &words); err != nil {
			t.Fatal(err)
		}
		these := slices.Sorted(maps.Keys(words))
		if keys == nil {
			keys = these
		}
		if !slices.Equal(these, keys) {
			t.Errorf("%s has the words %v, want %v", code, these, keys)
		}
	}
}

var (
	place = regexp.MustCompile(`\{\{\.\w+\}\}`)
	verb  = regexp.MustCompile(`%(\[\d+\])?([.\d]*[a-z%])`)
)

// places are those of a text, each once, for a translation may need one twice;
// and the verbs of a format, in the order in which they take what belongs there.
func places(text string) []string {
	list := slices.Compact(slices.Sorted(slices.Values(place.FindAllString(text, -1))))
	if strings.Contains(text, "{{.") {
		return list // "95 % sure" is no verb
	}
	var verbs []string
	for i, m := range verb.FindAllStringSubmatch(text, -1) {
		at := m[1]
		if at == "" {
			at = fmt.Sprintf("[%d]", i+1)
		}
		verbs = append(verbs, at+m[2])
	}
	slices.Sort(verbs)
	return append(list, verbs...)
}

func read(t *testing.T, name string) map[string]string {
	data, err := assets.Translations.ReadFile(name)
	var texts map[string]string
	if err == nil {
		err = json.Unmarshal(data, &texts)
	}
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return texts
}

func write(t *testing.T, name string, texts map[string]string) {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(texts); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d texts to translate in %s", len(texts), name)
}
