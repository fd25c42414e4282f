package photo

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
)

// exif is what of a picture's EXIF data (JEITA CP-3451) serves here; 0 where
// not stated.
type exif struct {
	orientation   int  // 1 to 8
	focal35       int  // focal length for a 35 mm frame, mm
	width, height int  // of the picture as it was taken
	front         bool // the lens is called that of a front camera
}

// Tags, and the two types of whole numbers.
const (
	tagOrientation = 0x0112
	tagExifIFD     = 0x8769
	tagPixelX      = 0xa002
	tagPixelY      = 0xa003
	tagFocal35     = 0xa405
	tagLens        = 0xa434 // LensModel, since EXIF 2.3

	typeText = 2

	typeShort = 3
	typeLong  = 4
)

// readEXIF reads a TIFF structure, with or without "Exif\0\0" before it.
// Whatever is out of order is taken as not stated: a picture does not depend
// on it.
func readEXIF(data []byte) exif {
	data = bytes.TrimPrefix(data, []byte("Exif\x00\x00"))
	if len(data) < 8 {
		return exif{}
	}
	var order binary.ByteOrder
	switch string(data[:4]) {
	case "II*\x00":
		order = binary.LittleEndian
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return exif{}
	}
	var e exif
	first := tags(data, order, order.Uint32(data[4:]))
	if o := first[tagOrientation]; o >= 1 && o <= 8 {
		e.orientation = int(o)
	}
	if at, ok := first[tagExifIFD]; ok {
		second := tags(data, order, at)
		e.focal35 = int(min(second[tagFocal35], math.MaxInt16))
		e.width = int(min(second[tagPixelX], math.MaxInt32))
		e.height = int(min(second[tagPixelY], math.MaxInt32))
		e.front = isFront(text(data, order, at, tagLens))
	}
	return e
}

// isFront tells by its name whether a lens is that of a camera beside a phone's screen,
// whose pictures may be stored mirrored.
func isFront(lens string) bool {
	lens = strings.ToLower(lens)
	return strings.Contains(lens, "front") || strings.Contains(lens, "selfie")
}

// text returns a text of the directory at the given offset, "" where there is none.
func text(data []byte, order binary.ByteOrder, at uint32, tag uint16) string {
	if uint64(at)+2 > uint64(len(data)) {
		return ""
	}
	entries := data[at+2:]
	for i := range min(int(order.Uint16(data[at:])), len(entries)/12) {
		e := entries[12*i : 12*i+12]
		if order.Uint16(e) != tag || order.Uint16(e[2:]) != typeText {
			continue
		}
		n := uint64(order.Uint32(e[4:]))
		from := uint64(order.Uint32(e[8:]))
		if n <= 4 { // it stands in the entry itself
			return strings.TrimRight(string(e[8:8+n]), "\x00")
		}
		if from+n > uint64(len(data)) {
			return ""
		}
		return strings.TrimRight(string(data[from:from+n]), "\x00")
	}
	return ""
}

// tags returns the single whole numbers of the directory at the given offset.
func tags(data []byte, order binary.ByteOrder, at uint32) map[uint16]uint32 {
	if uint64(at)+2 > uint64(len(data)) {
		return nil
	}
	entries := data[at+2:]
	n := min(int(order.Uint16(data[at:])), len(entries)/12)
	values := make(map[uint16]uint32, n)
	for i := range n {
		e := entries[12*i : 12*i+12]
		if order.Uint32(e[4:]) != 1 {
			continue
		}
		switch order.Uint16(e[2:]) {
		case typeShort:
			values[order.Uint16(e)] = uint32(order.Uint16(e[8:]))
		case typeLong:
			values[order.Uint16(e)] = order.Uint32(e[8:])
		}
	}
	return values
}

// focalPx returns the focal length in pixels of a picture of the given size: a
// 35 mm equivalent is the focal length that sees the same diagonal on a frame
// of 43.27 mm. 0 when it is not stated or the picture has been cut since, which
// shows in its shape: then nothing is known.
func (e exif) focalPx(width, height int) float64 {
	if e.focal35 < 8 || e.focal35 > 2000 {
		return 0
	}
	if e.width > 0 && e.height > 0 {
		taken := float64(max(e.width, e.height)) / float64(min(e.width, e.height))
		now := float64(max(width, height)) / float64(min(width, height))
		if math.Abs(taken/now-1) > 0.01 {
			return 0
		}
	}
	return float64(e.focal35) * math.Hypot(float64(width), float64(height)) / diagonal35
}
