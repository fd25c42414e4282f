package photo

import (
	"bytes"
	"encoding/binary"

	"pinphase.org/pinphase/timing/phrase"
)

// inspectJPEG walks the marker segments up to the picture data (ITU-T T.81,
// annex B).
func inspectJPEG(data []byte) (header, error) {
	h := header{format: "JPEG"}
	at := 2
	for {
		for at < len(data) && data[at] == 0xff && at+1 < len(data) && data[at+1] == 0xff {
			at++ // fill bytes
		}
		if at+4 > len(data) {
			return h, errCut
		}
		if data[at] != 0xff {
			return h, damaged(h.format)
		}
		marker := data[at+1]
		if marker == 0x01 || marker >= 0xd0 && marker <= 0xd7 {
			at += 2 // stand alone
			continue
		}
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if marker == 0xd9 || size < 2 {
			return h, damaged(h.format)
		}
		if at+2+size > len(data) {
			return h, errCut
		}
		body := data[at+4 : at+2+size]
		switch {
		case marker == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) && h.exif == (exif{}):
			h.exif = readEXIF(body)
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			if len(body) < 6 {
				return h, damaged(h.format)
			}
			h.height, h.width = int(binary.BigEndian.Uint16(body[1:])), int(binary.BigEndian.Uint16(body[3:]))
		case marker == 0xda:
			// The end marker cannot occur inside the picture's data.
			if !bytes.Contains(data[at:], []byte{0xff, 0xd9}) {
				return h, errCut
			}
			return h, nil
		}
		at += 2 + size
	}
}

// inspectPNG walks the chunks (ISO/IEC 15948).
func inspectPNG(data []byte) (header, error) {
	h := header{format: "PNG"}
	for at := 8; ; {
		if at+12 > len(data) {
			return h, errCut
		}
		size, kind := uint64(binary.BigEndian.Uint32(data[at:])), string(data[at+4:at+8])
		if size > uint64(len(data)-at-12) {
			return h, errCut
		}
		body := data[at+8 : at+8+int(size)]
		if at == 8 && kind != "IHDR" {
			return h, damaged(h.format)
		}
		switch kind {
		case "IHDR":
			if len(body) < 8 {
				return h, damaged(h.format)
			}
			w, t := binary.BigEndian.Uint32(body), binary.BigEndian.Uint32(body[4:])
			if w > 1<<30 || t > 1<<30 {
				return h, damaged(h.format)
			}
			h.width, h.height = int(w), int(t)
		case "eXIf":
			h.exif = readEXIF(body)
		case "IEND":
			return h, nil
		}
		at += 12 + int(size)
	}
}

// inspectWebP walks the chunks of the RIFF file (RFC 9649). The decoder trusts
// the size in the extended header for some of its buffers and that in the
// picture data for others: both must be the same.
func inspectWebP(data []byte) (header, error) {
	h := header{format: "WebP"}
	end := uint64(binary.LittleEndian.Uint32(data[4:])) + 8
	if end > uint64(len(data)) {
		return h, errCut
	}
	data = data[:end]
	canvasW, canvasH := 0, 0
	for at := 12; at+8 <= len(data); {
		kind, size := string(data[at:at+4]), uint64(binary.LittleEndian.Uint32(data[at+4:]))
		if size > uint64(len(data)-at-8) {
			return h, damaged(h.format)
		}
		body := data[at+8 : at+8+int(size)]
		switch kind {
		case "VP8X":
			if len(body) < 10 {
				return h, damaged(h.format)
			}
			canvasW, canvasH = 1+int(u24(body[4:])), 1+int(u24(body[7:]))
		case "VP8 ":
			if len(body) < 10 || body[3] != 0x9d || body[4] != 0x01 || body[5] != 0x2a {
				return h, damaged(h.format)
			}
			h.width = int(binary.LittleEndian.Uint16(body[6:]) & 0x3fff)
			h.height = int(binary.LittleEndian.Uint16(body[8:]) & 0x3fff)
		case "VP8L":
			if len(body) < 5 || body[0] != 0x2f {
				return h, damaged(h.format)
			}
			bits := binary.LittleEndian.Uint32(body[1:])
			h.width, h.height = 1+int(bits&0x3fff), 1+int(bits>>14&0x3fff)
		case "ANIM", "ANMF":
			return h, phrase.Errorf("is a moving WebP picture; save one still of it")
		case "EXIF":
			h.exif = readEXIF(body)
		}
		at += 8 + int(size+size&1)
	}
	if canvasW != 0 && (canvasW != h.width || canvasH != h.height) {
		return h, damaged(h.format)
	}
	return h, nil
}

func u24(b []byte) uint32 { return uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 }
