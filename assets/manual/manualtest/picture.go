// Package manualtest is what the tests that paint the manual's pictures share.
package manualtest

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/png"
	"slices"
)

// Fewer writes a picture as PNG with at most 256 colours: the program carries the
// pictures, and of text and figures nobody sees the difference. The same picture gives
// the same bytes.
func Fewer(img image.Image) ([]byte, error) {
	box := img.Bounds()
	count := map[color.RGBA]int{}
	at := func(x, y int) color.RGBA { return color.RGBAModel.Convert(img.At(x, y)).(color.RGBA) }
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			count[at(x, y)]++
		}
	}
	colours := make([]color.RGBA, 0, len(count))
	for c := range count {
		colours = append(colours, c)
	}
	slices.SortFunc(colours, func(a, b color.RGBA) int {
		return cmp.Or(count[b]-count[a], int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B), int(a.A)-int(b.A))
	})
	// The most frequent colours, then those far from all there are, so that a rare one is
	// not lost, then finer and finer.
	var palette color.Palette
	for _, pass := range []struct{ most, spacing int }{{64, 48}, {256, 2400}, {256, 600}, {256, 150}, {256, 48}} {
		for _, c := range colours {
			if len(palette) == pass.most {
				break
			}
			if len(palette) == 0 || distance(c, palette[palette.Index(c)].(color.RGBA)) > pass.spacing {
				palette = append(palette, c)
			}
		}
	}
	nearest := map[color.RGBA]uint8{}
	out := image.NewPaletted(box, palette)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			c := at(x, y)
			i, known := nearest[c]
			if !known {
				i = uint8(palette.Index(c))
				nearest[c] = i
			}
			out.SetColorIndex(x, y, i)
		}
	}
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, out)
	return b.Bytes(), err
}

func distance(a, b color.RGBA) int {
	r, g, u := int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B)
	return r*r + g*g + u*u
}

// Differing counts the pixels that are clearly not the same in two pictures, all where
// their sizes differ. Processors round an edge a little otherwise: that is not counted.
func Differing(a, b []byte) (int, error) {
	var images [2]image.Image
	for i, data := range [][]byte{a, b} {
		var err error
		if images[i], err = png.Decode(bytes.NewReader(data)); err != nil {
			return 0, err
		}
	}
	box := images[0].Bounds()
	if box != images[1].Bounds() {
		return box.Dx() * box.Dy(), nil
	}
	const apart = 40 * 0x101
	n := 0
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r1, g1, b1, _ := images[0].At(x, y).RGBA()
			r2, g2, b2, _ := images[1].At(x, y).RGBA()
			if max(r1, r2)-min(r1, r2) > apart || max(g1, g2)-min(g1, g2) > apart || max(b1, b2)-min(b1, b2) > apart {
				n++
			}
		}
	}
	return n, nil
}
