package book

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationmonoregular"
	"codeberg.org/go-pdf/fpdf"
	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/assets/manual"
)

// Lengths of the pages, mm; sizes of type, points.
const (
	pageWidth, pageHeight = 210.0, 297.0
	margin                = 20.0
	foot                  = 18.0
	width                 = pageWidth - 2*margin
	bodySize              = 10.0
	codeSize              = 7.4
	lineHeight            = 5.2
	codeHeight            = 3.7
	pictureDPI            = 150.0
)

// WritePDF writes the manual in a language on A4, with its contents, links and
// bookmarks. version is the program's; date is when the file says that it was made.
func WritePDF(w io.Writer, lang, version string, date time.Time) error {
	first := newSetter(lang, version, date, nil)
	if err := first.set(); err != nil {
		return err
	}
	second := newSetter(lang, version, date, first.pages) // now it is known where chapters begin
	if err := second.set(); err != nil {
		return err
	}
	return second.doc.Output(w)
}

// setter sets the chapters on pages.
type setter struct {
	doc      *fpdf.Fpdf
	lang     string
	say      words
	version  string
	chapters []manual.Chapter
	links    map[string]int // to each chapter, by its file
	pages    map[string]int // on which each begins
	widths   map[int]bool   // of the pictures so far
	known    map[string]int // the same from an earlier setting; nil: this is the first

	source []byte
	indent float64
	err    error
}

func newSetter(lang, version string, date time.Time, known map[string]int) *setter {
	s := &setter{lang: lang, version: version, links: map[string]int{}, pages: map[string]int{}, widths: map[int]bool{}, known: known}
	s.chapters, s.say = chaptersOf(lang)
	d := fpdf.New("P", "mm", "A4", "")
	s.doc = d
	d.SetCatalogSort(true)
	d.SetCreationDate(date)
	d.SetModificationDate(date)
	d.SetTitle(s.say.title, true)
	d.SetLang(lang)
	d.AddUTF8FontFromBytes("body", "", assets.FontRegular)
	d.AddUTF8FontFromBytes("body", "B", assets.FontBold)
	d.AddUTF8FontFromBytes("code", "", liberationmonoregular.TTF)
	d.SetMargins(margin, margin, margin)
	d.SetAutoPageBreak(true, foot)
	d.SetFooterFunc(func() {
		if d.PageNo() == 1 {
			return
		}
		d.SetY(-foot + 5)
		d.SetFont("body", "", 8)
		d.CellFormat(width/2, 4, s.say.title, "", 0, "L", false, 0, "")
		d.CellFormat(width/2, 4, strconv.Itoa(d.PageNo()), "", 0, "R", false, 0, "")
	})
	return s
}

func (s *setter) set() error {
	d := s.doc
	for _, c := range s.chapters {
		s.links[c.File] = d.AddLink()
	}
	s.contents()
	for _, c := range s.chapters {
		d.AddPage()
		s.pages[c.File] = d.PageNo()
		d.SetLink(s.links[c.File], margin, d.PageNo())
		d.Bookmark(c.Title, 0, -1)
		s.source = []byte(c.Text)
		s.blocks(markdown.Parser().Parse(text.NewReader(s.source)))
		if s.err != nil {
			return fmt.Errorf("%s: %w", c.File, s.err)
		}
	}
	return d.Error()
}

// contents are the first page.
func (s *setter) contents() {
	d := s.doc
	d.AddPage()
	d.SetY(60)
	d.SetFont("body", "B", 26)
	d.MultiCell(width, 12, s.say.title, "", "L", false)
	d.SetFont("body", "", bodySize)
	d.MultiCell(width, 8, s.say.made+" "+s.version, "", "L", false)
	d.SetY(100)
	d.SetFont("body", "B", 13)
	d.MultiCell(width, 9, s.say.contents, "", "L", false)
	d.SetFont("body", "", 11)
	for i, c := range s.chapters {
		page := ""
		if s.known != nil {
			page = strconv.Itoa(s.known[c.File])
		}
		d.CellFormat(9, 8, strconv.Itoa(i+1), "", 0, "L", false, s.links[c.File], "")
		d.CellFormat(width-24, 8, c.Title, "B", 0, "L", false, s.links[c.File], "")
		d.CellFormat(15, 8, page, "B", 1, "R", false, s.links[c.File], "")
	}
}

