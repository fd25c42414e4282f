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
		r.canvas = newRasterCanvas(r)
	}
	bg := image.NewUniform(st.Color(Surface))
	if r.Clear {
		bg = image.NewUniform(color.Transparent)
	}
	draw.Draw(r.img, r.img.Rect, bg, image.Point{}, draw.Src)
	walker{c: r.canvas, st: st, k: scale, crisp: true}.shapes(d)
	return r.img
}

// WritePNG writes a drawing as a PNG with dpi pixels to the inch, which it says of
// itself, so that it prints as large as the drawing.
func WritePNG(w io.Writer, d Drawing, st Style, dpi float64) error {
	return writePNG(w, d, st, dpi, &Raster{})
}

// WriteClearPNG is [WritePNG] without the surface: what lies below the picture is seen
// where nothing is drawn.
func WriteClearPNG(w io.Writer, d Drawing, st Style, dpi float64) error {
	return writePNG(w, d, st, dpi, &Raster{Clear: true})
}

func writePNG(w io.Writer, d Drawing, st Style, dpi float64, r *Raster) error {
	scale := dpi / 72
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
