package figure

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"image"
	"io"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"pinphase.org/pinphase/assets"
)

func hypot(a, b float64) float64 { return math.Hypot(a, b) }

func sampleWheel() Drawing {
	d, _ := Wheel(wheelInput(36, []int{36}, -25), Box{W: 600, H: 400})
	return d
}

func TestPDFIsTheSameEveryTime(t *testing.T) {
	t.Parallel()
	var a, b, later bytes.Buffer
	d := sampleWheel()
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := WritePDF(w, d, Light()); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same drawing gave two different PDFs")
	}
	if err := WritePDFPages(&later, []Drawing{d}, Light(), time.Date(2031, 2, 3, 4, 5, 6, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(later.Bytes(), []byte("20310203040506")) {
		t.Error("the date is not in the PDF")
	}
	if err := WritePDFPages(io.Discard, nil, Light(), time.Time{}); err == nil {
		t.Error("a PDF without pages is no error")
	}
}

// streams returns the unpacked streams of a PDF, one after the other.
func streams(t *testing.T, pdf []byte) []byte {
	t.Helper()
	var all []byte
	for _, part := range bytes.Split(pdf, []byte("endstream")) {
		_, body, ok := bytes.Cut(part, []byte("stream\n"))
		if !ok {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue // an unpacked one
		}
		s, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		all = append(append(all, s...), '\n')
	}
	return all
}

// Text stays text, with minus and degree as such, not as outlines.
func TestPDFKeepsText(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := WritePDF(&b, sampleWheel(), Paper()); err != nil {
		t.Fatal(err)
	}
	content := streams(t, b.Bytes())
	for _, s := range []string{"−25.0°", "dowel, measured", "TDC 1"} {
		var wide []byte
		for _, u := range utf16.Encode([]rune(s)) {
			wide = append(wide, byte(u>>8), byte(u))
		}
		if !bytes.Contains(content, wide) {
			t.Errorf("%q is not in the PDF's text", s)
		}
	}
	if !bytes.Contains(b.Bytes(), []byte("/ToUnicode")) {
		t.Error("the PDF's text cannot be copied")
	}
}

func TestPDFPages(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	cycle, _ := Cycle(cycleInput(engine(4, []int{1, 3, 4, 2}), 5), Box{W: 842, H: 595})
	if err := WritePDFPages(&b, []Drawing{sampleWheel(), cycle}, Light(), time.Unix(0, 0)); err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"/Count 2", "/MediaBox [0 0 842.00 595.00]"} {
		if !bytes.Contains(b.Bytes(), []byte(s)) {
			t.Errorf("%q is not in the PDF", s)
		}
	}
}

func TestSVGIsWellFormedAndKeepsText(t *testing.T) {
	t.Parallel()
	d := sampleWheel()
	d.Title, d.Desc = "Wheel <of> & \"quotes\"", "−25°"
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := WriteSVG(w, d, Dark()); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same drawing gave two different SVGs")
	}
	if a.Len() > 300_000 {
		t.Errorf("the SVG has %d bytes, want less than 300 kB", a.Len())
	}
	texts, title := map[string]bool{}, ""
	x, inside := xml.NewDecoder(&a), ""
	for {
		tok, err := x.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			inside = tok.Name.Local
		case xml.EndElement:
			inside = ""
		case xml.CharData:
			switch inside {
			case "text":
				texts[string(tok)] = true
			case "title":
				title = string(tok)
			}
		}
	}
	if title != d.Title {
		t.Errorf("the title is %q, want %q", title, d.Title)
	}
	for _, s := range []string{"−25.0°", "sensor", "TDC 1"} {
		if !texts[s] {
			t.Errorf("%q is not a text of the SVG", s)
		}
	}
}

// The cut-down font has the same outlines and widths as the whole one, composed
// letters too.
func TestSubset(t *testing.T) {
	t.Parallel()
	used := []rune("°−≤⌀Aeé1Ångström")
	for _, data := range [][]byte{assets.FontRegular, assets.FontBold} {
		cut, err := subset(data, used)
		if err != nil {
			t.Fatal(err)
		}
		if len(cut) > 20_000 {
			t.Errorf("%d characters make a font of %d bytes", len(used), len(cut))
		}
		if checksum(cut) != 0xb1b0afba {
			t.Errorf("the font's checksum is %#x", checksum(cut))
		}
		whole, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		part, err := sfnt.Parse(cut)
		if err != nil {
			t.Fatal(err)
		}
		ppem := fixed.I(2048)
		for _, r := range used {
			var wb, pb sfnt.Buffer
			wi, _ := whole.GlyphIndex(&wb, r)
			pi, err := part.GlyphIndex(&pb, r)
			if err != nil || pi == 0 {
				t.Errorf("%c is not in the font: %v", r, err)
				continue
			}
			wa, _ := whole.GlyphAdvance(&wb, wi, ppem, font.HintingNone)
			pa, _ := part.GlyphAdvance(&pb, pi, ppem, font.HintingNone)
			ws, _ := whole.LoadGlyph(&wb, wi, ppem, nil)
			ps, err := part.LoadGlyph(&pb, pi, ppem, nil)
			if err != nil || wa != pa || len(ws) != len(ps) {
				t.Errorf("%c: width %v, want %v; %d outline steps, want %d; %v", r, pa, wa, len(ps), len(ws), err)
				continue
			}
			for i := range ws {
				if ws[i] != ps[i] {
					t.Errorf("%c: outline step %d is %v, want %v", r, i, ps[i], ws[i])
				}
			}
		}
		if i, _ := part.GlyphIndex(nil, 'Z'); i != 0 {
			t.Error("a character nobody uses is in the font")
		}
	}
}