func (s *setter) left() float64  { return margin + s.indent }
func (s *setter) room() float64  { return width - s.indent }
func (s *setter) space() float64 { return pageHeight - foot - s.doc.GetY() }

// need begins a new page where less than a height is left.
func (s *setter) need(height float64) {
	if s.space() < height {
		s.doc.AddPage()
	}
}

func (s *setter) blocks(parent ast.Node) {
	for n := parent.FirstChild(); n != nil && s.err == nil; n = n.NextSibling() {
		s.block(n)
	}
}

func (s *setter) block(n ast.Node) {
	d := s.doc
	switch n := n.(type) {
	case *ast.Heading:
		size, before := 20.0, 0.0
		if n.Level > 1 {
			size, before = 13, 3
			s.need(35)
			if p, ok := n.NextSibling().(*ast.Paragraph); ok {
				if image, ok := p.FirstChild().(*ast.Image); ok {
					s.need(s.heightOf(image) + 30) // a heading is not left alone
				}
			}
			d.Bookmark(plain(n, s.source), 1, -1)
		}
		d.Ln(before)
		d.SetFont("body", "B", size)
		d.MultiCell(width, size*0.45, plain(n, s.source), "", "L", false)
		d.Ln(2)
	case *ast.Paragraph:
		if image, ok := n.FirstChild().(*ast.Image); ok && n.ChildCount() == 1 {
			s.picture(image)
			return
		}
		s.need(2 * lineHeight)
		s.line(n)
		d.Ln(lineHeight + 1.8)
	case *ast.TextBlock:
		s.line(n)
		d.Ln(lineHeight)
	case *ast.List:
		s.list(n)
	case *ast.Blockquote:
		s.quote(n)
	case *ast.FencedCodeBlock:
		s.code(code(n, s.source))
	case *extast.Table:
		s.table(n)
	default:
		s.err = fmt.Errorf("nothing sets a %s", n.Kind())
	}
}

// line sets the words of a node, broken at the right margin.
func (s *setter) line(n ast.Node) {
	s.doc.SetLeftMargin(s.left())
	s.doc.SetX(s.left())
	s.inline(n, "")
	s.doc.SetLeftMargin(margin)
}

func (s *setter) inline(parent ast.Node, style string) {
	d := s.doc
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.Text:
			words := string(n.Value(s.source))
			if n.SoftLineBreak() || n.HardLineBreak() {
				words += " "
			}
			d.SetFont("body", style, bodySize)
			d.Write(lineHeight, words)
		case *ast.CodeSpan:
			d.SetFont("code", "", bodySize-1.2)
			d.Write(lineHeight, plain(n, s.source))
		case *ast.Emphasis:
			s.inline(n, "B")
		case *ast.Link:
			link, ok := s.links[string(n.Destination)]
			if !ok {
				s.err = fmt.Errorf("the link %s leads nowhere", n.Destination)
				return
			}
			d.SetFont("body", "", bodySize)
			d.SetTextColor(0, 60, 150)
			d.WriteLinkID(lineHeight, plain(n, s.source), link)
			d.SetTextColor(0, 0, 0)
		default:
			s.err = fmt.Errorf("nothing sets a %s", n.Kind())
		}
	}
}

func (s *setter) list(l *ast.List) {
	d := s.doc
	const by = 6.0
	number := l.Start
	for item := l.FirstChild(); item != nil; item = item.NextSibling() {
		s.need(2 * lineHeight)
		mark := "•"
		if l.IsOrdered() {
			mark = strconv.Itoa(number) + "."
			number++
		}
		d.SetFont("body", "", bodySize)
		d.SetX(s.left())
		d.CellFormat(by, lineHeight, mark, "", 0, "L", false, 0, "")
		s.indent += by
		s.blocks(item)
		s.indent -= by
		d.Ln(0.8)
	}
	d.Ln(1.5)
}

