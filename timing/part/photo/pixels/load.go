// Package pixels decodes photographs for the screen: what package picture does,
// and HEIC. It is apart because the HEIC decoder is large and only the window
// needs it. A build with the tag noheic leaves that decoder out and says so of each
// such picture.
package pixels

import (
	"context"
	"image"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

// Decode is [picture.Reader.Decode] for every format.
func Decode(ctx context.Context, data []byte, longest int) (*image.RGBA, photo.Info, error) {
	return picture.Reader{HEIC: decodeHEIC}.Decode(ctx, data, longest)
}

// Load is [picture.Reader.Load] for every format.
func Load(ctx context.Context, path string, longest int) (*image.RGBA, photo.Info, error) {
	return picture.Reader{HEIC: decodeHEIC}.Load(ctx, path, longest)
}
