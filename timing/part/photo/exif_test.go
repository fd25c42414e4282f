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
	if got := readEXIF(append([]byte("Exif\x00\x00"), render.TIFF(3, 28, 4000, 3000)...)); got != (exif{orientation: 3, focal35: 28, width: 4000, height: 3000}) {
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

// A lens is a front camera's where its name says so: LensModel, tag 0xA434 of type ASCII
// (CIPA DC-008, table 8), stored behind the directory, or in the entry where it has at
// most four bytes.
func TestFrontCamera(t *testing.T) {
	withLens := func(lens string) []byte {
		lens += "\x00"
		b := []byte("MM\x00*\x00\x00\x00\x08" + "\x00\x01" + "\x87\x69\x00\x04\x00\x00\x00\x01\x00\x00\x00\x1a" + "\x00\x00\x00\x00" +
			"\x00\x01" + "\xa4\x34\x00\x02\x00\x00\x00" + string(rune(len(lens))) + "\x00\x00\x00\x2c" + "\x00\x00\x00\x00")
		if len(lens) <= 4 {
			copy(b[36:], lens+"\x00\x00\x00\x00")
		}
		return append(b, lens...)
	}
	for lens, want := range map[string]bool{"Wren Phone front camera 2.7mm f/2.2": true, "WREN FRONT 3": true, "Wren back triple camera": false, "W": false, "": false} {
		data := withLens(lens)
		if got := readEXIF(data); got.front != want {
			t.Errorf("%q: front %v", lens, got.front)
		}
		for cut := range data {
			readEXIF(data[:cut])
		}
	}
}
