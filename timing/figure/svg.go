package figure

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/assets"
)

// WriteSVG writes a drawing as an SVG document of its own size. Its text can be
// selected and searched; the characters used travel with it as a font, and each
// text states its length, so that it keeps its place where that font is refused.
// The same drawing gives the same bytes. The error is the writer's.
func WriteSVG(w io.Writer, d Drawing, st Style) error {
	var sheet SVGSheet
	body := sheet.body(d, st)
	css, err := sheet.CSS()
	if err != nil {
		return err
	}
	return writeSVG(w, d, "<style>\n"+css+"</style>\n", body)
}

// writeSVG writes the document round what a drawing has become.
func writeSVG(w io.Writer, d Drawing, style string, body []byte) error {
	var b bytes.Buffer
	size := num(d.W, 2) + " " + num(d.H, 2)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%spt" height="%spt" viewBox="0 0 %s" role="img">`+"\n",
		num(d.W, 2), num(d.H, 2), size)
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", escaped(d.Title), escaped(d.Desc))
	b.WriteString(style)
	b.Write(body)
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// SVGFont is the name under which the characters an SVG uses travel with it.
const SVGFont = "Pinphase Figure"

// SVGSheet makes drawings that stand in one page of HTML and share one font. The
// zero value is ready.
type SVGSheet struct {
	used [2][]rune // characters set in regular and bold, sorted
}

// Write writes a drawing as an SVG element without a font of its own.
func (s *SVGSheet) Write(w io.Writer, d Drawing, st Style) error {
	return writeSVG(w, d, "", s.body(d, st))
}

func (s *SVGSheet) body(d Drawing, st Style) []byte {
	c := &svgCanvas{sheet: s}
	drawOn(c, d, st)
	return c.body.Bytes()
}

// Use says that a text beside the drawings is to be set in the same font.
func (s *SVGSheet) Use(bold bool, text string) {
	i := 0
	if bold {
		i = 1
	}
	for _, r := range text {
		if at, there := slices.BinarySearch(s.used[i], r); !there {
			s.used[i] = slices.Insert(s.used[i], at, r)
		}
	}
}

// CSS returns the rules for the drawings written so far: the characters that
// were used, as a font, and how text is set.
func (s *SVGSheet) CSS() (string, error) {
	var b strings.Builder
	for i, isBold := range [...]bool{false, true} {
		if used := s.used[i]; len(used) > 0 {
			sub, err := subset(fontOf(isBold).data, used)
			if err != nil {
				return "", fmt.Errorf("embedding the font: %w", err)
			}
			fmt.Fprintf(&b, "@font-face{font-family:'%s';font-weight:%s;src:url(data:font/ttf;base64,%s)}\n",
				SVGFont, [...]string{"normal", "bold"}[i], base64.StdEncoding.EncodeToString(sub))
		}
	}
	fmt.Fprintf(&b, "text{font-family:'%s','%s','DejaVu Sans',sans-serif;font-kerning:none;font-variant-ligatures:none;white-space:pre}\n",
		SVGFont, assets.FontFamily)
	return b.String(), nil
}

// svgCanvas writes SVG elements.
type svgCanvas struct {
	body  bytes.Buffer
	sheet *SVGSheet
}

func (c *svgCanvas) stroke(p []Seg, l line) {
	if l.width <= 0 {
		return
	}
	fmt.Fprintf(&c.body, `<path d="%s" fill="none" stroke="%s"%s stroke-width="%s"`,
		data(p), hex(l.color), opacity("stroke", l.color), num(l.width, 2))
	if len(l.dash) > 0 {
		fmt.Fprintf(&c.body, ` stroke-dasharray="%s"`, strings.TrimSpace(nums(l.dash...)))
	}
	c.body.WriteString("/>\n")
}

func (c *svgCanvas) fill(p []Seg, col color.RGBA) {
	fmt.Fprintf(&c.body, "<path d=\"%s\" fill=\"%s\"%s/>\n", data(p), hex(col), opacity("fill", col))
}

func (c *svgCanvas) write(t writing) {
	weight := ""
	if t.bold {
		weight = ` font-weight="bold"`
	}
	c.sheet.Use(t.bold, t.s)
	w, _, _ := MeasureText(t.size, t.bold, t.s)
	turn := ""
	if t.turn != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s)"`, strings.TrimSpace(nums(t.turn, t.x, t.y)))
	}
	fmt.Fprintf(&c.body, `<text x="%s" y="%s" font-size="%s"%s fill="%s"%s textLength="%s" lengthAdjust="spacingAndGlyphs"%s>%s</text>`+"\n",
		num(t.x, 2), num(t.y, 2), num(t.size, 2), weight, hex(t.color), opacity("fill", t.color), num(w, 2), turn, escaped(t.s))
}

func (c *svgCanvas) picture(r Rect, img image.Image) {
	kind, data, err := encodedPicture(img)
	if err != nil { // only an empty or huge picture
		return
	}
	fmt.Fprintf(&c.body, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/%s;base64,%s"/>`+"\n",
		num(r.X, 2), num(r.Y, 2), num(r.W, 2), num(r.H, 2), kind, base64.StdEncoding.EncodeToString(data))
}

// data is a path as SVG path data.
func data(p []Seg) string {
	var d svgData
	trace(p, &d)
	return d.String()
}

// svgData writes path data.
type svgData struct{ strings.Builder }

func (d *svgData) step(op byte, v ...float64) {
	d.WriteByte(op)
	d.WriteString(strings.TrimPrefix(nums(v...), " "))
}
func (d *svgData) moveTo(x, y float64) { d.step('M', x, y) }
func (d *svgData) lineTo(x, y float64) { d.step('L', x, y) }
func (d *svgData) cubeTo(x1, y1, x2, y2, x, y float64) {
	d.step('C', x1, y1, x2, y2, x, y)
}
func (d *svgData) closePath() { d.WriteByte('Z') }

func hex(c color.RGBA) string {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return fmt.Sprintf("#%02x%02x%02x", n.R, n.G, n.B)
}

func opacity(what string, c color.RGBA) string {
	if c.A == math.MaxUint8 {
		return ""
	}
	return fmt.Sprintf(` %s-opacity="%s"`, what, num(float64(c.A)/math.MaxUint8, 3))
}

func escaped(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a strings.Builder never fails
	return b.String()
}
