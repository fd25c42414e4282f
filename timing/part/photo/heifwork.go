package photo

// honest tells whether all that is decoded to show the picture is as large as the
// file says. A decoder takes the sizes in the coded pictures at their word, and
// those in the file's tables may be others: a few bytes could have it decode a
// thousand pictures of a hundred megapixels.
func (f *items) honest(file []byte) bool {
	w := work{items: f, file: file, seen: map[[2]uint64]bool{}}
	if !w.item(f.primary, false) {
		return false
	}
	for _, id := range f.aux[f.primary] {
		if !w.item(id, false) {
			return false
		}
	}
	return true
}

// work sums what is to be decoded.
type work struct {
	*items
	file   []byte
	pixels float64
	bytes  int
	seen   map[[2]uint64]bool // data that were looked through
}

// item adds one item, and the tiles that it is put together of.
func (w *work) item(id uint32, tile bool) bool {
	var width, height uint64
	var coding []byte
	for _, p := range w.propertiesOf(id) {
		switch p.kind {
		case "ispe":
			r := reader{b: p.body}
			r.version()
			width, height = r.uint(4), r.uint(4)
		case "hvcC":
			coding = p.body
		}
	}
	if width == 0 || height == 0 || width > 1<<16 || height > 1<<16 {
		return false
	}
	switch w.kinds[id] {
	case "hvc1", "hev1":
		// A picture and its transparency, and what tiles have beyond the edge.
		w.pixels += float64(width) * float64(height)
		return w.pixels <= 2.5*MaxMegapixels*1e6 && w.coded(id, coding, width, height)
	case "grid":
		if tile || !w.grid(id, width, height) {
			return false
		}
		for _, t := range w.tiles[id] {
			if !w.item(t, true) {
				return false
			}
		}
		return len(w.tiles[id]) > 0
	}
	return false // put together in another way, as no camera does
}

// grid tells whether a grid's own numbers are those of the tables (ISO/IEC
// 23008-12, 6.6.2.3.2).
func (w *work) grid(id uint32, width, height uint64) bool {
	r := reader{b: w.data(id, w.file)}
	r.uint(1)
	wide := 2
	if r.uint(1)&1 == 1 {
		wide = 4
	}
	rows, columns := r.uint(1)+1, r.uint(1)+1
	return r.uint(wide) == width && r.uint(wide) == height && !r.short && rows*columns == uint64(len(w.tiles[id]))
}

// coded looks through a coded item: its parameters (ISO/IEC 14496-15, 8.3.3.1) and
// its data, which may bring others.
func (w *work) coded(id uint32, coding []byte, width, height uint64) bool {
	if len(coding) < 23 {
		return false
	}
	prefix := int(coding[21]&3) + 1
	r := reader{b: coding[22:]}
	found := false
	for n := r.uint(1); n > 0 && !r.short; n-- {
		r.uint(1)
		for m := r.uint(2); m > 0 && !r.short; m-- {
			size := int(r.uint(2))
			if size > len(r.b) {
				return false
			}
			unit := r.b[:size]
			r.b = r.b[size:]
			if unitType(unit) == sps {
				if found = true; !sizeFits(unit, width, height) {
					return false
				}
			}
		}
	}
	p := w.places[id]
	if r.short || !found || len(p.extents) == 0 {
		return false
	}
	// One picture may be many tiles; its data are looked through once, for one size.
	key := p.extents[0]
	if w.seen[key] {
		return true
	}
	w.seen[key] = true
	data := w.data(id, w.file)
	if w.bytes += len(data); w.bytes > len(w.file) {
		return false
	}
	return unitsFit(data, prefix, width, height)
}

// Types of units of HEVC (ITU-T H.265, table 7-1).
const (
	lastSlice = 31
	sps       = 33
)

func unitType(unit []byte) byte {
	if len(unit) < 3 {
		return 0xff
	}
	return unit[0] >> 1 & 0x3f
}

// unitsFit tells whether the units, each with its length before it, are of one
// picture that is no larger than it should be.
func unitsFit(data []byte, prefix int, width, height uint64) bool {
	pictures := 0
	for r := (reader{b: data}); len(r.b) > 0; {
		size := r.uint(prefix)
		if r.short || size > uint64(len(r.b)) {
			return false
		}
		unit := r.b[:size]
		r.b = r.b[size:]
		switch t := unitType(unit); {
		case t <= lastSlice && unit[2]&0x80 != 0: // the first slice of a picture
			pictures++
		case t == sps && !sizeFits(unit, width, height):
			return false
		}
	}
	return pictures == 1
}

// sizeFits tells whether a sequence parameter set (ITU-T H.265, 7.3.2.2) is of pictures
// of a size. Coded ones are cut to it afterwards: their sides are multiples of at
// most 64.
func sizeFits(unit []byte, width, height uint64) bool {
	b := bits{data: withoutPrevention(unit[2:])}
	b.read(4)
	layers := int(b.read(3))
	b.read(1)
	b.skip(88 + 8) // profile and level
	var profiles, levels [8]bool
	for i := range layers {
		profiles[i], levels[i] = b.read(1) == 1, b.read(1) == 1
	}
	if layers > 0 {
		b.skip(2 * (8 - layers))
	}
	for i := range layers {
		if profiles[i] {
			b.skip(88)
		}
		if levels[i] {
			b.skip(8)
		}
	}
	b.golomb() // its number
	if b.golomb() == 3 {
		b.read(1)
	}
	w, h := b.golomb(), b.golomb()
	return !b.short && w > 0 && h > 0 && w < width+64 && h < height+64
}

// withoutPrevention takes out the bytes that keep 00 00 01 from occurring in a unit
// (ITU-T H.265, 7.3.1.1), of its beginning, which is all that is read.
func withoutPrevention(unit []byte) []byte {
	unit = unit[:min(len(unit), 256)]
	out := make([]byte, 0, len(unit))
	for i, v := range unit {
		if v == 3 && i >= 2 && unit[i-1] == 0 && unit[i-2] == 0 {
			continue
		}
		out = append(out, v)
	}
	return out
}

// bits reads bits, the highest of a byte first.
type bits struct {
	data  []byte
	at    int
	short bool
}

func (b *bits) skip(n int) { b.at += n }

func (b *bits) read(n int) (v uint64) {
	for range n {
		if b.at/8 >= len(b.data) {
			b.short = true
			return 0
		}
		v = v<<1 | uint64(b.data[b.at/8]>>(7-b.at%8)&1)
		b.at++
	}
	return v
}

// golomb reads a number of unknown length (ITU-T H.265, 9.2).
func (b *bits) golomb() uint64 {
	zeros := 0
	for b.read(1) == 0 {
		if zeros++; b.short || zeros > 32 {
			b.short = true
			return 0
		}
	}
	return 1<<zeros - 1 + b.read(zeros)
}
