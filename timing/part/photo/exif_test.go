package photo

import (
	"testing"

	"pinphase.org/pinphase/timing/part/photo/internal/render"
)

func TestEXIF(t *testing.T) {
	little := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00")
	if got := readEXIF(little); got.orientation != 6 {
		t.Errorf("little endian: %+v", got)
	}
	if got := readEXIF(append([]byte("Exif\x00\x00"), render.TIFF(3, 28, 4000, 3000)...)); got != (exif{3, 28, 4000, 3000}) {
		t.Errorf("big endian: %+v", got)
	}
	for _, bad := range [][]byte{nil, []byte("II"), []byte("XX*\x00\x08\x00\x00\x00"), little[:15], []byte("MM\x00*\xff\xff\xff\xff"), render.TIFF(9, 0, 0, 0)} {
		if got := readEXIF(bad); got != (exif{}) {
			t.Errorf("%q: %+v", bad, got)
		}
	}
	// 26 mm on a frame of 43.27 mm: hand calculation.
	near(t, "focal length", exif{focal35: 26}.focalPx(4000, 3000), 26*5000/43.266615305567875, 1e-9)
	near(t, "as taken", exif{focal35: 26, width: 4000, height: 3000}.focalPx(1200, 1600), 26*2000/43.266615305567875, 1e-9)
	near(t, "cut since", exif{focal35: 26, width: 4000, height: 3000}.focalPx(2000, 2000), 0, 0)
}
