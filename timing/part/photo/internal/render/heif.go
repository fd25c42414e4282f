package render

import (
	"bytes"
	"encoding/binary"
)

// GridHEIC is a HEIF file whose picture is put together of one tile again and again, as
// phones put theirs together of different ones (ISO/IEC 23008-12, 6.6.2.3). The tile is
// the first item of a file of the plain kind, width by height pixels.
func GridHEIC(tile []byte, width, height, columns, rows int) []byte {
	u16, u32 := binary.BigEndian.AppendUint16, binary.BigEndian.AppendUint32
	box := func(kind string, parts ...[]byte) []byte {
		body := bytes.Join(parts, nil)
		return append(append(u32(nil, uint32(8+len(body))), kind...), body...)
	}
	full := func(kind string, version byte, parts ...[]byte) []byte {
		return box(kind, append([][]byte{{version, 0, 0, 0}}, parts...)...)
	}
	// Of the tile's file: how it is coded, and its data, whose place stands in iloc after
	// 8 bytes of box, 4 of version, 2 of sizes, 2 of number, 2 of id, 2 of reference, 2 of
	// number and 0 of base.
	at := bytes.Index(tile, []byte("hvcC")) - 4
	coded := tile[at:][:binary.BigEndian.Uint32(tile[at:])]
	iloc := bytes.Index(tile, []byte("iloc")) + 4
	place := tile[iloc+4+2+2+2+2:]
	base, place := int(binary.BigEndian.Uint32(place)), place[4:]
	from := base + int(binary.BigEndian.Uint32(place[2:]))
	data := tile[from:][:binary.BigEndian.Uint32(place[6:])]

	w, h := uint32(width*columns), uint32(height*rows)
	grid := u32(u32([]byte{0, 1, byte(rows - 1), byte(columns - 1)}, w), h)
	items := columns * rows
	kinds, places, links := [][]byte{u16(nil, uint16(items+1))}, []byte{0x44, 0}, u32(nil, uint32(items+1))
	places = u16(places, uint16(items+1))
	tiles := u16(u16(nil, 1), uint16(items))
	item := func(id uint16, kind string, size, offset int) {
		kinds = append(kinds, full("infe", 2, u16(nil, id), []byte{0, 0}, []byte(kind), []byte{0}))
		places = u32(u32(u16(u16(u16(places, id), 0), 1), uint32(offset)), uint32(size))
		links = u16(links, id)
	}
	whole := func(offset int) []byte {
		kinds, places, links = kinds[:1], places[:4], links[:4]
		item(1, "grid", len(grid), offset)
		links = append(links, 1, 1) // its size, the first property
		for i := range items {
			item(uint16(i+2), "hvc1", len(data), offset+len(grid))
			links = append(links, 2, 0x82, 3) // coding, which must be understood, and size
		}
		refs := append([]byte(nil), tiles...)
		for i := range items {
			refs = u16(refs, uint16(i+2))
		}
		meta := full("meta", 0,
			full("hdlr", 0, u32(nil, 0), []byte("pict"), make([]byte, 13)),
			full("pitm", 0, u16(nil, 1)), full("iloc", 0, places), full("iinf", 0, kinds...),
			box("iprp",
				box("ipco", full("ispe", 0, u32(u32(nil, w), h)), coded, full("ispe", 0, u32(u32(nil, uint32(width)), uint32(height)))),
				full("ipma", 0, links)),
			full("iref", 0, box("dimg", refs)))
		return append(box("ftyp", []byte("heic\x00\x00\x00\x00mif1heic")), meta...)
	}
	head := whole(0)
	head = whole(len(head) + 8)
	return append(head, box("mdat", grid, data)...)
}
