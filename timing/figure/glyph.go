package figure

import (
	"image"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

type glyphKey struct {
	r    rune
	size float32 // pixels
	bold bool
	sub  uint8 // quarters of a pixel to the right
}

type glyph struct {
	mask *image.Alpha // round the dot
}

// maxGlyphs bounds the glyphs kept; a figure uses some hundreds.
const maxGlyphs = 4096

func (r *Raster) glyph(k glyphKey) glyph {
	if g, ok := r.glyphs[k]; ok {
		return g
	}
	if r.glyphs == nil || len(r.glyphs) >= maxGlyphs {
		r.glyphs = make(map[glyphKey]glyph)
	}
	g := newGlyph(k)
	r.glyphs[k] = g
	return g
}

// newGlyph draws a glyph; an empty one has no mask.
func newGlyph(k glyphKey) glyph {
	segs := glyphSegments(fontOf(k.bold), k.r, float64(k.size))
	if len(segs) == 0 {
		return glyph{}
	}
	b := segs.Bounds()
	sub := float32(k.sub) / 4
	box := image.Rect(b.Min.X.Floor(), b.Min.Y.Floor(), b.Max.X.Ceil()+1, b.Max.Y.Ceil())
	if box.Empty() {
		return glyph{}
	}
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(p fixed.Point26_6) (float32, float32) {
		return float32(p.X)/64 + sub - float32(box.Min.X), float32(p.Y)/64 - float32(box.Min.Y)
	}
	for _, s := range segs {
		x0, y0 := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			z.ClosePath()
			z.MoveTo(x0, y0)
		case sfnt.SegmentOpLineTo:
			z.LineTo(x0, y0)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			z.QuadTo(x0, y0, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			z.CubeTo(x0, y0, x1, y1, x2, y2)
		}
	}
	z.ClosePath()
	mask := image.NewAlpha(box)
	z.Draw(mask, box, image.Opaque, image.Point{})
	return glyph{mask}
}

// glyphSegments returns a character's outline at a size, y down, none when it
// is blank.
func glyphSegments(tf *typeface, r rune, size float64) sfnt.Segments {
	var buf sfnt.Buffer
	i, err := tf.font.GlyphIndex(&buf, r)
	if err != nil {
		return nil
	}
	segs, err := tf.font.LoadGlyph(&buf, i, fixed.Int26_6(math.Round(size*64)), nil)
	if err != nil {
		return nil
	}
	return segs
}
