package book

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationmonoregular"
	"golang.org/x/image/font/sfnt"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/assets/manual"
)

var day = time.Date(2026, 3, 30, 0, 0, 0, 0, time.UTC)

// TestBooks: each language has its HTML and its PDF, the same bytes every time.
func TestBooks(t *testing.T) {
	for _, lang := range manual.Languages {
		var page, again, pdf, pdfAgain bytes.Buffer
		for _, b := range []*bytes.Buffer{&page, &again} {
			if err := WriteHTML(b, lang, "1.2.3"); err != nil {
				t.Fatal(err)
			}
		}
		for _, b := range []*bytes.Buffer{&pdf, &pdfAgain} {
			if err := WritePDF(b, lang, "1.2.3", day); err != nil {
				t.Fatal(err)
			}
		}
		same(t, lang+", HTML", page.Bytes(), again.Bytes())
		same(t, lang+", PDF", pdf.Bytes(), pdfAgain.Bytes())
		if !bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-")) || bytes.Count(pdf.Bytes(), []byte("/Type /Page\n")) < len(manual.Chapters(lang)) {
			t.Errorf("%s: the PDF has fewer pages than chapters", lang)
		}
		alone(t, lang, page.String())
	}
}

func same(t *testing.T, what string, a, b []byte) {
	t.Helper()
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Errorf("%s: two books differ from byte %d of %d and %d on: %.120q, %.120q", what, i, len(a), len(b), a[min(max(i-60, 0), len(a)):], b[min(max(i-60, 0), len(b)):])
			return
		}
	}
}

// alone: an HTML file needs nothing beside it, and its links lead to places in it.
func alone(t *testing.T, lang, page string) {
	t.Helper()
	if strings.Contains(page, "http:") || strings.Contains(page, "https:") {
		t.Errorf("%s: the HTML leads out of itself", lang)
	}
	for _, m := range regexp.MustCompile(`(src|href)="([^"]{0,60})`).FindAllStringSubmatch(page, -1) {
		id, here := strings.CutPrefix(m[2], "#")
		switch {
		case m[1] == "src" && !strings.HasPrefix(m[2], "data:image/png;base64,"):
			t.Errorf("%s: a picture is at %s", lang, m[2])
		case m[1] == "href" && (!here || !strings.Contains(page, `<section id="`+id+`">`)):
			t.Errorf("%s: the link %s leads nowhere", lang, m[2])
		}
	}
}

// TestEveryCharacterHasAShape: the fonts of the PDF have all that the chapters say; what
// a font lacks it would leave out without a word.
func TestEveryCharacterHasAShape(t *testing.T) {
	has := func(data []byte) func(r rune) bool {
		f, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		var b sfnt.Buffer
		return func(r rune) bool {
			i, err := f.GlyphIndex(&b, r)
			return err == nil && i != 0
		}
	}
	body, mono := has(assets.FontRegular), has(liberationmonoregular.TTF)
	for _, lang := range manual.Languages {
		for _, c := range manual.Chapters(lang) {
			inCode := false
			for line := range strings.Lines(c.Text) {
				line = strings.TrimSuffix(line, "\n")
				if strings.HasPrefix(line, "```") {
					inCode = !inCode
					continue
				}
				for _, r := range line {
					if inCode && !mono(r) || !inCode && !body(r) {
						t.Errorf("%s/%s: the font has no %q: %s", lang, c.File, r, line)
					}
				}
			}
		}
	}
}
