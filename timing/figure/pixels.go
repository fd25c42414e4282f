package figure

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/golang/freetype/raster"
	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/f64"
	"golang.org/x/image/math/fixed"
)

// rasterCanvas draws pixels. Its rasterizer keeps the pixels that edges cross, not
// those of the box round a shape: a thin line across a large screen costs little.
type rasterCanvas struct {
	raster *Raster
	edges  *raster.Rasterizer
	paint  *raster.RGBAPainter
}

func newRasterCanvas(r *Raster) *rasterCanvas {
	edges := raster.NewRasterizer(r.img.Rect.Dx(), r.img.Rect.Dy())
	edges.UseNonZeroWinding = true
	return &rasterCanvas{r, edges, raster.NewRGBAPainter(r.img)}
}

// fill paints a rectangle of whole pixels at once and leaves the rest to the
// rasterizer.
func (c *rasterCanvas) fill(p []Seg, col color.RGBA) {
	if r, ok := wholePixels(p); ok {
		draw.Draw(c.raster.img, r, image.NewUniform(col), image.Point{}, draw.Over)
		return
	}
	var path raster.Path
	closing := func() { // an area has no open outlines
		if len(path) > 0 {
			path.Add1(fixed.Point26_6{X: path[1], Y: path[2]})
			c.edges.AddPath(path)
			path.Clear()
		}
	}
	for _, s := range p {
		switch s.Op {
		case MoveTo:
			closing()
			path.Start(onGrid(s.X, s.Y))
		case LineTo:
			path.Add1(onGrid(s.X, s.Y))
		}
	}
	closing()
	c.flush(col)
}

// wholePixels returns the rectangle that a path is, if its corners are those of
// pixels.
func wholePixels(p []Seg) (image.Rectangle, bool) {
	if len(p) != 5 || p[4].Op != CloseTo {
		return image.Rectangle{}, false
	}
	a, b := p[0], p[2]
	if p[1].X != b.X || p[1].Y != a.Y || p[3].X != a.X || p[3].Y != b.Y {
		return image.Rectangle{}, false
	}
	for _, v := range [...]float64{a.X, a.Y, b.X, b.Y} {
		if v != math.Trunc(v) || math.Abs(v) > 1<<20 {
			return image.Rectangle{}, false
		}
	}
	return image.Rect(int(a.X), int(a.Y), int(b.X), int(b.Y)), true
}

// onGrid is a place on the rasterizer's grid of 64ths of a pixel.
func onGrid(x, y float64) fixed.Point26_6 {
	return fixed.Point26_6{X: fixed.Int26_6(math.Round(64 * x)), Y: fixed.Int26_6(math.Round(64 * y))}
}

// flush paints what was gathered in one colour.
func (c *rasterCanvas) flush(col color.RGBA) {
	c.paint.SetColor(col)
	c.edges.Rasterize(c.paint)
	c.edges.Clear()
}

func (c *rasterCanvas) stroke(p []Seg, l line) {
	if l.width <= 0 {
		return
	}
	for _, s := range strokes(p, l.dash) {
		var path raster.Path
		last := onGrid(s[0].x, s[0].y)
		path.Start(last)
		for _, at := range s[1:] {
			// Steps of less than a 16th of a pixel have no direction to speak of, and
			// would turn their joins anywhere.
			if next := onGrid(at.x, at.y); abs(next.X-last.X)+abs(next.Y-last.Y) > 4 {
				path.Add1(next)
				last = next
			}
		}
		c.edges.AddStroke(path, fixed.Int26_6(math.Round(64*l.width)), raster.ButtCapper, raster.BevelJoiner)
	}
	c.flush(l.color)
}

func abs(v fixed.Int26_6) fixed.Int26_6 { return max(v, -v) }

// strokes are the lines of a path without arcs, cut into dashes.
func strokes(p []Seg, dash []float64) [][]point {
	var lines [][]point
	for _, s := range p {
		switch n := len(lines) - 1; s.Op {
		case MoveTo:
			lines = append(lines, []point{{s.X, s.Y}})
		case LineTo:
			lines[n] = append(lines[n], point{s.X, s.Y})
		case CloseTo:
			lines[n] = append(lines[n], lines[n][0])
		}
	}
	if len(dash) == 0 {
		return lines
	}
	var dashes [][]point
	for _, l := range lines {
		dashes = append(dashes, dashed(l, dash)...)
	}
	return dashes
}

// dashed cuts a line into dashes: so much is drawn, so much is left out, and so on.
func dashed(l []point, dash []float64) [][]point {
	var list [][]point
	n, left := 0, dash[0]
	from := l[0]
	now := []point{from}
	for _, to := range l[1:] {
		for {
			long := math.Hypot(to.x-from.x, to.y-from.y)
			if long <= left {
				left -= long
				from = to
				now = append(now, to)
				break
			}
			t := left / long
			from = point{from.x + t*(to.x-from.x), from.y + t*(to.y-from.y)}
			if n%2 == 0 {
				list = append(list, append(now, from))
			}
			now = []point{from}
			n++
			left = max(dash[n%len(dash)], 1e-3)
		}
	}
	if n%2 == 0 && len(now) > 1 {
		list = append(list, now)
	}
	return list
}

// write sets level text from kept glyphs, on whole pixels up and down and quarters
// across, and turned text as outlines.
func (c *rasterCanvas) write(t writing) {
	tf := fontOf(t.bold)
	if t.turn != 0 {
		along := 0.0
		for _, r := range t.s {
			c.outline(glyphSegments(tf, r, t.size), t, along)
			along += tf.advance(r) * t.size
		}
		c.flush(t.color)
		return
	}
	x, y := t.x, int(math.Round(t.y))
	src := image.NewUniform(t.color)
	for _, r := range t.s {
		quarters := math.Round(x * 4)
		whole := math.Floor(quarters / 4)
		g := c.raster.glyph(glyphKey{r, float32(t.size), t.bold, uint8(quarters - 4*whole)})
		if g.mask != nil {
			at := g.mask.Rect.Add(image.Pt(int(whole), y))
			draw.DrawMask(c.raster.img, at, src, image.Point{}, g.mask, g.mask.Rect.Min, draw.Over)
		}
		x += tf.advance(r) * t.size
	}
}

// outline gathers the outline of a character that stands so far along a turned
// text.
func (c *rasterCanvas) outline(segs sfnt.Segments, t writing, along float64) {
	sin, cos := math.Sincos(t.turn * math.Pi / 180)
	at := func(p fixed.Point26_6) fixed.Point26_6 {
		x, y := along+float64(p.X)/64, float64(p.Y)/64
		return onGrid(t.x+x*cos-y*sin, t.y+x*sin+y*cos)
	}
	var path raster.Path
	closing := func() {
		if len(path) > 0 {
			path.Add1(fixed.Point26_6{X: path[1], Y: path[2]})
			c.edges.AddPath(path)
			path.Clear()
		}
	}
	for _, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			closing()
			path.Start(at(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Add1(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.Add2(at(s.Args[0]), at(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.Add3(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
	closing()
}

func (c *rasterCanvas) picture(r Rect, img image.Image) {
	b := img.Bounds()
	kx, ky := r.W/float64(b.Dx()), r.H/float64(b.Dy())
	xdraw.BiLinear.Transform(c.raster.img, f64.Aff3{kx, 0, r.X - kx*float64(b.Min.X), 0, ky, r.Y - ky*float64(b.Min.Y)}, img, b, draw.Over, nil)
}
