package widgets

import (
	"encoding/binary"
	"image"
	"image/color"

	"golang.org/x/image/draw"
)

// Pyramid is a picture together with copies of half, a quarter, an eighth of its
// size and so on, so that any part of it can be shown small without reading all
// of it. It takes 16/3 bytes for each pixel of the picture. It never changes and
// is itself an [image.Image], that of the full size.
type Pyramid struct {
	levels []*image.RGBA // opaque, each half as wide and high as the one before, rounded up
}

// smallest is a width and height at which a further level is not worth while.
const smallest = 256

// NewPyramid makes a pyramid of a picture; where that is transparent, it is laid
// over white. A camera's picture takes some 10 ms a megapixel, so a large one is
// better made beside the main goroutine. A picture of the type [image.RGBA] is
// kept, not copied, and must not change afterwards. A picture without pixels, or
// none, has no pyramid: nil.
func NewPyramid(img image.Image) *Pyramid {
	if img == nil || img.Bounds().Empty() {
		return nil
	}
	p := &Pyramid{levels: []*image.RGBA{opaque(img)}}
	for {
		last := p.levels[len(p.levels)-1]
		if last.Rect.Dx() <= smallest && last.Rect.Dy() <= smallest {
			return p
		}
		p.levels = append(p.levels, half(last))
	}
}

// ColorModel implements [image.Image].
func (p *Pyramid) ColorModel() color.Model { return color.RGBAModel }

// Bounds implements [image.Image]; they begin at 0, 0.
func (p *Pyramid) Bounds() image.Rectangle { return p.levels[0].Rect }

// At implements [image.Image].
func (p *Pyramid) At(x, y int) color.Color { return p.levels[0].At(x, y) }

// opaque returns the picture without transparency, its corner at 0, 0.
func opaque(img image.Image) *image.RGBA {
	if rgba, ok := img.(*image.RGBA); ok && rgba.Rect.Min == (image.Point{}) && rgba.Opaque() {
		return rgba
	}
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	op := draw.Src
	if o, ok := img.(interface{ Opaque() bool }); !ok || !o.Opaque() {
		draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
		op = draw.Over
	}
	draw.Draw(out, out.Rect, img, b.Min, op)
	return out
}

// half returns the picture at half its size, each pixel the mean of four. Where
// there is no fourth, at an odd edge, the last row or column counts twice, so
// that pixel x of the half always covers 2x and 2x+1 of the whole.
func half(src *image.RGBA) *image.RGBA {
	w, h := src.Rect.Dx(), src.Rect.Dy()
	dst := image.NewRGBA(image.Rect(0, 0, (w+1)/2, (h+1)/2))
	for y := range dst.Rect.Dy() {
		upper := src.Pix[2*y*src.Stride:][:4*w]
		lower := src.Pix[min(2*y+1, h-1)*src.Stride:][:4*w]
		out := dst.Pix[y*dst.Stride:][:4*dst.Rect.Dx()]
		for x := range w / 2 {
			a, b := binary.LittleEndian.Uint64(upper[8*x:]), binary.LittleEndian.Uint64(lower[8*x:])
			binary.LittleEndian.PutUint32(out[4*x:], mean4(uint32(a), uint32(a>>32), uint32(b), uint32(b>>32)))
		}
		if w%2 == 1 {
			a, b := binary.LittleEndian.Uint32(upper[4*w-4:]), binary.LittleEndian.Uint32(lower[4*w-4:])
			binary.LittleEndian.PutUint32(out[2*w-2:], mean4(a, a, b, b))
		}
	}
	return dst
}

// A pixel's four bytes are worked on two at a time: pairs picks the first and the
// third and leaves each eight bits of room above it.
const pairs = 0x00ff00ff

// mean4 returns the mean of four pixels, byte by byte, rounded.
func mean4(a, b, c, d uint32) uint32 {
	const round = 0x00020002
	even := (a&pairs + b&pairs + c&pairs + d&pairs + round) >> 2 & pairs
	odd := (a>>8&pairs + b>>8&pairs + c>>8&pairs + d>>8&pairs + round) >> 2 & pairs
	return even | odd<<8
}
