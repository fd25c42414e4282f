package figure

import (
	"image"
	"image/color"
	"math"
	"slices"
)

// Hatch is a pattern of real lines or dots over a filled area, so that areas
// differ in black and white too.
type Hatch struct {
	Turn  float64 // page angle the lines run at: 0 upright, 90 level
	Gap   float64 // points from line to line
	Width float64 // points; of a dot its side
	Dots  bool    // dots along the lines, every other line shifted by half a gap
	Color color.RGBA
}

// lines returns the pattern inside the rings (even-odd), in page coordinates.
// The lines lie on one grid for the whole page, so that neighbours join up.
func (h Hatch) lines(rings []ring) []Seg {
	sin, cos := math.Sincos((h.Turn - 90) * math.Pi / 180)
	// u runs along the lines, v across them.
	type edge struct{ u0, v0, u1, v1 float64 }
	var edges []edge
	vMin, vMax := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for i, p := range r.pts {
			q := r.pts[(i+1)%len(r.pts)]
			e := edge{p.x*cos + p.y*sin, p.y*cos - p.x*sin, q.x*cos + q.y*sin, q.y*cos - q.x*sin}
			edges = append(edges, e)
			vMin, vMax = min(vMin, e.v0), max(vMax, e.v0)
		}
	}
	var segs []Seg
	stroke := func(u0, u1, v float64) {
		segs = append(segs, Line(u0*cos-v*sin, v*cos+u0*sin, u1*cos-v*sin, v*cos+u1*sin)...)
	}
	var cuts []float64
	for k := math.Ceil(vMin / h.Gap); k*h.Gap < vMax; k++ {
		v := k * h.Gap
		cuts = cuts[:0]
		for _, e := range edges {
			if (e.v0 <= v) != (e.v1 <= v) {
				cuts = append(cuts, e.u0+(v-e.v0)/(e.v1-e.v0)*(e.u1-e.u0))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if !h.Dots {
				stroke(cuts[i], cuts[i+1], v)
				continue
			}
			if v-h.Width/2 < vMin || v+h.Width/2 > vMax {
				continue
			}
			shift := h.Gap / 2 * math.Abs(math.Mod(k, 2))
			for n := math.Ceil((cuts[i] + h.Width/2 - shift) / h.Gap); ; n++ {
				u := n*h.Gap + shift
				if u+h.Width/2 > cuts[i+1] {
					break
				}
				stroke(u-h.Width/2, u+h.Width/2, v)
			}
		}
	}
	return segs
}

// draw lays the pattern over a path.
func (h Hatch) draw(w walker, segs []Seg) {
	if p, ok := w.c.(painter); ok && upright(segs) && len(segs) == 5 {
		p.paintHatch(h, Path{Segs: segs}.Bounds(), w.k)
		return
	}
	lines := h.lines(flatten(segs))
	if len(lines) == 0 {
		return
	}
	w.c.stroke(w.path(lines, still), line{width: h.Width * w.k, color: h.Color})
}

// painter is a canvas of pixels that can lay a pattern over a rectangle faster
// than line by line.
type painter interface {
	paintHatch(h Hatch, area Rect, k float64)
}

// paintHatch lays the pattern over the pixels of an area, k pixels to the point:
// each is covered by how far it is from the middle of the nearest line.
func (c *rasterCanvas) paintHatch(h Hatch, area Rect, k float64) {
	img := c.raster.img
	r := image.Rect(int(math.Round(area.X*k)), int(math.Round(area.Y*k)),
		int(math.Round(area.Right()*k)), int(math.Round(area.Bottom()*k))).Intersect(img.Rect)
	sin, cos := math.Sincos((h.Turn - 90) * math.Pi / 180)
	gap, width := h.Gap*k, h.Width*k
	most := min(width, 1)
	covered := func(d float64) float64 { return min(width/2+0.5-math.Abs(d)*gap, most) } // d in gaps
	nearest := (width/2 + 0.5) / gap                                                     // in gaps: what is as far from a line or further is not covered
	sin, cos = sin/gap, cos/gap
	way := -math.Copysign(1, sin) // of v, along a row
	col := [3]float64{float64(h.Color.R), float64(h.Color.G), float64(h.Color.B)}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		pix := img.Pix[img.PixOffset(r.Min.X, y):]
		for x := r.Min.X; x < r.Max.X; x++ {
			px, py := float64(x)+0.5, float64(y)+0.5
			v := py*cos - px*sin
			line := math.Floor(v + 0.5)
			if off := v - line; off >= nearest || off <= -nearest {
				// On to the next line, less two pixels for what is rounded.
				far := -nearest - off*way
				if far < 0 {
					far++
				}
				x += max(0, int(min(far/math.Abs(sin), 1<<20))-2)
				continue
			}
			a := covered(v - line)
			if h.Dots {
				u := px*cos + py*sin - float64(int(line)&1)/2
				if a *= max(covered(u-math.Floor(u+0.5)), 0); a == 0 {
					continue
				}
			}
			p := pix[4*(x-r.Min.X):][:3]
			for i := range p {
				p[i] += uint8(int(a * (col[i] - float64(p[i]))))
			}
		}
	}
}