// quote is a caution: a bar at its left, on one page.
func (s *setter) quote(n *ast.Blockquote) {
	d := s.doc
	s.need(min(12+8*float64(len(plain(n, s.source)))/90, 120))
	page, from := d.PageNo(), d.GetY()
	s.indent += 6
	s.blocks(n)
	s.indent -= 6
	if d.PageNo() == page {
		d.SetFillColor(200, 90, 0)
		d.Rect(margin, from, 1.6, d.GetY()-from-1, "F")
	}
	d.Ln(2)
}

func (s *setter) code(words string) {
	d := s.doc
	d.SetFont("code", "", codeSize)
	room := s.room() - 6
	var lines []string
	for line := range strings.Lines(words) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" {
			lines = append(lines, "")
			continue
		}
		lines = append(lines, s.broken(line, room)...)
	}
	s.need(min(float64(len(lines)), 12)*codeHeight + 4)
	d.SetFillColor(242, 242, 242)
	for _, line := range lines {
		if s.space() < codeHeight+1 {
			d.AddPage()
			d.SetFont("code", "", codeSize)
			d.SetFillColor(242, 242, 242)
		}
		d.SetX(s.left())
		d.CellFormat(3, codeHeight, "", "", 0, "L", true, 0, "")
		d.CellFormat(s.room()-3, codeHeight, line, "", 1, "L", true, 0, "")
	}
	d.Ln(3.5)
}

// broken breaks a line of code that is too long at a blank; what goes on is set in.
func (s *setter) broken(line string, room float64) (list []string) {
	per := int(room / s.doc.GetStringWidth("m"))
	runes := []rune(line)
	for len(runes) > per {
		at := per
		for i := per; i > per/2; i-- {
			if runes[i] == ' ' {
				at = i
				break
			}
		}
		list = append(list, string(runes[:at]))
		runes = append([]rune("    "), []rune(strings.TrimLeft(string(runes[at:]), " "))...)
	}
	return append(list, string(runes))
}

// picture sets a picture with its caption, whole on a page.
func (s *setter) picture(n *ast.Image) {
	d := s.doc
	name := string(n.Destination)
	data, err := manual.Picture(s.lang, name)
	if err == nil {
		data, err = s.ownWidth(data)
	}
	if err != nil {
		s.err = err
		return
	}
	options := fpdf.ImageOptions{ImageType: "png"}
	info := d.RegisterImageOptionsReader(name, options, bytes.NewReader(data))
	if s.err = d.Error(); s.err != nil {
		return
	}
	w, h := pictureSize(info.Width()*72/25.4, info.Height()*72/25.4) // the library takes a picture for one of 72 dots to the inch
	s.need(h + 9)
	y := d.GetY()
	d.ImageOptions(name, margin, y, w, h, false, options, 0, "")
	d.SetDrawColor(150, 150, 150)
	d.Rect(margin, y, w, h, "D")
	d.SetDrawColor(0, 0, 0)
	d.SetY(y + h + 1)
	d.SetFont("body", "", 8.5)
	d.MultiCell(width, 4.2, plain(n, s.source), "", "L", false)
	d.Ln(3)
}

// pictureSize is that of a picture of so many dots on the page.
func pictureSize(across, down float64) (w, h float64) {
	w = min(across*25.4/pictureDPI, width)
	h = w * down / across
	if most := 200.0; h > most {
		w, h = w*most/h, most
	}
	return w, h
}

// heightOf is the height of a picture on the page; 0 of one that is missing, which is
// told where it is set.
func (s *setter) heightOf(n *ast.Image) float64 {
	data, err := manual.Picture(s.lang, string(n.Destination))
	if err != nil {
		return 0
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return 0
	}
	_, h := pictureSize(float64(c.Width), float64(c.Height))
	return h
}

