package picture

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/webp"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
)

// Reader reads photographs. The zero value knows JPEG, PNG and WebP.
type Reader struct {
	// HEIC decodes what phones make, upright; nil: such a picture cannot be shown,
	// and the error says so.
	HEIC func(io.Reader) (image.Image, error)
}

// Decode returns the picture upright, on its longer side at most longest pixels
// wide or high (0: as large as it is), and what [photo.Inspect] says of the
// whole. A smaller picture is the mean over areas, so that edges stay in place.
// Colours of WebP and HEIC may be a shade off: their range is taken as that of
// JPEG. The error is one line and does not name the file.
func (r Reader) Decode(data []byte, longest int) (*image.RGBA, photo.Info, error) {
	info, err := photo.Inspect(data)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := r.decode(data, info, longest)
	if err != nil {
		return nil, photo.Info{}, err
	}
	return img, info, nil
}

// Load is [Reader.Decode] of a file; the error then names it.
func (r Reader) Load(path string, longest int) (*image.RGBA, photo.Info, error) {
	data, info, err := photo.Open(path)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := r.decode(data, info, longest)
	if err != nil {
		return nil, photo.Info{}, phrase.Errorf("%s: %v", path, err)
	}
	return img, info, nil
}

func (r Reader) decode(data []byte, info photo.Info, longest int) (*image.RGBA, error) {
	if info.Format == "HEIC" && r.HEIC == nil {
		return nil, errHEIC
	}
	img := r.stored(data, info.Format)
	w, h := info.Width, info.Height
	if info.Orientation >= 5 {
		w, h = h, w
	}
	if img == nil || img.Bounds().Dx() != w || img.Bounds().Dy() != h {
		return nil, phrase.Errorf("is no sound %s picture; open it in a picture program and save it again", info.Format)
	}
	w, h = Fitted(w, h, longest)
	return Oriented(Shrunk(img, w, h), info.Orientation), nil
}

var errHEIC = phrase.Errorf("is a HEIC picture, which only the desktop program can show; save it as JPEG")

// stored returns the picture as it is stored (HEIC: upright), nil when it cannot
// be decoded. Decoders are other people's code before bytes from anywhere: a
// panic of theirs is a picture that cannot be read.
func (r Reader) stored(data []byte, format string) (img image.Image) {
	defer func() {
		if recover() != nil {
			img = nil
		}
	}()
	decoder := map[string]func(io.Reader) (image.Image, error){
		"JPEG": jpeg.Decode, "PNG": png.Decode, "WebP": webp.Decode, "HEIC": r.HEIC,
	}[format]
	img, err := decoder(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	return img
}

// Fitted returns the size that keeps the shape and is at most longest px on its
// longer side; 0 leaves it as it is.
func Fitted(width, height, longest int) (int, int) {
	m := max(width, height)
	if longest <= 0 || m <= longest {
		return width, height
	}
	return max(1, (width*longest+m/2)/m), max(1, (height*longest+m/2)/m)
}
