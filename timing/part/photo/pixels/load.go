// Package pixels decodes photographs (JPEG, PNG, WebP and HEIC) for the screen,
// upright. It is apart from package photo because the HEIC decoder is large and
// a measurement needs only the marks.
package pixels

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"github.com/gen2brain/heic"
	"golang.org/x/image/webp"

	"pinphase/timing/part/photo"
)

// Decode returns the picture upright, on its longer side at most longest pixels
// wide or high (0: as large as it is), and what [photo.Inspect] says of the
// whole. A smaller picture is the mean over areas, so that edges stay in place.
// Colours of WebP and HEIC may be a shade off: their range is taken as that of
// JPEG. The error is one line and does not name the file.
func Decode(data []byte, longest int) (*image.RGBA, photo.Info, error) {
	info, err := photo.Inspect(data)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := decode(data, info, longest)
	if err != nil {
		return nil, photo.Info{}, err
	}
	return img, info, nil
}

// Load is [Decode] of a file; the error then names it.
func Load(path string, longest int) (*image.RGBA, photo.Info, error) {
	data, info, err := photo.Open(path)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := decode(data, info, longest)
	if err != nil {
		return nil, photo.Info{}, fmt.Errorf("%s: %w", path, err)
	}
	return img, info, nil
}

func decode(data []byte, info photo.Info, longest int) (*image.RGBA, error) {
	img := stored(data, info.Format)
	w, h := info.Width, info.Height
	if info.Orientation >= 5 {
		w, h = h, w
	}
	if img == nil || img.Bounds().Dx() != w || img.Bounds().Dy() != h {
		return nil, fmt.Errorf("is no sound %s picture; open it in a picture program and save it again", info.Format)
	}
	w, h = fitted(w, h, longest)
	return orient(shrink(img, w, h), info.Orientation), nil
}

// stored returns the picture as it is stored (HEIC: upright), nil when it cannot
// be decoded. Decoders are other people's code before bytes from anywhere: a
// panic of theirs is a picture that cannot be read.
func stored(data []byte, format string) (img image.Image) {
	defer func() {
		if recover() != nil {
			img = nil
		}
	}()
	decoder := map[string]func(*bytes.Reader) (image.Image, error){
		"JPEG": func(r *bytes.Reader) (image.Image, error) { return jpeg.Decode(r) },
		"PNG":  func(r *bytes.Reader) (image.Image, error) { return png.Decode(r) },
		"WebP": func(r *bytes.Reader) (image.Image, error) { return webp.Decode(r) },
		"HEIC": func(r *bytes.Reader) (image.Image, error) { return heic.Decode(r) },
	}[format]
	img, err := decoder(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	return img
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
