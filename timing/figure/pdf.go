package figure

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
)

// WritePDF writes a drawing as a PDF of one page of its own size. The same
// drawing gives the same bytes: its date is that of the format, 1 July 2008.
func WritePDF(w io.Writer, d Drawing, st Style) error {
	return WritePDFPages(w, []Drawing{d}, st, time.Date(2008, 7, 1, 0, 0, 0, 0, time.UTC))
}

// WritePDFPages writes drawings as the pages of one PDF, each page as large as
// its drawing; title and description are those of the first. date is written as
// the date of creation; the same drawings and date give the same bytes.
func WritePDFPages(w io.Writer, pages []Drawing, st Style, date time.Time) error {
	if len(pages) == 0 {
		return fmt.Errorf("a PDF needs at least one page")
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: pages[0].W, Ht: pages[0].H}})
	doc.SetCreationDate(date)
	doc.SetModificationDate(date)
	doc.SetCatalogSort(true)
	doc.SetProducer("Pinphase", true)
	doc.SetTitle(pages[0].Title, true)
	doc.SetSubject(pages[0].Desc, true)
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	fonts := map[bool]bool{}
	for _, d := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: d.W, Ht: d.H})
		doc.SetLineJoinStyle("miter")
		doc.SetLineCapStyle("butt")
		drawOn(&pdfCanvas{doc, fonts}, d, st)
	}
	return doc.Output(w)
}

// pdfCanvas draws on a page of a PDF. The font's used characters are embedded and
// text stays text.
type pdfCanvas struct {
	doc   *fpdf.Fpdf
	fonts map[bool]bool // embedded so far: regular, bold
}

func (c *pdfCanvas) stroke(p []Seg, l line) {
	if l.width <= 0 {
		return
	}
	c.doc.SetDrawColor(onWhite(l.color))
	c.doc.SetLineWidth(l.width)
	c.doc.SetDashPattern(l.dash, 0)
	trace(p, pdfPath{c.doc})
	c.doc.DrawPath("D")
}

func (c *pdfCanvas) fill(p []Seg, col color.RGBA) {
	c.doc.SetFillColor(onWhite(col))
	trace(p, pdfPath{c.doc})
	c.doc.DrawPath("F")
}

func (c *pdfCanvas) write(t writing) {
	const family = "figure"
	style := ""
	if t.bold {
		style = "B"
	}
	if !c.fonts[t.bold] {
		c.fonts[t.bold] = true
		c.doc.AddUTF8FontFromBytes(family, style, fontOf(t.bold).data)
	}
	s := strings.Map(func(r rune) rune {
		if r > 0xffff { // the writer's tables end here
			return unicode.ReplacementChar
		}
		return r
	}, t.s)
	c.doc.SetTextColor(onWhite(t.color))
	c.doc.SetFont(family, style, t.size)
	if t.turn == 0 {
		c.doc.Text(t.x, t.y, s)
		return
	}
	c.doc.TransformBegin()
	c.doc.TransformRotate(-t.turn, t.x, t.y)
	c.doc.Text(t.x, t.y, s)
	c.doc.TransformEnd()
}

func (c *pdfCanvas) picture(r Rect, img image.Image) {
	kind, data, err := encodedPicture(img)
	if err != nil {
		c.doc.SetError(err)
		return
	}
	name := fmt.Sprintf("picture %x", sha256.Sum256(data)) // the same picture is stored once
	c.doc.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
	c.doc.ImageOptions(name, r.X, r.Y, r.W, r.H, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
}

// onWhite is the colour, mixed onto white where it is not opaque.
func onWhite(c color.RGBA) (r, g, b int) {
	rest := math.MaxUint8 - int(c.A)
	return int(c.R) + rest, int(c.G) + rest, int(c.B) + rest
}

// pdfPath hands path steps to the document.
type pdfPath struct{ doc *fpdf.Fpdf }

func (p pdfPath) moveTo(x, y float64) { p.doc.MoveTo(x, y) }
func (p pdfPath) lineTo(x, y float64) { p.doc.LineTo(x, y) }
func (p pdfPath) cubeTo(x1, y1, x2, y2, x, y float64) {
	p.doc.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
}
func (p pdfPath) closePath() { p.doc.ClosePath() }
