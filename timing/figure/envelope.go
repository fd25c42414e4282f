package figure

import (
	"fmt"
	"image/color"
	"math"
)

// Envelope is a trace with as many values as it is wide: each column has the range
// that the trace covers in it, and the line runs through all of them. A trace of
// millions of samples is drawn so in a blink. Columns that are no number leave a
// hole.
type Envelope struct {
	X, W   float64   // left edge and width, evenly divided into the columns
	Hi, Lo []float64 // of each column: top and bottom on the page, Hi at most Lo
	Role   Role
	Weight Weight
}

// column is where the middle of a column lies.
func (e Envelope) column(i int) float64 {
	return e.X + (float64(i)+0.5)/float64(len(e.Hi))*e.W
}

// Bounds returns the rectangle round the trace.
func (e Envelope) Bounds() Rect {
	b := newBounds()
	for i, hi := range e.Hi {
		if e.holds(i) {
			b.add(e.column(i), hi)
			b.add(e.column(i), e.Lo[i])
		}
	}
	return b.rect()
}

// holds tells whether a column has a range.
func (e Envelope) holds(i int) bool { return !math.IsNaN(e.Hi[i] - e.Lo[i]) }

func (e Envelope) moved(dx, dy float64) Shape {
	e.X += dx
	return e.mapped(func(y float64) float64 { return y + dy })
}

func (e Envelope) scaled(k float64) Shape {
	e.X, e.W = k*e.X, k*e.W
	return e.mapped(func(y float64) float64 { return k * y })
}

// mapped puts every column's ends elsewhere.
func (e Envelope) mapped(to func(float64) float64) Envelope {
	hi, lo := make([]float64, len(e.Hi)), make([]float64, len(e.Lo))
	for i := range hi {
		hi[i] = to(e.Hi[i])
	}
	for i := range lo {
		lo[i] = to(e.Lo[i])
	}
	e.Hi, e.Lo = hi, lo
	return e
}

// String writes the trace as one line, level stretches by their ends.
func (e Envelope) String() string {
	p := e.path()
	return fmt.Sprintf("envelope%s columns=%d role=%s,%s", p.String()[len("path"):], len(e.Hi), e.Role, [...]string{"fine", "hair", "medium", "heavy", "broad"}[e.Weight])
}

// path returns the trace as a line, up and down in each column; points within a
// level stretch are left out.
func (e Envelope) path() Path {
	p := Path{Stroke: e.Role, Weight: e.Weight}
	op := MoveTo
	for i := range e.Hi {
		if !e.holds(i) {
			op = MoveTo
			continue
		}
		x, first, last := e.column(i), e.Hi[i], e.Lo[i]
		if n := len(p.Segs); op == LineTo && math.Abs(p.Segs[n-1].Y-last) < math.Abs(p.Segs[n-1].Y-first) {
			first, last = last, first // on from the nearer end
		}
		p.Segs = append(p.Segs, Seg{Op: op, X: x, Y: first})
		op = LineTo
		if first != last {
			p.Segs = append(p.Segs, Seg{Op: op, X: x, Y: last})
			continue
		}
		if n := len(p.Segs); n > 2 && p.Segs[n-1].Y == p.Segs[n-2].Y && p.Segs[n-2].Y == p.Segs[n-3].Y && p.Segs[n-2].Op == LineTo {
			p.Segs[n-2] = p.Segs[n-1]
			p.Segs = p.Segs[:n-1]
		}
	}
	return p
}

// columnPainter is a canvas of pixels that draws a trace column by column.
type columnPainter interface {
	paintEnvelope(e Envelope, c color.RGBA, width, k float64)
}

func (w walker) drawEnvelope(e Envelope) {
	if len(e.Hi) == 0 || len(e.Hi) != len(e.Lo) || e.Role == None {
		return
	}
	// Columns wider than a pixel are joined by slanting lines, as on paper.
	if p, ok := w.c.(columnPainter); ok && float64(len(e.Hi)) > 0.8*e.W*w.k && len(w.st.Look(e.Role).Dash) == 0 {
		p.paintEnvelope(e, w.st.Color(e.Role), w.st.Width(e.Weight)*w.k, w.k)
		return
	}
	w.drawPath(e.path())
}

