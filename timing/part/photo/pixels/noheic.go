//go:build noheic

package pixels

import (
	"context"
	"image"

	"pinphase.org/pinphase/timing/phrase"
)

func decodeHEIC(context.Context, []byte) (image.Image, error) {
	return nil, phrase.Errorf("is a HEIC picture, and this program was built without what decodes them; save it as JPEG")
}
