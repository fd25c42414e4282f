package picture

import (
	"bytes"
	"context"
	"errors"
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
	// HEIC decodes what phones make, upright, and gives up when the context ends. An
	// error of package phrase is shown as it is. nil: such a picture cannot be shown,
	// and the error says so.
	HEIC func(ctx context.Context, data []byte) (image.Image, error)
	// Most is how much memory in bytes one picture may take; 0 stands for [Most].
	Most int64
}

// Most is how much memory in bytes one picture takes at most. A phone's largest, 108
// megapixels, takes 600 MB.
const Most = 1 << 30

// Decode returns the picture upright, on its longer side at most longest pixels
// wide or high (0: as large as it is), and what [photo.Inspect] says of the
// whole. A smaller picture is the mean over areas, so that edges stay in place.
// Colours of WebP and HEIC may be a shade off: their range is taken as that of
// JPEG. What would take too much memory is refused by what its header says. The
// context ends the work within a fraction of a second, and its error is then in the
// one returned. That error is one line and does not name the file.
func (r Reader) Decode(ctx context.Context, data []byte, longest int) (*image.RGBA, photo.Info, error) {
	info, err := photo.Inspect(data)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := r.decode(ctx, data, info, longest)
	if err != nil {
		return nil, photo.Info{}, err
	}
	return img, info, nil
}

// Load is [Reader.Decode] of a file; the error then names it.
func (r Reader) Load(ctx context.Context, path string, longest int) (*image.RGBA, photo.Info, error) {
	data, info, err := photo.Open(path)
	if err != nil {
		return nil, photo.Info{}, err
	}
	img, err := r.decode(ctx, data, info, longest)
	if err != nil {
		return nil, photo.Info{}, phrase.Errorf("%s: %v", path, err)
	}
	return img, info, nil
}

func (r Reader) decode(ctx context.Context, data []byte, info photo.Info, longest int) (*image.RGBA, error) {
	if info.Format == "HEIC" && r.HEIC == nil {
		return nil, errHEIC
	}
	demand, err := photo.DemandOf(data)
	if err != nil {
		return nil, err
	}
	w, h := info.Width, info.Height
	if info.Orientation >= 5 {
		w, h = h, w
	}
	fw, fh := Fitted(w, h, longest)
	made := 4 * int64(fw) * int64(fh) // and once more to turn it, when what it was made of is gone
	most := r.Most
	if most == 0 {
		most = Most
	}
	if err := demand.Check(made+int64(len(data)), most); err != nil {
		return nil, err
	}
	img, err := r.stored(ctx, data, info.Format)
	var said *phrase.Error
	switch {
	case ctx.Err() != nil:
		return nil, stopped(ctx)
	case errors.As(err, &said):
		return nil, err
	case img == nil || img.Bounds().Dx() != w || img.Bounds().Dy() != h:
		return nil, phrase.Errorf("is a damaged %s picture; open it in a picture program and save it again", info.Format)
	}
	return Oriented(Shrunk(img, fw, fh), info.Orientation), nil
}

var errHEIC = phrase.Errorf("is a HEIC picture, which only the desktop program can show; save it as JPEG")

// stopped says that the context ended the work.
func stopped(ctx context.Context) error {
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return tooLong{phrase.Errorf("takes too long to decode; save it smaller")}
	}
	return ctx.Err()
}

// tooLong is the end of a context's time, in words for the user.
type tooLong struct{ error }

// Unwrap returns the error whose words these are.
func (t tooLong) Unwrap() error { return t.error }

// Is tells that it is the end of a context's time.
func (t tooLong) Is(target error) bool { return target == context.DeadlineExceeded }

// stored returns the picture as it is stored (HEIC: upright), nil when it cannot
// be decoded. Decoders are other people's code before bytes from anywhere: a
// panic of theirs is a picture that cannot be read.
func (r Reader) stored(ctx context.Context, data []byte, format string) (img image.Image, err error) {
	defer func() {
		if recover() != nil {
			img, err = nil, nil
		}
	}()
	from := &reader{ctx, bytes.NewReader(data)}
	switch format {
	case "JPEG":
		return jpeg.Decode(from)
	case "PNG":
		return png.Decode(from)
	case "WebP":
		return webp.Decode(from)
	}
	return r.HEIC(ctx, data)
}

// reader ends what is read from it when the context ends. Decoders know no
// context, but ask for more every few kilobytes.
type reader struct {
	ctx context.Context
	r   io.Reader
}

// Read implements [io.Reader].
func (r *reader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.r.Read(p[:min(len(p), 4<<10)])
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
