package figure

import (
	"image"
	"image/color"
	"image/draw"
	"math"
)

// linePainter is a canvas of pixels that draws level and upright lines faster than
// by their outlines.
type linePainter interface {
	paintLines(segs []Seg, k, width float64, dash []float64, col color.RGBA)
}

// openLines tells whether a path is nothing but single lines.
func openLines(segs []Seg) bool {
	for i, s := range segs {
		if s.Op != MoveTo && s.Op != LineTo || (s.Op == LineTo) != (i%2 == 1) {
			return false
		}
	}
	return len(segs)%2 == 0
}

// paintLines draws lines that are level or upright, k pixels to the point and width
// pixels thick, on whole pixels. The dash is in points.
func (c *rasterCanvas) paintLines(segs []Seg, k, width float64, dash []float64, col color.RGBA) {
	src := image.NewUniform(col)
	thick := int(width)
	for i := 0; i+1 < len(segs); i += 2 {
		a, b := segs[i], segs[i+1]
		upright := a.X == b.X
		from, to, across := a.X*k, b.X*k, a.Y*k
		if upright {
			from, to, across = a.Y*k, b.Y*k, a.X*k
		}
		if to < from {
			from, to = to, from
		}
		edge := int(math.Round(across - width/2))
		stretch := func(from, to float64) {
			f, t := int(math.Round(from)), int(math.Round(to))
			r := image.Rect(f, edge, t, edge+thick)
			if upright {
				r = image.Rect(edge, f, edge+thick, t)
			}
			draw.Draw(c.raster.img, r, src, image.Point{}, draw.Src)
		}
		if len(dash) < 2 {
			stretch(from, to)
			continue
		}
		for at, n := from, 0; at < to; n++ {
			long := max(dash[n%len(dash)]*k, 1)
			if n%2 == 0 {
				stretch(at, min(at+long, to))
			}
			at += long
		}
	}
}
