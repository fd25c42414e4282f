package render

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"

	"pinphase.org/pinphase/timing/part/photo/hostile"
)

// TIFF writes the EXIF data of a phone: orientation, 35 mm equivalent focal
// length and the size as taken; what is 0 is left out.
func TIFF(orientation, focal35, width, height int) []byte {
	const short, long = 3, 4 // types of numbers
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
			if e.kind == short {
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
		first = append(first, entry{0x0112, short, uint32(orientation)})
	}
	if width != 0 {
		second = append(second, entry{0xa002, long, uint32(width)}, entry{0xa003, long, uint32(height)})
	}
	if focal35 != 0 {
		second = append(second, entry{0xa405, short, uint32(focal35)})
	}
	at := 8 + 2 + 12*(len(first)+1) + 4
	first = append(first, entry{0x8769, long, uint32(at)})
	b := append([]byte("MM\x00*\x00\x00\x00\x08"), write(first)...)
	return append(b, write(second)...)
}

// WithEXIF puts EXIF data into a JPEG, as its first segment.
func WithEXIF(jpg, tiff []byte) []byte {
	body := append([]byte("Exif\x00\x00"), tiff...)
	seg := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(body)))
	return bytes.Join([][]byte{jpg[:2], seg, body, jpg[2:]}, nil)
}

// WithChunk puts a chunk into a PNG, before its last one.
func WithChunk(png []byte, kind string, body []byte) []byte {
	c := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	c = append(append(c, kind...), body...)
	c = binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
	return bytes.Join([][]byte{png[:len(png)-12], c, png[len(png)-12:]}, nil)
}

// WithWebPEXIF turns a plain WebP into an extended one with EXIF data.
func WithWebPEXIF(plain, tiff []byte, width, height int) []byte {
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

// WithProperty adds a property (irot, imir, clap) to the first item of a HEIF
// file of the plain kind, after its other ones.
func WithProperty(file []byte, kind string, body ...byte) []byte {
	property := append(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), kind...)
	property = append(property, body...)
	out := bytes.Clone(file)
	// grow makes a box longer and returns where it begins and ended.
	grow := func(kind string, by int) (start, end int) {
		at := bytes.Index(out, []byte(kind)) - 4
		size := int(binary.BigEndian.Uint32(out[at:]))
		binary.BigEndian.PutUint32(out[at:], uint32(size+by))
		return at, at + size
	}
	insert := func(at int, b ...byte) { out = append(out[:at:at], append(b, out[at:]...)...) }
	added := len(property) + 1
	moveItems(out, added)
	grow("meta", added)
	grow("iprp", added)
	first, last := grow("ipco", 0)
	count := 0
	for at := first + 8; at < last; count++ {
		at += int(binary.BigEndian.Uint32(out[at:]))
	}
	link, _ := grow("ipma", 1)
	// Full box, number of items, then the first item: id, number, numbers.
	n := link + 12 + 4 + 2
	insert(n+1+int(out[n]), 0x80|byte(count+1))
	out[n]++
	_, end := grow("ipco", len(property))
	insert(end, property...)
	return out
}

// moveItems raises where the items' data stand: in a table of version 0 or 1
// with offsets of four bytes, those of the items when it has them, else those
// of their stretches.
func moveItems(file []byte, by int) {
	at := bytes.Index(file, []byte("iloc")) + 4
	version, base := file[at], int(file[at+5]>>4)
	at += 6
	n := int(binary.BigEndian.Uint16(file[at:]))
	at += 2
	raise := func(at int) { binary.BigEndian.PutUint32(file[at:], binary.BigEndian.Uint32(file[at:])+uint32(by)) }
	for range n {
		at += 4 // id, data reference
		if version > 0 {
			at += 2
		}
		if base == 4 {
			raise(at)
		}
		at += base
		m := int(binary.BigEndian.Uint16(file[at:]))
		at += 2
		for range m {
			if base == 0 {
				raise(at)
			}
			at += 8
		}
	}
}

// JPEG encodes a picture, finely.
func JPEG(img image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 98}); err != nil {
		panic("render: " + err.Error())
	}
	return b.Bytes()
}

// PNG encodes a picture.
func PNG(img image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic("render: " + err.Error())
	}
	return b.Bytes()
}

// Pictures are files of every format for a fuzz test to begin with, and two that are
// none. read returns a file of the folder pixels/testdata.
func Pictures(read func(name string) []byte) [][]byte {
	img, exif := Arrow(48, 36), TIFF(6, 26, 48, 36)
	return [][]byte{
		WithEXIF(JPEG(img), exif),
		WithChunk(PNG(img), "eXIf", exif),
		read("lossy.webp"),
		WithWebPEXIF(read("lossless.webp"), exif, 64, 48),
		read("lying.heic"),
		read("turned.heic"),
		hostile.JPEG(48, 40, false, true, 3),
		hostile.JPEG(48, 40, true, false, 0),
		hostile.PNG(48, 40, 16, true, true),
		hostile.WebP(48, 40, 3),
		[]byte("not a photograph\n"),
		{},
	}
}
