package figure

import (
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// subset returns a TrueType font with the glyphs of the given characters only
// (and those they are composed of), to travel inside an SVG. Kerning, ligatures
// and hinting are left out. Characters outside the basic plane or not in the
// font are left out too. Tables as in the OpenType specification 1.9.
func subset(font []byte, used []rune) ([]byte, error) {
	f, err := readTrueType(font)
	if err != nil {
		return nil, err
	}
	index := f.cmap()
	glyphs := []uint16{0} // old numbers in new order; 0 is the box for the unknown
	number := map[uint16]uint16{0: 0}
	take := func(g uint16) uint16 {
		if n, ok := number[g]; ok {
			return n
		}
		number[g] = uint16(len(glyphs))
		glyphs = append(glyphs, g)
		return number[g]
	}
	chars := map[uint16]uint16{}
	for _, r := range used {
		if g := index[r]; g != 0 {
			chars[uint16(r)] = take(g)
		}
	}
	var glyf []byte
	loca := binary.BigEndian.AppendUint32(nil, 0)
	for i := 0; i < len(glyphs); i++ { // grows by components
		g, err := f.glyph(glyphs[i], take)
		if err != nil {
			return nil, err
		}
		glyf = append(glyf, g...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	}
	var hmtx []byte
	for _, g := range glyphs {
		hmtx = append(hmtx, f.metric(g)...)
	}
	n := uint16(len(glyphs))
	head := slices.Clone(f.table["head"])
	binary.BigEndian.PutUint32(head[8:], 0)  // checksum adjustment, set below
	binary.BigEndian.PutUint16(head[50:], 1) // long loca
	hhea := slices.Clone(f.table["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], n)
	maxp := slices.Clone(f.table["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], n)
	binary.BigEndian.PutUint16(maxp[26:], 0) // no instructions
	post := make([]byte, 32)
	copy(post, f.table["post"])
	binary.BigEndian.PutUint32(post, 0x00030000) // no glyph names
	return assemble(map[string][]byte{
		"OS/2": f.table["OS/2"], "cmap": cmap4(chars), "glyf": glyf, "head": head, "hhea": hhea,
		"hmtx": hmtx, "loca": loca, "maxp": maxp, "name": nameTable(), "post": post,
	}), nil
}

// trueType is a font file cut into its tables.
type trueType struct {
	table map[string][]byte
	loca  func(glyph uint16) (from, to uint32)
	count uint16
}

var errFont = errors.New("not a TrueType font that can be cut down")

func readTrueType(b []byte) (trueType, error) {
	f := trueType{table: map[string][]byte{}}
	if len(b) < 12 || binary.BigEndian.Uint32(b) != 0x00010000 {
		return f, errFont
	}
	tables := int(binary.BigEndian.Uint16(b[4:]))
	if len(b) < 12+16*tables {
		return f, errFont
	}
	for i := range tables {
		r := b[12+16*i:]
		at, n := uint64(binary.BigEndian.Uint32(r[8:])), uint64(binary.BigEndian.Uint32(r[12:]))
		if at+n > uint64(len(b)) {
			return f, errFont
		}
		f.table[string(r[:4])] = b[at : at+n]
	}
	for tag, least := range map[string]int{"head": 54, "hhea": 36, "maxp": 32, "hmtx": 4, "loca": 4, "glyf": 0, "cmap": 4, "OS/2": 78} {
		if t, ok := f.table[tag]; !ok || len(t) < least {
			return f, fmt.Errorf("%w: table %s", errFont, tag)
		}
	}
	f.count = binary.BigEndian.Uint16(f.table["maxp"][4:])
	loca, size := f.table["loca"], 2
	if binary.BigEndian.Uint16(f.table["head"][50:]) != 0 {
		size = 4
	}
	if len(loca) < size*(int(f.count)+1) || len(f.table["hmtx"]) < 4*int(binary.BigEndian.Uint16(f.table["hhea"][34:])) {
		return f, errFont
	}
	f.loca = func(g uint16) (uint32, uint32) {
		if size == 2 {
			return 2 * uint32(binary.BigEndian.Uint16(loca[2*int(g):])), 2 * uint32(binary.BigEndian.Uint16(loca[2*int(g)+2:]))
		}
		return binary.BigEndian.Uint32(loca[4*int(g):]), binary.BigEndian.Uint32(loca[4*int(g)+4:])
	}
	return f, nil
}

// metric returns advance and side bearing of a glyph, four bytes.
func (f trueType) metric(g uint16) []byte {
	hmtx, long := f.table["hmtx"], binary.BigEndian.Uint16(f.table["hhea"][34:])
	if g < long {
		return hmtx[4*int(g) : 4*int(g)+4]
	}
	m := slices.Clone(hmtx[4*int(long)-4 : 4*int(long)-2])
	at := 4*int(long) + 2*int(g-long)
	if at+2 > len(hmtx) {
		return append(m, 0, 0)
	}
	return append(m, hmtx[at:at+2]...)
}

// Flags of a component of a composite glyph.
const (
	wordArgs        = 0x0001
	haveScale       = 0x0008
	moreComponents  = 0x0020
	haveXYScale     = 0x0040
	haveTwoByTwo    = 0x0080
	haveInstruction = 0x0100
)

// glyph returns a glyph without its instructions; take gives the components
// their new numbers.
func (f trueType) glyph(g uint16, take func(uint16) uint16) ([]byte, error) {
	if g >= f.count {
		return nil, errFont
	}
	from, to := f.loca(g)
	if from > to || int(to) > len(f.table["glyf"]) {
		return nil, errFont
	}
	b := f.table["glyf"][from:to]
	if len(b) == 0 {
		return nil, nil
	}
	if len(b) < 12 {
		return nil, errFont
	}
	contours := int(int16(binary.BigEndian.Uint16(b)))
	if contours >= 0 {
		at := 10 + 2*contours
		if len(b) < at+2 {
			return nil, errFont
		}
		n := int(binary.BigEndian.Uint16(b[at:]))
		if len(b) < at+2+n {
			return nil, errFont
		}
		out := append(slices.Clone(b[:at]), 0, 0)
		return append(out, b[at+2+n:]...), nil
	}
	out := slices.Clone(b)
	for at := 10; ; {
		if len(out) < at+6 {
			return nil, errFont
		}
		flags := binary.BigEndian.Uint16(out[at:])
		binary.BigEndian.PutUint16(out[at:], flags&^haveInstruction)
		binary.BigEndian.PutUint16(out[at+2:], take(binary.BigEndian.Uint16(out[at+2:])))
		at += 6
		if flags&wordArgs != 0 {
			at += 2
		}
		switch {
		case flags&haveScale != 0:
			at += 2
		case flags&haveXYScale != 0:
			at += 4
		case flags&haveTwoByTwo != 0:
			at += 8
		}
		if flags&moreComponents == 0 {
			if len(out) < at {
				return nil, errFont
			}
			return out[:at], nil
		}
	}
}

// cmap reads the format 4 table of the Unicode basic plane; empty when there is
// none.
func (f trueType) cmap() map[rune]uint16 {
	index := map[rune]uint16{}
	t := f.table["cmap"]
	word := func(at int) int {
		if at < 0 || at+2 > len(t) {
			return 0
		}
		return int(binary.BigEndian.Uint16(t[at:]))
	}
	for i := range word(2) {
		at := word(4+8*i+4)<<16 | word(4+8*i+6)
		if word(4+8*i) != 3 || word(4+8*i+2) != 1 || word(at) != 4 {
			continue
		}
		n := word(at+6) / 2
		ends, starts, deltas, offsets := at+14, at+16+2*n, at+16+4*n, at+16+6*n
		for k := range n {
			for c := word(starts + 2*k); c <= word(ends+2*k) && c < 0xffff; c++ {
				g := c
				if o := word(offsets + 2*k); o != 0 {
					if g = word(offsets + 2*k + o + 2*(c-word(starts+2*k))); g == 0 {
						continue
					}
				}
				index[rune(c)] = uint16(g + word(deltas+2*k))
			}
		}
	}
	return index
}

// cmap4 writes a character table with one segment a character: a few bytes more
// than it could be, and plain.
func cmap4(chars map[uint16]uint16) []byte {
	codes := slices.Sorted(maps.Keys(chars))
	n := len(codes) + 1 // and the closing segment
	var ends, starts, deltas, offsets []byte
	put := binary.BigEndian.AppendUint16
	for _, c := range codes {
		ends, starts = put(ends, c), put(starts, c)
		deltas, offsets = put(deltas, chars[c]-c), put(offsets, 0)
	}
	ends, starts, deltas, offsets = put(ends, 0xffff), put(starts, 0xffff), put(deltas, 1), put(offsets, 0)
	pow, log := 1, 0
	for pow*2 <= n {
		pow, log = pow*2, log+1
	}
	b := put(put(nil, 0), 1)                                 // version, one table
	b = binary.BigEndian.AppendUint32(put(put(b, 3), 1), 12) // Windows, Unicode, where
	for _, v := range []int{4, 16 + 8*n, 0, 2 * n, 2 * pow, log, 2 * (n - pow)} {
		b = put(b, uint16(v))
	}
	b = append(b, ends...)
	b = put(b, 0)
	b = append(b, starts...)
	b = append(b, deltas...)
	return append(b, offsets...)
}

// nameTable names the cut-down font, so that nobody takes it for the whole one,
// and keeps the notice of copyright, as the font's licence asks.
func nameTable() []byte {
	put := binary.BigEndian.AppendUint16
	entries := []struct {
		id   uint16
		text string
	}{
		{0, "Cut down from DejaVu Sans Condensed. Copyright (c) 2003 by Bitstream, Inc. All Rights Reserved. " +
			"Copyright (c) 2006 by Tavmjong Bah. All Rights Reserved. DejaVu changes are in public domain."},
		{1, "Pinphase Figure"}, {2, "Regular"}, {4, "Pinphase Figure"}, {6, "PinphaseFigure"},
	}
	b := put(put(put(nil, 0), uint16(len(entries))), uint16(6+12*len(entries)))
	var text []byte
	for _, e := range entries {
		at := len(text)
		for _, r := range e.text {
			text = put(text, uint16(r))
		}
		for _, v := range []int{3, 1, 0x409, int(e.id), len(text) - at, at} {
			b = put(b, uint16(v))
		}
	}
	return append(b, text...)
}

// assemble joins tables into a font file.
func assemble(tables map[string][]byte) []byte {
	tags := slices.Sorted(maps.Keys(tables))
	pow, log := 1, 0
	for pow*2 <= len(tags) {
		pow, log = pow*2, log+1
	}
	b := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{len(tags), 16 * pow, log, 16 * (len(tags) - pow)} {
		b = binary.BigEndian.AppendUint16(b, uint16(v))
	}
	at, headAt := 12+16*len(tags), 0
	var body []byte
	for _, tag := range tags {
		t := tables[tag]
		if tag == "head" {
			headAt = at + len(body)
		}
		b = append(b, tag...)
		for _, v := range []int{int(checksum(t)), at + len(body), len(t)} {
			b = binary.BigEndian.AppendUint32(b, uint32(v))
		}
		body = append(body, t...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	b = append(b, body...)
	binary.BigEndian.PutUint32(b[headAt+8:], 0xb1b0afba-checksum(b))
	return b
}

// checksum adds up 32-bit words, the last one filled with zeros.
func checksum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
