package figure

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	vgfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// Raster draws figures into one picture that it keeps, for a screen that wants
// them often. The zero value is ready. It is not for use by several goroutines
// at once.
type Raster struct {
	// Clear leaves the surface away, so that the figure can lie over another.
	Clear bool

	img    *image.RGBA
	canvas *rasterCanvas
	glyphs map[glyphKey]glyph
}

// Render draws a drawing into a picture of w by h pixels, its top left corner
// in the picture's, at scale pixels per point. The picture is the same one each
// time while the size stays, drawn over: whoever keeps it must copy it. Sizes
// below one pixel count as one.
func (r *Raster) Render(d Drawing, st Style, w, h int, scale float64) *image.RGBA {
	w, h = max(w, 1), max(h, 1)
	if r.img == nil || r.img.Rect.Dx() != w || r.img.Rect.Dy() != h {
		r.img = image.NewRGBA(image.Rect(0, 0, w, h))
		ctx := gg.NewContextForRGBA(r.img)
		ctx.SetLineCapButt()
		ctx.SetLineJoinBevel()
		ctx.InvertY()
		r.canvas = &rasterCanvas{raster: r, Canvas: vgimg.NewWith(vgimg.UseImageWithContext(r.img, ctx), vgimg.UseDPI(72))}
	}
	bg := image.NewUniform(st.Color(Surface))
	if r.Clear {
		bg = image.NewUniform(color.Transparent)
	}
	draw.Draw(r.img, r.img.Rect, bg, image.Point{}, draw.Src)
	walker{c: r.canvas, st: st, k: scale, h: float64(h), crisp: true}.shapes(d)
	return r.img
}

// WritePNG writes a drawing as a PNG with dpi pixels to the inch, which it says of
// itself, so that it prints as large as the drawing.
func WritePNG(w io.Writer, d Drawing, st Style, dpi float64) error {
	scale := dpi / 72
	var r Raster
	img := r.Render(d, st, int(math.Ceil(d.W*scale)), int(math.Ceil(d.H*scale)), scale)
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	_, err := w.Write(withDensity(b.Bytes(), dpi))
	return err
}

// withDensity puts a chunk behind a PNG's header that says how many pixels go to
// the metre (ISO/IEC 15948, 11.3.5.3).
func withDensity(file []byte, dpi float64) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // signature; length, name, data and check of IHDR
	perMetre := uint32(math.Round(dpi / 0.0254))
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(chunk, perMetre), perMetre)
	chunk = append(chunk, 1) // per metre
	out := append([]byte(nil), file[:header]...)
	out = append(binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4)), chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, file[header:]...)
}

// rasterCanvas is the picture canvas of vg with text of its own: it sets
// without kerning, as every back end does, and keeps the glyphs it has drawn.
type rasterCanvas struct {
	*vgimg.Canvas
	raster *Raster
	color  color.Color
	pushed int
}

func (c *rasterCanvas) SetColor(col color.Color) {
	c.color = col
	c.Canvas.SetColor(col)
}

func (c *rasterCanvas) Push() {
	c.pushed++
	c.Canvas.Push()
}

func (c *rasterCanvas) Pop() {
	c.pushed--
	c.Canvas.Pop()
}

// Fill paints a rectangle of whole pixels at once and leaves the rest to the
// rasterizer.
func (c *rasterCanvas) Fill(p vg.Path) {
	if len(p) != 5 || c.pushed > 0 || p[4].Type != vg.CloseComp {
		c.Canvas.Fill(p)
		return
	}
	a, b := p[0].Pos, p[2].Pos
	if p[1].Pos != (vg.Point{X: b.X, Y: a.Y}) || p[3].Pos != (vg.Point{X: a.X, Y: b.Y}) {
		c.Canvas.Fill(p)
		return
	}
	h := float64(c.raster.img.Rect.Dy())
	x0, y0, x1, y1 := float64(a.X), h-float64(a.Y), float64(b.X), h-float64(b.Y)
	for _, v := range [...]float64{x0, y0, x1, y1} {
		if v != math.Trunc(v) || math.Abs(v) > 1<<20 {
			c.Canvas.Fill(p)
			return
		}
	}
	draw.Draw(c.raster.img, image.Rect(int(x0), int(y0), int(x1), int(y1)), image.NewUniform(c.color), image.Point{}, draw.Over)
}

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

// FillString sets level text from kept glyphs, on whole pixels up and down and
// quarters across, and turned text as outlines.
func (c *rasterCanvas) FillString(f vgfont.Face, pt vg.Point, s string) {
	isBold := f.Font.Weight == font.WeightBold
	tf, size := fontOf(isBold), f.Font.Size.Points()
	x := pt.X.Points()
	if c.pushed > 0 {
		for _, r := range s {
			c.Fill(outline(tf, r, size, x, pt.Y.Points()))
			x += tf.advance(r) * size
		}
		return
	}
	dst := c.raster.img
	y := int(math.Round(float64(dst.Rect.Dy()) - pt.Y.Points()))
	src := image.NewUniform(c.color)
	for _, r := range s {
		quarters := math.Round(x * 4)
		whole := math.Floor(quarters / 4)
		g := c.raster.glyph(glyphKey{r, float32(size), isBold, uint8(quarters - 4*whole)})
		if g.mask != nil {
			at := g.mask.Rect.Add(image.Pt(int(whole), y))
			draw.DrawMask(dst, at, src, image.Point{}, g.mask, g.mask.Rect.Min, draw.Over)
		}
		x += tf.advance(r) * size
	}
}

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

// outline returns a character as a path with its dot at x, y of the canvas.
func outline(tf *typeface, r rune, size, x, y float64) vg.Path {
	at := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: vg.Length(x + float64(p.X)/64), Y: vg.Length(y - float64(p.Y)/64)}
	}
	var p vg.Path
	for _, s := range glyphSegments(tf, r, size) {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			p.Move(at(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			p.Line(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			p.QuadTo(at(s.Args[0]), at(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			p.CubeTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
	return p
}
