// Package glossary explains the words of the trade, and finds those that stand in a text.
//
// The words are data: a file for each language, each with the same words by their id. A
// new word is an entry in each file.
package glossary

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"golang.org/x/text/unicode/norm"
)

// Word is a term and its explanation in one language.
type Word struct {
	ID    string   `toml:"id"`    // the same in every language
	Term  string   `toml:"term"`  // as the glossary lists it
	Forms []string `toml:"forms"` // as it is written, by which it is found
	Alone []string `toml:"alone"` // forms that are words of every day too: found exactly so, alone in a line or before a comma or colon
	Text  string   `toml:"text"`  // one to three sentences

	finds *regexp.Regexp
	leads *regexp.Regexp // a line, alone; nil: the word has no such forms
}

// Book is the words of one language, in the order of the alphabet.
type Book []Word

// Read reads the words of a language, by its code, from a folder of files. An error
// names the file.
func Read(folder fs.FS, code string) (Book, error) {
	name := code + ".toml"
	data, err := fs.ReadFile(folder, name)
	if err != nil {
		return nil, err
	}
	var f struct {
		Word Book `toml:"word"`
	}
	d := toml.NewDecoder(strings.NewReader(string(data)))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	for i := range f.Word {
		w := &f.Word[i]
		if w.ID == "" || w.Term == "" || w.Text == "" || len(w.Forms) == 0 {
			return nil, fmt.Errorf("%s: word %d: id, term, forms and text: all four are needed", name, i+1)
		}
		w.finds, w.leads = finder(w.Forms), leader(w.Alone)
	}
	slices.SortStableFunc(f.Word, func(a, b Word) int { return strings.Compare(sorted(a.Term), sorted(b.Term)) })
	return f.Word, nil
}

// sorted is what a term is sorted by: capitals and accents make no difference.
func sorted(term string) string { return norm.NFD.String(strings.ToLower(term)) }

// finder finds forms as whole words, whether or not they begin with a capital. An
// abbreviation in capitals is found in capitals only: OT is one, "ot" is not.
func finder(forms []string) *regexp.Regexp {
	list := slices.Clone(forms)
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	for i, f := range list {
		quoted := regexp.QuoteMeta(f)
		if f != strings.ToUpper(f) {
			first := []rune(f)[0]
			quoted = fmt.Sprintf("[%s%s]", strings.ToLower(string(first)), strings.ToUpper(string(first))) + regexp.QuoteMeta(string([]rune(f)[1:]))
		}
		list[i] = quoted
	}
	return regexp.MustCompile(`(?:^|[^\pL\d])(?:` + strings.Join(list, "|") + `)(?:$|[^\pL])`)
}

// leader finds forms where nothing else is on the line before a comma or colon.
func leader(forms []string) *regexp.Regexp {
	if len(forms) == 0 {
		return nil
	}
	list := make([]string, len(forms))
	for i, f := range forms {
		list[i] = regexp.QuoteMeta(f)
	}
	return regexp.MustCompile(`(?m)^(?:` + strings.Join(list, "|") + `)(?:$|[,:])`)
}

// alone tells whether a form that is a word of every day too stands alone in a text.
func (w Word) alone(text string) bool { return w.leads != nil && w.leads.MatchString(text) }

// In returns the words that stand in a text, in the order of the book.
func (b Book) In(text string) Book {
	var list Book
	for _, w := range b {
		if w.finds.MatchString(text) || w.alone(text) {
			list = append(list, w)
		}
	}
	return list
}

// Best returns the word that a short text, such as one on a figure, is about: the one of
// whose forms most stands in it, or that begins it alone; ok is false where there is none.
func (b Book) Best(text string) (best Word, ok bool) {
	most := 0
	for _, w := range b {
		if w.alone(text) {
			return w, true
		}
		if m := w.finds.FindString(text); len(strings.TrimSpace(m)) > most {
			best, most, ok = w, len(strings.TrimSpace(m)), true
		}
	}
	return best, ok
}
