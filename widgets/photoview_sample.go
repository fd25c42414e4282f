package widgets

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"slices"

	"golang.org/x/image/draw"
)

// sampler paints a part of a picture at any size and place, also between whole
// pixels. The scalers of the image libraries at hand know whole pixels only or
// take three times as long. The zero value is ready.
type sampler struct { // kept from call to call, to spare the memory
	cols, rows []tap
	line       []uint64
}

// tap says how to mix a pixel of two neighbours: which is the first, and how many
// 256ths of the second.
type tap struct {
	first int32
	part  uint32
}

// paint fills dst with the picture as t places it, t taking pixels of the picture
// to pixels of dst, and what lies beside the picture with a colour.
//
// It reads the level of the pyramid whose pixels come closest to those of dst, 0.7
// to 1.4 of them to a pixel, and mixes the four next to each place (bilinear):
// first two rows into a line, then neighbours of that line.
func (s *sampler) paint(dst *image.RGBA, p *Pyramid, t Transform, beside color.RGBA) {
	level := 0
	if t.Scale < 1 {
		level = min(int(math.Round(-math.Log2(t.Scale))), len(p.levels)-1)
	}
	src := p.levels[level]
	shrunk := math.Ldexp(1, -level)

	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	x0, x1 := covered(t.DX, t.Scale, p.Bounds().Dx(), w)
	y0, y1 := covered(t.DY, t.Scale, p.Bounds().Dy(), h)
	uniform := image.NewUniform(beside)
	for _, strip := range []image.Rectangle{
		image.Rect(0, 0, w, y0), image.Rect(0, y1, w, h), image.Rect(0, y0, x0, y1), image.Rect(x1, y0, w, y1),
	} {
		draw.Draw(dst, strip, uniform, image.Point{}, draw.Src)
	}
	if x0 == x1 || y0 == y1 {
		return
	}

	s.cols = taps(s.cols, x0, x1, t.DX, t.Scale, shrunk)
	s.rows = taps(s.rows, y0, y1, t.DY, t.Scale, shrunk)
	from, to := s.cols[0].first, s.cols[len(s.cols)-1].first+2
	for i := range s.cols {
		s.cols[i].first -= from
	}
	for i, row := range s.rows {
		s.mixRows(src, int(from), int(to), row)
		out := dst.Pix[(y0+i)*dst.Stride+4*x0:][:4*len(s.cols)]
		for j, col := range s.cols {
			v := mix(s.line[col.first], s.line[col.first+1], col.part)
			binary.LittleEndian.PutUint32(out[4*j:], uint32(v)|uint32(v>>32)<<8)
		}
	}
}

// mixRows makes the line of a level's columns from up to but without to; those
// beside the level are like its outermost.
func (s *sampler) mixRows(src *image.RGBA, from, to int, row tap) {
	w, h := src.Rect.Dx(), src.Rect.Dy()
	a, b := max(from, 0), min(to, w)
	upper := src.Pix[max(0, min(int(row.first), h-1))*src.Stride:][4*a : 4*b]
	lower := src.Pix[max(0, min(int(row.first)+1, h-1))*src.Stride:][4*a : 4*b]
	s.line = slices.Grow(s.line[:0], to-from)[:to-from]
	inner := s.line[a-from:][:b-a]
	for i := range inner {
		inner[i] = mix(lanes(upper[4*i:]), lanes(lower[4*i:]), row.part)
	}
	if from < a {
		s.line[0] = inner[0]
	}
	if to > b {
		s.line[to-from-1] = inner[b-a-1]
	}
}

// covered returns which pixels, from and up to but without, of a side of n have
// their middle on a picture of size pixels that begins at start.
func covered(start, scale float64, size, n int) (from, to int) {
	clamp := func(v float64) int { return int(max(0, min(math.Ceil(v-0.5), float64(n)))) }
	from, to = clamp(start), clamp(start+float64(size)*scale)
	return from, max(from, to)
}

// taps works out, for each pixel from x0 up to x1 of a side, of which two of a
// level's it is mixed. The first may be -1, the second one too many: they stand
// for the level's outermost.
func taps(list []tap, x0, x1 int, start, scale, shrunk float64) []tap {
	list = list[:0]
	for x := x0; x < x1; x++ {
		at := (float64(x)+0.5-start)/scale*shrunk - 0.5
		whole := math.Floor(at)
		list = append(list, tap{int32(whole), uint32((at - whole) * 256)})
	}
	return list
}

// lanes returns the pixel that b begins with, its four bytes 16 bits apart, so
// that they can be worked on at once.
func lanes(b []byte) uint64 {
	p := binary.LittleEndian.Uint32(b)
	return uint64(p&pairs) | uint64(p>>8&pairs)<<32
}

// mix returns, lane by lane, what is part 256ths b and the rest a, rounded.
func mix(a, b uint64, part uint32) uint64 {
	const (
		each  = pairs | pairs<<32
		round = 0x0080_0080_0080_0080
	)
	return (a*uint64(256-part) + b*uint64(part) + round) >> 8 & each
}
