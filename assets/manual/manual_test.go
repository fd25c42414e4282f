package manual_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"pinphase.org/pinphase/assets/manual"
)

var markdown = goldmark.New(goldmark.WithExtensions(extension.Table))

// walk goes through all nodes of a chapter.
func walk(c manual.Chapter, visit func(n ast.Node, source []byte)) {
	source := []byte(c.Text)
	_ = ast.Walk(markdown.Parser().Parse(text.NewReader(source)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			visit(n, source)
		}
		return ast.WalkContinue, nil
	})
}

// words are all text below a node.
func words(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok && entering {
			b.Write(t.Value(source))
			b.WriteByte(' ')
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(b.String())
}

var inLanguage = regexp.MustCompile(` --lang \w+`)

// skeleton is what must be the same in each language: which blocks follow each other,
// how many items, rows and links they have, which pictures and which commands.
func skeleton(c manual.Chapter) (list []string) {
	walk(c, func(n ast.Node, source []byte) {
		switch n := n.(type) {
		case *ast.Heading:
			list = append(list, fmt.Sprint("heading ", n.Level))
		case *ast.Paragraph, *ast.Blockquote, *ast.ListItem, *extast.TableRow, *extast.TableHeader:
			list = append(list, n.Kind().String())
		case *ast.Image:
			list = append(list, "picture "+string(n.Destination))
		case *ast.Link:
			list = append(list, "link "+string(n.Destination))
		case *ast.FencedCodeBlock:
			entry := "code " + string(n.Language(source))
			for i := range n.Lines().Len() {
				line := n.Lines().At(i)
				if s := string(line.Value(source)); strings.HasPrefix(s, "$ ") {
					entry += "; " + strings.TrimSpace(inLanguage.ReplaceAllString(s, ""))
				}
			}
			list = append(list, entry)
		}
	})
	return list
}

// TestEveryLanguage: each language has the same chapters, and each chapter the same
// sections, lists, tables, pictures and commands. No paragraph is left in English.
func TestEveryLanguage(t *testing.T) {
	english := manual.Chapters("en")
	if len(english) < 11 {
		t.Fatalf("the manual has %d chapters", len(english))
	}
	for _, lang := range manual.Languages[1:] {
		list := manual.Chapters(lang)
		for i, want := range english {
			if i >= len(list) || list[i].File != want.File {
				t.Fatalf("%s: there is no %s in its place", lang, want.File)
			}
			a, b := skeleton(want), skeleton(list[i])
			for k := range max(len(a), len(b)) {
				if k >= len(a) || k >= len(b) || a[k] != b[k] {
					t.Errorf("%s/%s: block %d differs: English has %v, this has %v", lang, want.File, k+1, a[k:min(k+3, len(a))], b[min(k, len(b)):min(k+3, len(b))])
					break
				}
			}
			said := map[string]bool{}
			walk(want, func(n ast.Node, source []byte) {
				if isProse(n) {
					said[words(n, source)] = true
				}
			})
			walk(list[i], func(n ast.Node, source []byte) {
				if w := words(n, source); isProse(n) && len(strings.Fields(w)) > 5 && said[w] {
					t.Errorf("%s/%s: still in English: %q", lang, want.File, w)
				}
			})
		}
		if len(list) != len(english) {
			t.Errorf("%s: %d chapters, English has %d", lang, len(list), len(english))
		}
	}
}

// isProse tells whether a node is words to be translated; what is nothing but code is not.
func isProse(n ast.Node) bool {
	switch n.(type) {
	case *ast.Heading, *ast.Paragraph, *ast.TextBlock, *extast.TableCell:
		_, code := n.FirstChild().(*ast.CodeSpan)
		return !code || n.ChildCount() > 1
	}
	return false
}

// TestNoDeadLink: links lead to chapters, pictures are there, and each picture is shown
// somewhere. Nothing leads out of the manual: it is read without a network.
func TestNoDeadLink(t *testing.T) {
	for _, lang := range manual.Languages {
		var chapters, shown []string
		for _, c := range manual.Chapters(lang) {
			chapters = append(chapters, c.File)
		}
		for _, c := range manual.Chapters(lang) {
			if !strings.HasPrefix(c.Text, "# ") || c.Title == "" {
				t.Errorf("%s/%s does not begin with its title", lang, c.File)
			}
			walk(c, func(n ast.Node, _ []byte) {
				switch n := n.(type) {
				case *ast.Link:
					if to := string(n.Destination); !slices.Contains(chapters, to) {
						t.Errorf("%s/%s: the link %s leads nowhere", lang, c.File, to)
					}
				case *ast.AutoLink:
					t.Errorf("%s/%s leads out of the manual", lang, c.File)
				case *ast.Image:
					name := string(n.Destination)
					shown = append(shown, name)
					if _, err := manual.Picture(lang, name); err != nil {
						t.Errorf("%s/%s: there is no picture %s", lang, c.File, name)
					}
				}
			})
			for _, p := range c.Pieces() {
				if p.Picture == "" && strings.Contains(p.Text, "![") {
					t.Errorf("%s/%s: a picture is not alone on its line", lang, c.File)
				}
			}
		}
		for _, name := range manual.Pictures(lang) {
			if !slices.Contains(shown, name) {
				t.Errorf("%s/%s is shown nowhere", lang, name)
			}
		}
	}
}

// TestWordsOfTheWindow: what the manual sets as words of the window, in single
// asterisks, the window says, in that language. Words of one letter are names of
// quantities, those with a digit titles of books.
func TestWordsOfTheWindow(t *testing.T) {
	for _, lang := range manual.Languages {
		known := map[string]bool{}
		data, err := os.ReadFile(filepath.Join("..", "translations", "de.json"))
		if lang != "en" {
			data, err = os.ReadFile(filepath.Join("..", "translations", lang+".json"))
		}
		var texts map[string]string
		if err == nil {
			err = json.Unmarshal(data, &texts)
		}
		if err != nil {
			t.Fatal(err)
		}
		for english, said := range texts {
			if lang == "en" {
				said = english
			}
			known[said] = true
		}
		seen := 0
		for _, c := range manual.Chapters(lang) {
			walk(c, func(n ast.Node, source []byte) {
				e, ok := n.(*ast.Emphasis)
				if !ok || e.Level != 1 {
					return
				}
				whole := words(n, source)
				if known[whole] || len([]rune(whole)) <= 2 || slices.Contains(bookTitles, whole) {
					seen++
					return
				}
				for part := range strings.SplitSeq(whole, ", ") {
					if !known[part] && !known[whole] {
						t.Errorf("%s/%s: the window does not say %q (of %q)", lang, c.File, part, whole)
					}
					seen++
				}
			})
		}
		if seen < 40 {
			t.Errorf("%s: only %d words of the window found", lang, seen)
		}
	}
}

// bookTitles are set in the same way.
var bookTitles = []string{"Multiple View Geometry in Computer Vision", "Internal Combustion Engine Fundamentals", "Information Theory, Inference, and Learning Algorithms"}
