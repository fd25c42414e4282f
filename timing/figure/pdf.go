package figure

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"io"
	"math"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font"
	vgfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
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
	fonts := map[string]bool{}
	for _, d := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: d.W, Ht: d.H})
		doc.SetLineJoinStyle("miter")
		doc.SetLineCapStyle("butt")
		Draw(&pdfCanvas{pen: newPen(d.H), doc: doc, fonts: fonts}, d, st)
	}
	return doc.Output(w)
}

// pdfCanvas is a vg.Canvas over a PDF page. The one in vg/vgpdf writes text in
// code page 1252, which has neither minus nor comparison signs; here the font's
// used characters are embedded and text stays text.
type pdfCanvas struct {
	pen
	doc   *fpdf.Fpdf
	fonts map[string]bool // styles embedded so far
}

var _ vg.Canvas = (*pdfCanvas)(nil)

func (c *pdfCanvas) Stroke(p vg.Path) {
	if c.width <= 0 {
		return
	}
	r, g, b := c.ink()
	c.doc.SetDrawColor(r, g, b)
	c.doc.SetLineWidth(c.width * c.scaled())
	c.doc.SetDashPattern(c.dash, c.offset)
	c.trace(p, pdfPath{c.doc})
	c.doc.DrawPath("D")
}

func (c *pdfCanvas) Fill(p vg.Path) {
	r, g, b := c.ink()
	c.doc.SetFillColor(r, g, b)
	c.trace(p, pdfPath{c.doc})
	c.doc.DrawPath("F")
}

func (c *pdfCanvas) FillString(f vgfont.Face, pt vg.Point, s string) {
	const family = "figure"
	style := ""
	if f.Font.Weight == font.WeightBold {
		style = "B"
	}
	if !c.fonts[style] {
		c.fonts[style] = true
		c.doc.AddUTF8FontFromBytes(family, style, fontOf(style == "B").data)
	}
	s = strings.Map(func(r rune) rune {
		if r > 0xffff { // the writer's tables end here
			return unicode.ReplacementChar
		}
		return r
	}, s)
	r, g, b := c.ink()
	c.doc.SetTextColor(r, g, b)
	c.doc.SetFont(family, style, f.Font.Size.Points()*c.scaled())
	x, y := c.place(pt.X.Points(), pt.Y.Points())
	a := c.turned()
	if a == 0 {
		c.doc.Text(x, y, s)
		return
	}
	c.doc.TransformBegin()
	c.doc.TransformRotate(a, x, y)
	c.doc.Text(x, y, s)
	c.doc.TransformEnd()
}

// DrawImage lays a picture into an upright rectangle of the canvas.
func (c *pdfCanvas) DrawImage(r vg.Rectangle, img image.Image) {
	kind, data, err := encodedPicture(img)
	if err != nil {
		c.doc.SetError(err)
		return
	}
	name := fmt.Sprintf("picture %x", sha256.Sum256(data)) // the same picture is stored once
	c.doc.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
	x, y := c.place(r.Min.X.Points(), r.Max.Y.Points())
	size := r.Size()
	c.doc.ImageOptions(name, x, y, size.X.Points()*c.scaled(), size.Y.Points()*c.scaled(), false,
		fpdf.ImageOptions{ImageType: kind}, 0, "")
}

// ink is the colour, mixed onto white where it is not opaque.
func (c *pdfCanvas) ink() (r, g, b int) {
	rest := math.MaxUint8 - int(c.color.A)
	return int(c.color.R) + rest, int(c.color.G) + rest, int(c.color.B) + rest
}

// pdfPath hands path steps to the document.
type pdfPath struct{ doc *fpdf.Fpdf }

func (p pdfPath) moveTo(x, y float64) { p.doc.MoveTo(x, y) }
func (p pdfPath) lineTo(x, y float64) { p.doc.LineTo(x, y) }
func (p pdfPath) cubeTo(x1, y1, x2, y2, x, y float64) {
	p.doc.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
}
func (p pdfPath) closePath() { p.doc.ClosePath() }