// ownWidth gives a picture columns at its right until no other in the book is as wide:
// the library sorts pictures by nothing but their width, and those of the same width
// would come in another order every time.
func (s *setter) ownWidth(data []byte) ([]byte, error) {
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	box := img.Bounds()
	wide := box.Dx()
	for s.widths[wide] {
		wide++
	}
	s.widths[wide] = true
	if wide == box.Dx() {
		return data, nil
	}
	from, ok := img.(*image.Paletted)
	if !ok {
		return nil, fmt.Errorf("the picture has more than 256 colours: run make manual")
	}
	to := image.NewPaletted(image.Rect(0, 0, wide, box.Dy()), from.Palette)
	for y := range box.Dy() {
		for x := range wide {
			to.SetColorIndex(x, y, from.ColorIndexAt(box.Min.X+min(x, box.Dx()-1), box.Min.Y+y))
		}
	}
	var b bytes.Buffer
	err = png.Encode(&b, to)
	return b.Bytes(), err
}

// cell is one of a table: its words, and how they are set.
type cell struct {
	words, family, style string
	size                 float64
}

func (s *setter) cell(n ast.Node, head bool) cell {
	c := cell{words: plain(n, s.source), family: "body", size: bodySize - 1}
	if only, ok := n.FirstChild().(*ast.CodeSpan); ok && only.NextSibling() == nil {
		c.family, c.size = "code", bodySize-2
	}
	if head {
		c.style = "B"
	}
	return c
}

// table sets rows whose columns are as wide as their words want, less where that is too
// wide for the page.
func (s *setter) table(t *extast.Table) {
	d := s.doc
	var rows [][]cell
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		_, head := row.(*extast.TableHeader)
		var list []cell
		for n := row.FirstChild(); n != nil; n = n.NextSibling() {
			list = append(list, s.cell(n, head))
		}
		rows = append(rows, list)
	}
	const gap, high = 3.0, 4.6
	widths := make([]float64, len(rows[0]))
	for _, row := range rows {
		for i, c := range row {
			d.SetFont(c.family, c.style, c.size)
			widths[i] = max(widths[i], d.GetStringWidth(c.words)+gap)
		}
	}
	fit(widths, s.room())
	for r, row := range rows {
		lines := make([][]string, len(row))
		most := 1
		for i, c := range row {
			d.SetFont(c.family, c.style, c.size)
			if c.words != "" {
				lines[i] = d.SplitText(c.words, widths[i]-gap+2*d.GetCellMargin()+0.5) // it takes the margins off
			}
			most = max(most, len(lines[i]))
		}
		height := float64(most)*high + 1.4
		s.need(height + 1)
		y, x := d.GetY(), s.left()
		for i, c := range row {
			d.SetFont(c.family, c.style, c.size)
			for k, line := range lines[i] {
				d.SetXY(x, y+0.7+float64(k)*high)
				d.CellFormat(widths[i], high, line, "", 0, "L", false, 0, "")
			}
			x += widths[i]
		}
		d.SetLineWidth(0.15)
		if r == 0 {
			d.SetLineWidth(0.4)
		}
		d.Line(s.left(), y+height, s.left()+s.room(), y+height)
		d.SetLineWidth(0.2)
		d.SetXY(margin, y+height)
	}
	d.Ln(4)
}

// fit makes columns narrower until they fit together: the widest ones first.
func fit(widths []float64, room float64) {
	sum := 0.0
	for _, w := range widths {
		sum += w
	}
	for sum > room {
		widest, next := 0, 0.0
		for i, w := range widths {
			if w > widths[widest] {
				widest = i
			}
		}
		for i, w := range widths {
			if i != widest {
				next = max(next, w)
			}
		}
		by := min(sum-room, max(widths[widest]-next, 1))
		widths[widest] -= by
		sum -= by
	}
}