// paintEnvelope draws a trace width pixels wide: every pixel column covers the
// ranges that fall into it and reaches out to those beside it, so that the line
// hangs together; the ends are shaded by how much of their pixel they cover.
func (c *rasterCanvas) paintEnvelope(e Envelope, col color.RGBA, width, k float64) {
	img := c.raster.img
	n := len(e.Hi)
	left := max(int(math.Floor(e.X*k)), img.Rect.Min.X)
	right := min(int(math.Ceil((e.X+e.W)*k)), img.Rect.Max.X)
	if right <= left || !(e.W > 0) {
		return
	}
	width = max(width, 1)
	half := width / 2
	perPixel := float64(n) / (e.W * k)
	// The range of one pixel column, in pixels: the columns in it, and the one before
	// it, to hang together.
	span := func(x int) (top, bottom float64, ok bool) {
		from := int(math.Floor((float64(x) - e.X*k) * perPixel))
		to := max(int(math.Ceil((float64(x+1)-e.X*k)*perPixel))-1, from)
		top, bottom = math.Inf(1), math.Inf(-1)
		for i := max(from, 0); i <= min(to, n-1); i++ {
			if e.holds(i) {
				top, bottom = min(top, e.Hi[i]*k), max(bottom, e.Lo[i]*k)
			}
		}
		if !(bottom >= top) {
			return 0, 0, false
		}
		if i := from - 1; i >= 0 && i < n && e.holds(i) { // half-way to the column before
			top, bottom = min(top, e.Lo[i]*k), max(bottom, e.Hi[i]*k)
		}
		return top, bottom, true
	}
	thick := int(math.Round(width)) - 1 // pixel columns that an upright stretch is wider
	tops, bottoms := make([]float64, right-left), make([]float64, right-left)
	top, bottom := math.Inf(1), math.Inf(-1)
	for x := range tops {
		t, b, ok := span(left + x)
		if !ok {
			t, b = math.Inf(1), math.Inf(-1)
		}
		tops[x], bottoms[x] = t, b
	}
	for x := len(tops) - 1; x >= 0; x-- {
		for k := max(x-thick, 0); k < x; k++ {
			tops[x], bottoms[x] = min(tops[x], tops[k]), max(bottoms[x], bottoms[k])
		}
		if tops[x] <= bottoms[x] {
			tops[x], bottoms[x] = tops[x]-half, bottoms[x]+half
			top, bottom = min(top, tops[x]), max(bottom, bottoms[x])
		}
	}
	c.paintColumns(left, tops, bottoms, col)
	if bottom > top {
		c.paintRows(left, tops, bottoms, int(math.Floor(top)), int(math.Ceil(bottom)), col)
	}
}

// paintColumns shades the ends of columns, whose pixels they cover in part.
func (c *rasterCanvas) paintColumns(left int, tops, bottoms []float64, col color.RGBA) {
	for x, top := range tops {
		bottom := bottoms[x]
		if !(bottom > top) {
			continue
		}
		first, last := math.Floor(top), math.Ceil(bottom)-1
		if first == last {
			c.shade(left+x, int(first), bottom-top, col)
			continue
		}
		c.shade(left+x, int(first), first+1-top, col)
		c.shade(left+x, int(last), bottom-last, col)
	}
}

// shade covers a part of a pixel.
func (c *rasterCanvas) shade(x, y int, part float64, col color.RGBA) {
	img := c.raster.img
	if y < img.Rect.Min.Y || y >= img.Rect.Max.Y {
		return
	}
	p := img.Pix[img.PixOffset(x, y):][:4]
	a := int(part * 256)
	p[0] += uint8((int(col.R) - int(p[0])) * a / 256)
	p[1] += uint8((int(col.G) - int(p[1])) * a / 256)
	p[2] += uint8((int(col.B) - int(p[2])) * a / 256)
	p[3] += uint8((0xff - int(p[3])) * a / 256)
}

// paintRows fills what columns cover whole, row by row as the pixels lie in memory.
func (c *rasterCanvas) paintRows(left int, tops, bottoms []float64, top, bottom int, col color.RGBA) {
	img := c.raster.img
	from, to := make([]int32, len(tops)), make([]int32, len(tops)) // rows covered whole
	for x := range tops {
		if bottoms[x] > tops[x] {
			from[x], to[x] = int32(math.Floor(tops[x]))+1, int32(math.Ceil(bottoms[x]))-1
		}
	}
	for y := max(top, img.Rect.Min.Y); y < min(bottom, img.Rect.Max.Y); y++ {
		row := img.Pix[img.PixOffset(left, y):]
		for x := range from {
			if int32(y) >= from[x] && int32(y) < to[x] {
				p := row[4*x:][:4]
				p[0], p[1], p[2], p[3] = col.R, col.G, col.B, 0xff
			}
		}
	}
}
