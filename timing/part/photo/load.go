package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"github.com/gen2brain/heic"
	"golang.org/x/image/webp"
)

// Decode returns the picture upright, on its longer side at most longest pixels
// wide or high (0: as large as it is), and what [Inspect] says of the whole. A
// smaller picture is the mean over areas, so that fine edges stay in place. The
// error is one line and does not name the file.
func Decode(data []byte, longest int) (*image.RGBA, Info, error) {
	h, err := inspect(data)
	if err != nil {
		return nil, Info{}, err
	}
	img, err := h.decode(data)
	if err != nil {
		return nil, Info{}, err
	}
	if b := img.Bounds(); b.Dx() != h.width || b.Dy() != h.height {
		return nil, Info{}, damaged(h.format)
	}
	w, t := fitted(h.width, h.height, longest)
	return orient(shrink(img, w, t), h.orientation()), h.info(), nil
}

// Load is [Decode] of a file; the error then names it.
func Load(path string, longest int) (*image.RGBA, Info, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, Info{}, err
	}
	img, info, err := Decode(data, longest)
	if err != nil {
		return nil, Info{}, fmt.Errorf("%s: %w", path, err)
	}
	return img, info, nil
}

// decode returns the picture as stored (HEIC: upright). Decoders are other
// people's code before bytes from anywhere: a panic of theirs is a picture that
// cannot be read.
func (h header) decode(data []byte) (img image.Image, err error) {
	defer func() {
		if recover() != nil {
			img, err = nil, damaged(h.format)
		}
	}()
	r := bytes.NewReader(data)
	switch h.format {
	case "JPEG":
		img, err = jpeg.Decode(r)
	case "PNG":
		img, err = png.Decode(r)
	case "WebP":
		img, err = webp.Decode(r)
	default:
		img, err = heic.Decode(r)
	}
	if err != nil {
		return nil, damaged(h.format)
	}
	return img, nil
}

// fitted returns the size that keeps the shape and is at most longest px on its
// longer side; 0 leaves it as it is.
func fitted(width, height, longest int) (int, int) {
	m := max(width, height)
	if longest <= 0 || m <= longest {
		return width, height
	}
	return max(1, (width*longest+m/2)/m), max(1, (height*longest+m/2)/m)
}
