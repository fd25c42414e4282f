// Package hostile makes pictures that are sound and ask for more than their bytes
// look like: many times over the same picture, a hundred megapixels in a few
// kilobytes, code without end. Tests use it.
package hostile

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
)

// JPEG is a sound JPEG of any size in few bytes, grey all over: one of three
// components with the colours at half the size, else of one. A progressive one goes
// over the whole picture so many more times after the first, each a few bytes to
// every 20,000 blocks (ITU-T T.81, G.1.2.2: runs of blocks at their end).
func JPEG(width, height int, colours, progressive bool, more int) []byte {
	var b bytes.Buffer
	segment := func(marker byte, body ...byte) {
		b.Write([]byte{0xff, marker})
		b.Write(binary.BigEndian.AppendUint16(nil, uint16(len(body)+2)))
		b.Write(body)
	}
	b.Write([]byte{0xff, 0xd8})
	segment(0xdb, append([]byte{0}, bytes.Repeat([]byte{1}, 64)...)...)
	frame := []byte{8, byte(height >> 8), byte(height), byte(width >> 8), byte(width), 1, 1, 0x11, 0}
	scan := []byte{1, 1, 0}
	// The bits of the first scan are all 0: "no difference" for each block, and for one
	// that is not progressive "nothing more in this block".
	mcus := ((width + 7) / 8) * ((height + 7) / 8)
	bits := mcus
	if colours {
		frame = append(frame[:5], 3, 1, 0x22, 0, 2, 0x11, 0, 3, 0x11, 0)
		scan = []byte{3, 1, 0, 2, 0, 3, 0}
		mcus = ((width + 15) / 16) * ((height + 15) / 16)
		bits = 6 * mcus
	}
	kind, last, symbol := byte(0xc0), byte(63), byte(0)
	if progressive {
		kind, last, symbol = 0xc2, 0, 0xe0 // a run of 16,384 and more
	} else {
		bits *= 2
	}
	segment(kind, frame...)
	one := func(class, symbol byte) []byte {
		return append(append([]byte{class, 1}, make([]byte, 15)...), symbol)
	}
	segment(0xc4, one(0x00, 0)...)
	segment(0xc4, one(0x10, symbol)...)
	segment(0xda, append(scan, 0, last, 0)...)
	b.Write(make([]byte, bits/8+1))
	for range more {
		segment(0xda, 1, 1, 0, 1, 63, 0)
		// 0 for the run, then 14 bits of 5461: 21,845 blocks in 15 bits.
		blocks := ((width + 7) / 8) * ((height + 7) / 8)
		for acc, n, left := uint32(0), 0, blocks; left > 0 || n > 0; left -= 21845 {
			if left > 0 {
				acc, n = acc<<15|5461, n+15
			} else {
				acc, n = acc<<8, n+8-n%8
			}
			for n >= 8 {
				b.WriteByte(byte(acc >> (n - 8)))
				n -= 8
			}
			if left <= 0 {
				break
			}
		}
	}
	b.Write([]byte{0xff, 0xd9})
	return b.Bytes()
}

// PNG is a PNG of nothing but zeros: of any size, of colours with so many bits a
// channel, interlaced or not. If it is not to be whole the first rows of pixels are
// there, which is enough for whoever believes the header.
func PNG(width, height int, depth byte, interlaced, whole bool) []byte {
	head := binary.BigEndian.AppendUint32(nil, uint32(width))
	head = append(binary.BigEndian.AppendUint32(head, uint32(height)), depth, 2, 0, 0, 0)
	if interlaced {
		head[12] = 1
	}
	var pixels bytes.Buffer
	z := zlib.NewWriter(&pixels)
	rows := func(w, h int) { // of one pass; a pass without pixels has no rows
		if w == 0 {
			return
		}
		row := make([]byte, 1+w*3*int(depth)/8)
		for range h {
			z.Write(row) // a buffer does not fail
		}
	}
	every := func(n, from, step int) int { return (n - from + step - 1) / step }
	switch {
	case !whole:
		rows(width, 3)
	case interlaced: // ISO/IEC 15948, 8.2: where each pass begins, and its steps
		for _, p := range [7][4]int{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}} {
			rows(every(width, p[0], p[2]), every(height, p[1], p[3]))
		}
	default:
		rows(width, height)
	}
	z.Close()
	chunk := func(kind string, body []byte) []byte {
		b := append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), kind...)
		b = append(b, body...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head), chunk("IDAT", pixels.Bytes()), chunk("IEND", nil)}, nil)
}

// WebP is a lossless WebP whose pixels are in so many groups of code trees (RFC
// 9649, section 3.7.2.2), of which each pixel's group is the last.
func WebP(width, height, groups int) []byte {
	var data []byte
	n := 0
	put := func(v uint32, bits int) {
		for i := range bits {
			if n%8 == 0 {
				data = append(data, 0)
			}
			data[n/8] |= byte(v>>i&1) << (n % 8)
			n++
		}
	}
	// A tree of one symbol: simple, one symbol, of eight bits.
	tree := func(symbol uint32) {
		put(1, 1)
		put(0, 1)
		put(1, 1)
		put(symbol, 8)
	}
	put(0x2f, 8)
	put(uint32(width-1), 14)
	put(uint32(height-1), 14)
	put(0, 1+3)                // no alpha, version 0
	put(0, 1)                  // no transform
	put(0, 1)                  // no cache of colours
	put(1, 1)                  // several groups
	put(7, 3)                  // a tile is 512 pixels wide
	put(0, 1)                  // no cache in the tiles' picture
	last := uint32(groups - 1) // red and green of a tile are the number of its group
	for _, symbol := range []uint32{last & 255, last >> 8, 0, 0, 0} {
		tree(symbol)
	}
	for range 5 * groups {
		tree(0)
	}
	chunk := binary.LittleEndian.AppendUint32([]byte("VP8L"), uint32(len(data)))
	chunk = append(chunk, data...)
	if len(data)%2 == 1 {
		chunk = append(chunk, 0)
	}
	body := append([]byte("WEBP"), chunk...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}
