package figure

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
)

// Picture is a photograph laid into an upright rectangle, which should have its
// shape. It has no role: it looks the same in every style.
type Picture struct {
	Rect
	Image image.Image
	Name  string // tells it apart in golden files
}

// Bounds implements [Shape].
func (p Picture) Bounds() Rect { return p.Rect }

func (p Picture) moved(dx, dy float64) Shape {
	p.X, p.Y = p.X+dx, p.Y+dy
	return p
}

func (p Picture) scaled(k float64) Shape {
	p.Rect = p.Rect.scaled(k)
	return p
}

// String writes the picture as one line.
func (p Picture) String() string {
	b := p.Image.Bounds()
	return fmt.Sprintf("picture %q%s of %d by %d px", p.Name, nums(p.X, p.Y, p.W, p.H), b.Dx(), b.Dy())
}

func (w walker) drawPicture(p Picture) {
	if p.W <= 0 || p.H <= 0 || p.Image.Bounds().Empty() {
		return
	}
	w.c.picture(p.Rect.scaled(w.k), p.Image)
}

// photographFrom is how many pixels make a picture a photograph, which JPEG
// stores in a tenth of what PNG takes.
const photographFrom = 1 << 16

// encodedPicture returns a picture as JPEG or PNG, the same bytes each time, and
// which of the two.
func encodedPicture(img image.Image) (kind string, data []byte, err error) {
	var b bytes.Buffer
	opaque, ok := img.(interface{ Opaque() bool })
	if size := img.Bounds().Size(); ok && size.X*size.Y >= photographFrom && opaque.Opaque() {
		err = jpeg.Encode(&b, img, &jpeg.Options{Quality: 85})
		return "jpeg", b.Bytes(), err
	}
	err = png.Encode(&b, img)
	return "png", b.Bytes(), err
}
