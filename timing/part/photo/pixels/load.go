// Package pixels decodes photographs for the screen: what package picture does,
// and HEIC. It is apart because the HEIC decoder is large and only the window
// needs it.
package pixels

import (
	"image"

	"github.com/gen2brain/heic"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

// Decode is [picture.Reader.Decode] for every format.
func Decode(data []byte, longest int) (*image.RGBA, photo.Info, error) {
	return picture.Reader{HEIC: heic.Decode}.Decode(data, longest)
}

// Load is [picture.Reader.Load] for every format.
func Load(path string, longest int) (*image.RGBA, photo.Info, error) {
	return picture.Reader{HEIC: heic.Decode}.Load(path, longest)
}
