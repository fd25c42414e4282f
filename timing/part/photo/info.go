package photo

import (
	"bytes"
	"errors"
	"io"
	"os"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
)

// What a picture may have at most. A phone's largest pictures have 108
// megapixels and some 40 MB; decoded they take a few hundred.
const (
	MaxFileBytes  = 64 << 20
	MaxMegapixels = 120
	minSide       = 32 // px; in less no mark can be placed
	// MaxScans is how often a JPEG may go over the whole picture. Programs write 10 or
	// so; each takes time, however few bytes it has.
	MaxScans = 100
)

// Info is what a picture says of itself before it is decoded.
type Info struct {
	Format        string  // "JPEG", "PNG", "WebP" or "HEIC"
	Width, Height int     // px, as shown upright
	FocalPx       float64 // focal length of the lens in px of this picture; 0 when not stated
	// Orientation is the EXIF orientation, 1 to 8, by which the decoded picture
	// is still to be turned upright; from 5 on width and height change places.
	// 1 for HEIC, which is turned by its decoder.
	Orientation int
	Front       bool // taken by a front camera, by what its lens is called; such pictures may be mirrored
}

// Inspect reads a picture's format, size and lens without decoding it. That a
// picture has been cut short is found too. The error is one line and does not
// name the file.
func Inspect(data []byte) (Info, error) {
	h, err := inspect(data)
	if err != nil {
		return Info{}, err
	}
	return h.info(), nil
}

// InspectFile is [Inspect] of a file; the error then names it.
func InspectFile(path string) (Info, error) {
	_, info, err := Open(path)
	return info, err
}

// Open returns a picture's bytes and what [Inspect] says of them. Nothing larger
// than [MaxFileBytes] is read. The error is one line and names the file.
func Open(path string) ([]byte, Info, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, Info{}, err
	}
	info, err := Inspect(data)
	if err != nil {
		return nil, Info{}, phrase.Errorf("%s: %v", path, err)
	}
	return data, info, nil
}

func readFile(path string) ([]byte, error) {
	f, err := regular.Open(path)
	if errors.Is(err, regular.ErrNotFile) {
		return nil, err
	}
	if err != nil {
		return nil, openError(path, err)
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return nil, openError(path, err)
	}
	if st.Size() > MaxFileBytes {
		return nil, phrase.Errorf("%s: has %.0f MiB; at most %d are read", path, float64(st.Size())/(1<<20), MaxFileBytes>>20)
	}
	data, err := io.ReadAll(io.LimitReader(f, MaxFileBytes+1))
	if err != nil {
		return nil, openError(path, err)
	}
	return data, nil
}

// openError says the file's name once; the system's error has it too.
func openError(path string, err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	if errors.Is(err, os.ErrNotExist) {
		return phrase.Errorf("%s: there is no such file", path)
	}
	return phrase.Errorf("%s: %v", path, err)
}

// header is what the bytes of a picture say before it is decoded.
type header struct {
	format        string
	width, height int // as the decoder will give it
	exif          exif
	turned        bool // the decoder turns it upright itself
	demand        Demand
}

var errCut = phrase.Errorf("the picture is cut short; copy it again from where it came")

func damaged(format string) error {
	return phrase.Errorf("is a damaged %s picture; open it in a picture program and save it again", format)
}

// inspect reads the header of any of the formats, told apart by content.
func inspect(data []byte) (header, error) {
	if len(data) > MaxFileBytes {
		return header{}, phrase.Errorf("has %.0f MiB; at most %d are read", float64(len(data))/(1<<20), MaxFileBytes>>20)
	}
	var h header
	var err error
	switch {
	case len(data) == 0:
		return h, phrase.Errorf("is empty")
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		h, err = inspectJPEG(data)
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		h, err = inspectPNG(data)
	case len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP":
		h, err = inspectWebP(data)
	case len(data) >= 12 && string(data[4:8]) == "ftyp":
		h, err = inspectHEIF(data)
	default:
		return h, phrase.Errorf("is %s; a JPEG, PNG, WebP or HEIC picture is needed", looksLike(data))
	}
	if err != nil {
		return header{}, err
	}
	return h, h.check()
}

// looksLike names what is not one of the four formats.
func looksLike(data []byte) phrase.Text {
	for _, k := range []struct {
		begins string
		name   phrase.Text
	}{
		{"GIF8", "a GIF picture"}, {"BM", "a BMP picture"}, {"II*\x00", "a TIFF or raw picture"}, {"MM\x00*", "a TIFF or raw picture"},
		{"%PDF", "a PDF"}, {"PK\x03\x04", "a zip archive"}, {"\xff\x0a", "a JPEG XL picture"}, {"\x00\x00\x00\x0cJXL ", "a JPEG XL picture"},
	} {
		if bytes.HasPrefix(data, []byte(k.begins)) {
			return k.name
		}
	}
	first := data[:min(len(data), 512)]
	for len(first) > 0 && !utf8.Valid(first) && len(data) > len(first) && len(first) > 508 {
		first = first[:len(first)-1] // a letter cut in the middle
	}
	if utf8.Valid(first) && !bytes.ContainsRune(first, 0) {
		return "a text, not a picture"
	}
	return "not a picture"
}

func (h header) check() error {
	switch {
	case h.width <= 0 || h.height <= 0:
		return damaged(h.format)
	case h.width < minSide || h.height < minSide:
		return phrase.Errorf("the picture is %d × %d px; at least %d × %d are needed to mark points in", h.width, h.height, minSide, minSide)
	case float64(h.width)*float64(h.height) > MaxMegapixels*1e6:
		return phrase.Errorf("the picture is %d × %d px, %.0f megapixels; at most %d are read", h.width, h.height, float64(h.width)*float64(h.height)/1e6, MaxMegapixels)
	}
	return nil
}

// orientation returns by which of the eight EXIF orientations the decoded
// picture is still to be turned.
func (h header) orientation() int {
	if h.turned || h.exif.orientation < 1 || h.exif.orientation > 8 {
		return 1
	}
	return h.exif.orientation
}

func (h header) info() Info {
	i := Info{Format: h.format, Width: h.width, Height: h.height, Orientation: h.orientation()}
	if i.Orientation >= 5 {
		i.Width, i.Height = i.Height, i.Width
	}
	i.FocalPx, i.Front = h.exif.focalPx(i.Width, i.Height), h.exif.front
	return i
}
