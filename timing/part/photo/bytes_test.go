package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// tiff writes the EXIF data of a phone: orientation, 35 mm equivalent focal
// length and the size as taken; what is 0 is left out.
func tiff(orientation, focal35, width, height int) []byte {
	type entry struct {
		tag, kind uint16
		v         uint32
	}
	write := func(list []entry) []byte {
		b := binary.BigEndian.AppendUint16(nil, uint16(len(list)))
		for _, e := range list {
			b = binary.BigEndian.AppendUint16(b, e.tag)
			b = binary.BigEndian.AppendUint16(b, e.kind)
			b = binary.BigEndian.AppendUint32(b, 1)
			if e.kind == typeShort {
				b = binary.BigEndian.AppendUint16(b, uint16(e.v))
				b = append(b, 0, 0)
			} else {
				b = binary.BigEndian.AppendUint32(b, e.v)
			}
		}
		return append(b, 0, 0, 0, 0)
	}
	var first, second []entry
	if orientation != 0 {
		first = append(first, entry{tagOrientation, typeShort, uint32(orientation)})
	}
	if width != 0 {
		second = append(second, entry{tagPixelX, typeLong, uint32(width)}, entry{tagPixelY, typeLong, uint32(height)})
	}
	if focal35 != 0 {
		second = append(second, entry{tagFocal35, typeShort, uint32(focal35)})
	}
	at := 8 + 2 + 12*(len(first)+1) + 4
	first = append(first, entry{tagExifIFD, typeLong, uint32(at)})
	b := append([]byte("MM\x00*\x00\x00\x00\x08"), write(first)...)
	return append(b, write(second)...)
}

// withEXIF puts EXIF data into a JPEG, as its first segment.
func withEXIF(jpg, tiff []byte) []byte {
	body := append([]byte("Exif\x00\x00"), tiff...)
	seg := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(body)))
	return bytes.Join([][]byte{jpg[:2], seg, body, jpg[2:]}, nil)
}

// withChunk puts a chunk into a PNG, before its last one.
func withChunk(png []byte, kind string, body []byte) []byte {
	c := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	c = append(append(c, kind...), body...)
	c = binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
	return bytes.Join([][]byte{png[:len(png)-12], c, png[len(png)-12:]}, nil)
}

// withWebPEXIF turns a plain WebP into an extended one with EXIF data.
func withWebPEXIF(plain, tiff []byte, width, height int) []byte {
	chunk := func(kind string, body []byte) []byte {
		b := binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body)))
		b = append(b, body...)
		if len(body)%2 == 1 {
			b = append(b, 0)
		}
		return b
	}
	w, h := width-1, height-1
	extended := chunk("VP8X", []byte{0x08, 0, 0, 0, byte(w), byte(w >> 8), byte(w >> 16), byte(h), byte(h >> 8), byte(h >> 16)})
	body := bytes.Join([][]byte{[]byte("WEBP"), extended, plain[12:], chunk("EXIF", tiff)}, nil)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}
