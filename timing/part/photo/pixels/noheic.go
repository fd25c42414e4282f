//go:build noheic

package pixels

import (
	"context"
	"image"

	"pinphase.org/pinphase/timing/phrase"
)

// HEIC tells whether this build has the decoder of HEIC.
const HEIC = false

func decodeHEIC(context.Context, []byte) (image.Image, error) {
	return nil, phrase.Errorf("is a HEIC picture, and this program was built without what decodes them; save it as JPEG")
}
