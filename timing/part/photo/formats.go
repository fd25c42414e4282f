package photo

import (
	"bytes"
	"encoding/binary"

	"pinphase.org/pinphase/timing/phrase"
)

// inspectJPEG walks the marker segments to the end of the picture (ITU-T T.81,
// annex B), over the data of every scan.
func inspectJPEG(data []byte) (header, error) {
	h := header{format: "JPEG"}
	var f jpegFrame
	scans := 0
	at := 2
	for {
		for at < len(data) && data[at] == 0xff && at+1 < len(data) && data[at+1] == 0xff {
			at++ // fill bytes
		}
		if at+2 > len(data) {
			return h, errCut
		}
		if data[at] != 0xff {
			return h, damaged(h.format)
		}
		marker := data[at+1]
		switch {
		case marker == 0xd9 && scans > 0:
			h.demand = f.demand()
			return h, nil
		case marker == 0xd9:
			return h, damaged(h.format)
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd7:
			at += 2 // stand alone
			continue
		case at+4 > len(data):
			return h, errCut
		}
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if size < 2 {
			return h, damaged(h.format)
		}
		if at+2+size > len(data) {
			return h, errCut
		}
		body := data[at+4 : at+2+size]
		at += 2 + size
		switch {
		case marker == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) && h.exif == (exif{}):
			h.exif = readEXIF(body)
		case marker == 0xee && len(body) >= 12 && bytes.HasPrefix(body, []byte("Adobe")):
			f.plain = f.plain || body[11] == 0
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			if !f.read(marker, body) {
				return h, damaged(h.format)
			}
			h.width, h.height = f.width, f.height
		case marker == 0xda:
			if scans++; scans > MaxScans {
				return h, phrase.Errorf("is built up in more than %d scans; open it in a picture program and save it again", MaxScans)
			}
			if at = nextMarker(data, at); at < 0 {
				return h, errCut
			}
		}
	}
}

// nextMarker is where the data of a scan end: in them 0xff is followed by 0 or by
// the number of a restart. -1 when they do not.
func nextMarker(data []byte, at int) int {
	for {
		i := bytes.IndexByte(data[at:], 0xff)
		if i < 0 || at+i+1 >= len(data) {
			return -1
		}
		at += i
		if next := data[at+1]; next != 0 && next != 0xff && (next < 0xd0 || next > 0xd7) {
			return at
		}
		at++
	}
}

// jpegFrame is what a JPEG's frame header says of the picture.
type jpegFrame struct {
	width, height int
	blocks        int64 // of 8 by 8 values, of all its components
	components    int
	progressive   bool
	plain         bool // red, green and blue, or four colours of ink, as they are
}

// read reads a frame header (ITU-T T.81, B.2.2).
func (f *jpegFrame) read(marker byte, body []byte) bool {
	if len(body) < 6 || len(body) < 6+3*int(body[5]) || body[5] == 0 {
		return false
	}
	f.height, f.width = int(binary.BigEndian.Uint16(body[1:])), int(binary.BigEndian.Uint16(body[3:]))
	f.components, f.progressive = int(body[5]), marker == 0xc2
	across, down, all := 0, 0, 0
	ids := ""
	for i := range f.components {
		c := body[6+3*i:]
		h, v := int(c[1]>>4), int(c[1]&15)
		if h < 1 || h > 4 || v < 1 || v > 4 {
			return false
		}
		if f.components == 1 {
			h, v = 1, 1
		}
		if i == 0 {
			across, down = (f.width+8*h-1)/(8*h), (f.height+8*v-1)/(8*v)
		}
		all += h * v
		ids += string(rune(c[0]))
	}
	f.blocks = int64(across) * int64(down) * int64(all)
	f.plain = f.plain || f.components == 4 || ids == "RGB"
	return true
}

// demand is what decoding takes: the picture, one byte a value; of a progressive one
// all its coefficients in four bytes each, for every scan improves them; and four
// bytes a pixel where the colours are not those of JPEG.
func (f *jpegFrame) demand() Demand {
	d := Demand{Bytes: 64 * f.blocks, advice: smaller}
	if f.progressive {
		d.Bytes, d.advice = 5*d.Bytes, notProgressive
	}
	if f.plain {
		d.Bytes += 4 * int64(f.width) * int64(f.height)
	}
	return d
}

// inspectPNG walks the chunks (ISO/IEC 15948).
func inspectPNG(data []byte) (header, error) {
	h := header{format: "PNG"}
	var ihdr []byte
	transparent := false
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
			if len(body) < 13 {
				return h, damaged(h.format)
			}
			w, t := binary.BigEndian.Uint32(body), binary.BigEndian.Uint32(body[4:])
			if w > 1<<30 || t > 1<<30 {
				return h, damaged(h.format)
			}
			h.width, h.height = int(w), int(t)
			ihdr = body
		case "tRNS":
			transparent = true
		case "eXIf":
			h.exif = readEXIF(body)
		case "IEND":
			h.demand = pngDemand(int64(h.width)*int64(h.height), ihdr, transparent)
			return h, nil
		}
		at += 12 + int(size)
	}
}

// pngDemand is what decoding takes: one byte for each pixel of grey or of a palette, four
// for one with colours or transparency, twice that with 16 bits a channel. An interlaced picture is put together of seven, of which the
// largest has half the pixels.
func pngDemand(pixels int64, ihdr []byte, transparent bool) Demand {
	depth, colour, interlaced := ihdr[8], ihdr[9], ihdr[12] != 0
	d := Demand{Bytes: 4 * pixels, advice: smaller}
	if colour == 3 || colour == 0 && !transparent {
		d.Bytes = pixels
	}
	if depth == 16 {
		d.Bytes, d.advice = 2*d.Bytes, eightBits
	}
	if interlaced {
		d.Bytes += d.Bytes / 2
		if depth != 16 {
			d.advice = notInterlaced
		}
	}
	return d
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
	perPixel, trees := int64(0), int64(0)
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
			perPixel += 2 // brightness, colours at half the size, filters
		case "ALPH":
			perPixel += 6
			trees += treeBytes(size)
		case "VP8L":
			if len(body) < 5 || body[0] != 0x2f {
				return h, damaged(h.format)
			}
			bits := binary.LittleEndian.Uint32(body[1:])
			h.width, h.height = 1+int(bits&0x3fff), 1+int(bits>>14&0x3fff)
			perPixel += 11 // the picture, its colours looked up in a table, three transforms
			trees += treeBytes(size)
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
	h.demand = Demand{perPixel*int64(h.width)*int64(h.height) + trees, smaller}
	return h, nil
}

// treeBytes is what the code trees of lossless data take at most. Their decoder
// keeps 2,600 groups of them, each of some 3,100 symbols and with tables of 3 KiB;
// a symbol of 16 bytes takes at least half a bit of the data.
func treeBytes(data uint64) int64 { return int64(min(256*data, 2600*(3100*16+3<<10))) }

func u24(b []byte) uint32 { return uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 }
