package sheet

import (
	"fmt"
	"strings"
	"time"

	"pinphase.org/pinphase/timing/figure"
)

// Document is a sheet as data, all of its texts in the reader's language.
type Document struct {
	Kind   string // what sheet it is, in the head of every page
	Title  string
	Lang   string // of the texts, as in "en"
	Date   time.Time
	Made   string // by which program and when, at the foot of every page
	Blocks []Block

	page func(n, of int) string // "Page 2 of 4"
}

// Block is a piece of a document: a [Heading], [Paragraph], [List], [Pairs],
// [Table], [Figure], [Blanks], [Letterhead], [NewPage] or a [Group] of them.
type Block interface{ dump(b *strings.Builder) }

// Heading stands over what follows it and never alone at the foot of a page.
type Heading struct {
	Text  string
	Level int // 1 the document's, 2 a section's, 3 within one
}

// Paragraph is text; line breaks in it are kept.
type Paragraph struct {
	Text  string
	Style Style
}

// Style is how a paragraph is set.
type Style uint8

// The styles.
const (
	Body Style = iota
	Lead       // what it all comes to: large, in a frame
	Small
)

// List is a list of sentences.
type List struct{ Items []string }

// Pairs are names with their values, such as an engine's data.
type Pairs struct{ Items [][2]string }

// Table has rows under headings. Numbers stand at the right.
type Table struct {
	Columns []Column
	Rows    [][]string
	Written bool // rows have room to write in by hand
}

// Column is one column of a table.
type Column struct {
	Head   string
	Number bool
	Blank  bool // nothing is printed in it: it is filled in by hand
}

// Figure is a drawing, at most [Width] wide, and a line below it.
type Figure struct {
	Name    string // in [chart.Names], "photo", "code", "rulers", "wheel" or "tape"
	Drawing figure.Drawing
	Caption string
	True    bool // to be measured with: it keeps its size, and may reach beside the text
}

// Blanks are names with a line each, to be filled in by hand.
type Blanks struct{ Names []string }

// NewPage lets what follows begin on a page of its own.
type NewPage struct{}

// Width is what a figure may fill, in points: the width of the text on the
// narrower of the papers.
const Width = 499.0

// String writes the document as text, the same from run to run: what the golden
// files hold.
func (d Document) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\nlang %s, date %s\nfoot %s, %s\n", d.Kind, d.Title, d.Lang, d.Date.Format(time.DateOnly), d.Made, d.page(2, 4))
	for _, block := range d.Blocks {
		b.WriteByte('\n')
		block.dump(&b)
	}
	return b.String()
}

func (h Heading) dump(b *strings.Builder) {
	fmt.Fprintf(b, "%s %s\n", strings.Repeat("#", h.Level), h.Text)
}

func (p Paragraph) dump(b *strings.Builder) {
	fmt.Fprintf(b, "%s%s\n", [...]string{"", "lead: ", "small: "}[p.Style], p.Text)
}

func (l List) dump(b *strings.Builder) {
	for _, s := range l.Items {
		fmt.Fprintf(b, "• %s\n", s)
	}
}

func (p Pairs) dump(b *strings.Builder) {
	for _, i := range p.Items {
		fmt.Fprintf(b, "%s: %s\n", i[0], i[1])
	}
}

func (t Table) dump(b *strings.Builder) {
	var heads []string
	for _, c := range t.Columns {
		switch {
		case c.Blank:
			heads = append(heads, c.Head+" ____")
		case c.Number:
			heads = append(heads, c.Head+" #")
		default:
			heads = append(heads, c.Head)
		}
	}
	fmt.Fprintf(b, "| %s |\n", strings.Join(heads, " | "))
	for _, r := range t.Rows {
		fmt.Fprintf(b, "| %s |\n", strings.Join(r, " | "))
	}
}

func (f Figure) dump(b *strings.Builder) {
	fmt.Fprintf(b, "figure %s, %.0f by %.0f, %d shapes: %s\n%s\n", f.Name, f.Drawing.W, f.Drawing.H, len(f.Drawing.Shapes), f.Drawing.Title, f.Caption)
}

func (NewPage) dump(b *strings.Builder) { b.WriteString("new page\n") }

func (f Blanks) dump(b *strings.Builder) {
	for _, n := range f.Names {
		fmt.Fprintf(b, "%s: ____\n", n)
	}
}