func TestSubsetOfSomethingElse(t *testing.T) {
	t.Parallel()
	whole := assets.FontRegular
	for _, b := range [][]byte{nil, []byte("not a font at all"), whole[:12], whole[:200], whole[:len(whole)/2], []byte("OTTO" + string(whole[4:]))} {
		if _, err := subset(b, []rune("A")); err == nil {
			t.Errorf("%d bytes of something else make a font", len(b))
		}
	}
}

// An arc becomes cubic curves that miss it by less than 0.03 % of its radius, and
// goes clockwise down a page whose y grows downwards; one that begins a path needs
// no step to get there.
func TestArcsBecomeCurves(t *testing.T) {
	t.Parallel()
	if got, want := data([]Seg{{Op: ArcTo, X: 50, Y: 50, R: 10, Start: 90, Sweep: -90}}), "M60 50C60 44.48 55.52 40 50 40"; got != want {
		t.Errorf("a quarter circle is %s, want %s", got, want)
	}
	for _, sweep := range []float64{360, -360, 200, 91, 1} {
		var c curves
		trace(Arc(3, 4, 100, 30, sweep), &c)
		for _, p := range c.points {
			if r := math.Hypot(p.x-3, p.y-4); math.Abs(r-100) > 0.03 {
				t.Errorf("%g degrees: a point lies %g from the middle, want 100", sweep, r)
			}
		}
		x, y := Polar(3, 4, 100, 30+sweep)
		if end := c.points[len(c.points)-1]; math.Hypot(end.x-x, end.y-y) > 1e-9 {
			t.Errorf("%g degrees: the arc ends at %v, want %g, %g", sweep, end, x, y)
		}
	}
}

// curves keeps points along what it is handed.
type curves struct{ points []point }

func (c *curves) moveTo(x, y float64) { c.points = append(c.points, point{x, y}) }
func (c *curves) lineTo(x, y float64) { c.moveTo(x, y) }
func (c *curves) closePath()          {}
func (c *curves) cubeTo(x1, y1, x2, y2, x, y float64) { // Bernstein's polynomials
	from := c.points[len(c.points)-1]
	for i := 1; i <= 50; i++ {
		t := float64(i) / 50
		u := 1 - t
		a, b, d, e := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		c.moveTo(a*from.x+b*x1+d*x2+e*x, a*from.y+b*y1+d*y2+e*y)
	}
}

// Turned text and pictures stand where the page has them.
func TestTurnedTextAndPictures(t *testing.T) {
	t.Parallel()
	c := &svgCanvas{sheet: &SVGSheet{}}
	drawOn(c, Drawing{W: 100, H: 100, Shapes: []Shape{
		Text{X: 10, Y: 80, S: "a<b", Size: 18, Turn: -90, Role: Ink},
		Picture{Rect: Rect{10, 80, 20, 10}, Image: image.NewGray(image.Rect(0, 0, 2, 2))},
	}}, Light())
	for _, want := range []string{`rotate(-90 10 80)`, "a&lt;b", `font-size="18"`, `<image x="10" y="80" width="20" height="10"`} {
		if !strings.Contains(c.body.String(), want) {
			t.Errorf("%s is not in %s", want, c.body.String())
		}
	}
}

func TestTransparentInk(t *testing.T) {
	t.Parallel()
	d := Drawing{W: 10, H: 10, Shapes: []Shape{Path{Segs: Rectangle(Rect{0, 0, 5, 5}), Fill: Warning}}}
	st := Light()
	st.looks[Warning].Color.A, st.looks[Warning].Color.R, st.looks[Warning].Color.G, st.looks[Warning].Color.B = 0x80, 0x80, 0, 0
	var b bytes.Buffer
	if err := WriteSVG(&b, d, st); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `fill="#ff0000" fill-opacity="0.502"`) {
		t.Errorf("half a red is written as %s", b.String())
	}
}
