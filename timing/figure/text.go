package figure

import (
	"fmt"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"pinphase.org/pinphase/assets"
)

// Text is one line of writing.
type Text struct {
	X, Y float64 // where its anchor stands
	S    string
	Size float64 // points
	Bold bool
	H    HAnchor
	V    VAnchor
	Turn float64 // page angle its upright points to: 0 is level, 90 reads downwards
	Role Role
}

// HAnchor says which part of the text stands at X.
type HAnchor uint8

// The horizontal anchors.
const (
	Left HAnchor = iota
	Centre
	Right
)

// VAnchor says which part of the text stands at Y.
type VAnchor uint8

// The vertical anchors. Middle is half the height of a capital, so that a
// label sits level with the mark beside it.
const (
	Baseline VAnchor = iota
	Middle
	Top
	Bottom
)

// capHeight is the height of the capital H over the size, as the font's OS/2
// table gives it (1493 of 2048 units).
const capHeight = 1493.0 / 2048

// MeasureText returns how wide a text is and how far the font reaches above
// and below the baseline, all in points. A character the font lacks counts as
// the box that is drawn instead.
func MeasureText(size float64, bold bool, s string) (w, ascent, descent float64) {
	f := fontOf(bold)
	for _, r := range s {
		w += f.advance(r)
	}
	return w * size, f.ascent * size, f.descent * size
}

// offset is from the anchor to the left end of the baseline, before turning.
func (t Text) offset() (dx, dy float64) {
	w, asc, desc := MeasureText(t.Size, t.Bold, t.S)
	switch t.H {
	case Centre:
		dx = -w / 2
	case Right:
		dx = -w
	}
	switch t.V {
	case Middle:
		dy = t.Size * capHeight / 2
	case Top:
		dy = asc
	case Bottom:
		dy = -desc
	}
	return dx, dy
}

// Bounds returns the rectangle round the text, from the font's ascent to its
// descent.
func (t Text) Bounds() Rect {
	w, asc, desc := MeasureText(t.Size, t.Bold, t.S)
	dx, dy := t.offset()
	b := newBounds()
	for _, c := range [4][2]float64{{dx, dy - asc}, {dx + w, dy - asc}, {dx, dy + desc}, {dx + w, dy + desc}} {
		x, y := Polar(t.X, t.Y, c[0], t.Turn+90)
		b.add(Polar(x, y, -c[1], t.Turn))
	}
	return b.rect()
}

func (t Text) moved(dx, dy float64) Shape {
	t.X, t.Y = t.X+dx, t.Y+dy
	return t
}

func (t Text) scaled(k float64) Shape {
	t.X, t.Y, t.Size = k*t.X, k*t.Y, k*t.Size
	return t
}

// String writes the text as one line.
func (t Text) String() string {
	s := fmt.Sprintf("text%s %q size=%s %s,%s role=%s", nums(t.X, t.Y), t.S, num(t.Size, 2),
		[...]string{"left", "centre", "right"}[t.H], [...]string{"baseline", "middle", "top", "bottom"}[t.V], t.Role)
	if t.Bold {
		s += " bold"
	}
	if t.Turn != 0 {
		s += " turn=" + num(t.Turn, 2)
	}
	return s
}

// typeface is one parsed font with what measuring needs of it. It may be used from
// several goroutines.
type typeface struct {
	font            *opentype.Font
	data            []byte
	bold            bool
	ascent, descent float64          // over the size
	advances        map[rune]float64 // over the size, of the characters people meet; never written to later
	others          sync.Map         // likewise, by rune, of others once they were met
}

var (
	regular = sync.OnceValue(func() *typeface { return newTypeface(assets.FontRegular, false) })
	bold    = sync.OnceValue(func() *typeface { return newTypeface(assets.FontBold, true) })
)

func fontOf(isBold bool) *typeface {
	if isBold {
		return bold()
	}
	return regular()
}

func newTypeface(data []byte, isBold bool) *typeface {
	f, err := opentype.Parse(data)
	if err != nil {
		panic("figure: the embedded font is damaged: " + err.Error())
	}
	var buf sfnt.Buffer
	em := fixed.Int26_6(f.UnitsPerEm()) << 6
	m, err := f.Metrics(&buf, em, font.HintingNone)
	if err != nil {
		panic("figure: the embedded font has no metrics: " + err.Error())
	}
	t := &typeface{font: f, data: data, bold: isBold, ascent: float64(m.Ascent) / float64(em), descent: float64(m.Descent) / float64(em)}
	t.advances = make(map[rune]float64)
	for r := rune(' '); r < 0x530; r++ { // Latin, Greek, Cyrillic
		t.advances[r] = t.measure(r)
	}
	for r := rune(0x2000); r < 0x2400; r++ { // punctuation, arrows, mathematics
		t.advances[r] = t.measure(r)
	}
	return t
}

func (t *typeface) advance(r rune) float64 {
	if a, ok := t.advances[r]; ok {
		return a
	}
	if a, ok := t.others.Load(r); ok {
		return a.(float64)
	}
	a := t.measure(r)
	t.others.Store(r, a)
	return a
}

func (t *typeface) measure(r rune) float64 {
	var buf sfnt.Buffer
	em := fixed.Int26_6(t.font.UnitsPerEm()) << 6
	g, err := t.font.GlyphIndex(&buf, r)
	if err != nil {
		return 0
	}
	a, err := t.font.GlyphAdvance(&buf, g, em, font.HintingNone)
	if err != nil {
		return 0
	}
	return float64(a) / float64(em)
}
