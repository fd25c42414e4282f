package app

import (
	"fmt"
	"regexp"

	"fyne.io/fyne/v2/lang"

	"pinphase/timing/finding"
)

// Every text of the window goes through tr or say, whose English text is the
// key of its translations.

// tr returns a text without data in the user's language.
func tr(text string) string { return lang.L(text) }

// with returns a text with data, its places written {{.Name}}.
func with(text string, data map[string]any) string {
	return say(finding.Sentence{Text: text, Data: data})
}

// say puts a sentence into the user's language: the translation with its places
// still open is looked up once, the data go in each time.
func say(s finding.Sentence) string {
	if len(s.Data) == 0 {
		return tr(s.Text)
	}
	return s.Fill(openText(s.Text), func(v any) string {
		if t, ok := v.(finding.Term); ok {
			return tr(string(t))
		}
		return fmt.Sprint(v)
	})
}

var place = regexp.MustCompile(`\{\{\.(\w+)\}\}`)

// translated are the texts looked up so far. It belongs to the main goroutine,
// as all of the window does.
var translated = map[string]string{}

// openText translates a text whose places are to stay open: each is filled with
// itself.
func openText(text string) string {
	if t, ok := translated[text]; ok {
		return t
	}
	itself := map[string]any{}
	for _, m := range place.FindAllStringSubmatch(text, -1) {
		itself[m[1]] = m[0]
	}
	t := lang.L(text, itself)
	translated[text] = t
	return t
}
