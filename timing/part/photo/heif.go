package photo

import (
	"encoding/binary"

	"pinphase.org/pinphase/timing/phrase"
)

// inspectHEIF reads the boxes of a HEIF file (ISO/IEC 23008-12; boxes and item
// tables ISO/IEC 14496-12): the size of the primary item after its cropping and
// turning, which the decoder applies too, and its EXIF data. The orientation in
// the EXIF data is then not to be applied again.
func inspectHEIF(data []byte) (header, error) {
	h := header{format: "HEIC", turned: true}
	var meta []byte
	whole := boxes(data, func(kind string, body []byte) {
		if kind == "meta" && meta == nil && len(body) >= 4 {
			meta = body[4:]
		}
	})
	if err := brandError(data, meta != nil); err != nil {
		return h, err
	}
	if meta == nil {
		if !whole {
			return h, errCut
		}
		return h, damaged(h.format)
	}
	f := readItems(meta)
	if !whole || f.past(len(data)) {
		return h, errCut
	}
	if kind := f.kinds[f.primary]; kind == "av01" {
		return h, errAVIF
	}
	var ok bool
	if h.width, h.height, ok = f.size(); !ok || f.count > mostEntries || h.check() == nil && !f.honest(data) {
		return h, damaged(h.format)
	}
	h.demand = Demand{heifPixel * int64(h.width) * int64(h.height), smaller}
	if b := f.exifData(data); len(b) >= 4 {
		if skip := binary.BigEndian.Uint32(b); uint64(skip)+4 <= uint64(len(b)) {
			h.exif = readEXIF(b[4+skip:])
		}
	}
	return h, nil
}

// heifPixel is how many bytes a pixel takes while it is decoded: the frame, the
// picture and the one given back, with ten bits two bytes a value. The decoder has no
// more than it is given whatever the file does.
const heifPixel = 8

var errAVIF = phrase.Errorf("is an AVIF picture; save it as JPEG or PNG")

// brandError tells of files that share HEIF's box structure and are none.
func brandError(data []byte, hasMeta bool) error {
	size := min(uint64(binary.BigEndian.Uint32(data)), uint64(len(data)))
	for at := uint64(8); at+4 <= size; at += 4 {
		switch string(data[at : at+4]) {
		case "avif", "avis":
			return errAVIF
		case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1":
			return nil
		}
	}
	if !hasMeta {
		return phrase.Errorf("is a film or sound, not a picture; a JPEG, PNG, WebP or HEIC picture is needed")
	}
	return nil
}

// boxes calls each with the boxes that data holds; whole is false when the last
// one is longer than data.
func boxes(data []byte, each func(kind string, body []byte)) (whole bool) {
	for len(data) > 0 {
		if len(data) < 8 {
			return false
		}
		size, head := uint64(binary.BigEndian.Uint32(data)), uint64(8)
		switch size {
		case 0:
			size = uint64(len(data)) // to the end
		case 1:
			if len(data) < 16 {
				return false
			}
			size, head = binary.BigEndian.Uint64(data[8:]), 16
		}
		if size < head || size > uint64(len(data)) {
			return false
		}
		each(string(data[4:8]), data[head:size])
		data = data[size:]
	}
	return true
}

// items are the tables of a HEIF file's items.
type items struct {
	primary uint32
	kinds   map[uint32]string
	places  map[uint32]place
	props   []property
	of      map[uint32][]int    // properties, from 1 on
	tiles   map[uint32][]uint32 // what an item is put together of
	aux     map[uint32][]uint32 // what belongs to an item, as its transparency
	count   int                 // of all entries
	idat    []byte
}

// property is a box of how items are coded or shown.
type property struct {
	kind string
	body []byte
}

// mostEntries is how many entries all tables of a file may have. A picture of 100
// megapixels in tiles of 512 by 512 has some thousands; each takes memory.
const mostEntries = 1 << 16

// room counts an entry and tells whether there may be one more.
func (f *items) room() bool {
	f.count++
	return f.count <= mostEntries
}

// place is where an item's data stand: stretches of the file or of idat.
type place struct {
	inIdat  bool
	extents [][2]uint64 // offset, length
}

func readItems(meta []byte) items {
	f := items{kinds: map[uint32]string{}, places: map[uint32]place{}, of: map[uint32][]int{}, tiles: map[uint32][]uint32{}, aux: map[uint32][]uint32{}}
	boxes(meta, func(kind string, b []byte) {
		r := reader{b: b}
		switch kind {
		case "pitm":
			if v := r.version(); v == 0 {
				f.primary = uint32(r.uint(2))
			} else {
				f.primary = uint32(r.uint(4))
			}
		case "iinf":
			f.readKinds(&r)
		case "iloc":
			f.readPlaces(&r)
		case "iref":
			f.readRefs(&reader{b: b})
		case "idat":
			f.idat = b
		case "iprp":
			boxes(b, func(kind string, b []byte) {
				switch kind {
				case "ipco":
					boxes(b, func(kind string, b []byte) {
						if f.room() {
							f.props = append(f.props, property{kind, b})
						}
					})
				case "ipma":
					f.readLinks(&reader{b: b})
				}
			})
		}
	})
	return f
}

func (f *items) readKinds(r *reader) {
	if r.version() == 0 {
		r.uint(2)
	} else {
		r.uint(4)
	}
	boxes(r.b, func(kind string, b []byte) {
		e := reader{b: b}
		v := e.version()
		if kind != "infe" || v < 2 || !f.room() {
			return
		}
		id := uint32(e.uint(2))
		if v > 2 {
			id = id<<16 | uint32(e.uint(2))
		}
		e.uint(2) // protection
		if len(e.b) >= 4 {
			f.kinds[id] = string(e.b[:4])
		}
	})
}

func (f *items) readPlaces(r *reader) {
	v := r.version()
	sizes := r.uint(2)
	offset, length, base, index := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	if v == 0 {
		index = 0
	}
	wide := 2
	if v >= 2 {
		wide = 4
	}
	for n := r.uint(wide); n > 0 && !r.short && f.room(); n-- {
		id := uint32(r.uint(wide))
		var p place
		if v > 0 {
			p.inIdat = r.uint(2)&15 == 1
		}
		r.uint(2) // data reference
		from := r.uint(base)
		for m := r.uint(2); m > 0 && !r.short && f.room(); m-- {
			r.uint(index)
			at := from + r.uint(offset)
			p.extents = append(p.extents, [2]uint64{at, r.uint(length)})
			if offset+length+index == 0 {
				break // an endless list of nothing
			}
		}
		f.places[id] = p
	}
}

func (f *items) readLinks(r *reader) {
	v := r.version()
	wideIndex := r.flags&1 != 0
	for n := r.uint(4); n > 0 && !r.short && f.room(); n-- {
		id := uint32(r.uint(2))
		if v > 0 {
			id = id<<16 | uint32(r.uint(2))
		}
		for m := r.uint(1); m > 0 && !r.short && f.room(); m-- {
			if wideIndex {
				f.of[id] = append(f.of[id], int(r.uint(2)&0x7fff))
			} else {
				f.of[id] = append(f.of[id], int(r.uint(1)&0x7f))
			}
		}
	}
}

// readRefs reads which items lead to which.
func (f *items) readRefs(r *reader) {
	wide := 2
	if r.version() > 0 {
		wide = 4
	}
	boxes(r.b, func(kind string, b []byte) {
		r := reader{b: b}
		from := uint32(r.uint(wide))
		for n := r.uint(2); n > 0 && !r.short && f.room(); n-- {
			to := uint32(r.uint(wide))
			switch kind {
			case "dimg":
				f.tiles[from] = append(f.tiles[from], to)
			case "auxl":
				f.aux[to] = append(f.aux[to], from)
			}
		}
	})
}

// past tells whether an item's data end beyond the file.
func (f *items) past(size int) bool {
	for _, p := range f.places {
		for _, e := range p.extents {
			if !p.inIdat && (e[0] > uint64(size) || e[1] > uint64(size)-e[0]) {
				return true
			}
		}
	}
	return false
}

// size returns the size of the primary item after cropping and turning.
func (f *items) size() (width, height int, ok bool) {
	for _, p := range f.propertiesOf(f.primary) {
		r := reader{b: p.body}
		switch p.kind {
		case "ispe":
			r.version()
			width, height = int(r.uint(4)), int(r.uint(4))
			ok = !r.short
		case "clap":
			w, wd, h, hd := r.uint(4), r.uint(4), r.uint(4), r.uint(4)
			if !r.short && wd > 0 && hd > 0 {
				width, height = min(width, int((w+wd/2)/wd)), min(height, int((h+hd/2)/hd))
			}
		case "irot":
			if r.uint(1)&1 == 1 { // quarter turns anticlockwise
				width, height = height, width
			}
		}
	}
	return width, height, ok && width > 0 && height > 0
}

// propertiesOf returns an item's properties in their order.
func (f *items) propertiesOf(id uint32) (list []property) {
	for _, i := range f.of[id] {
		if i >= 1 && i <= len(f.props) {
			list = append(list, f.props[i-1])
		}
	}
	return list
}

// exifData returns the first EXIF item's data.
func (f *items) exifData(file []byte) []byte {
	first, found := uint32(0), false
	for id, kind := range f.kinds {
		if kind == "Exif" && (!found || id < first) {
			first, found = id, true
		}
	}
	if !found {
		return nil
	}
	return f.data(first, file)
}

// data returns an item's data, nil where they are not all there.
func (f *items) data(id uint32, file []byte) []byte {
	p, ok := f.places[id]
	if !ok {
		return nil
	}
	from := file
	if p.inIdat {
		from = f.idat
	}
	var data []byte
	for i, e := range p.extents {
		n := uint64(len(from))
		if e[0] > n || e[1] > n-e[0] || uint64(len(data))+e[1] > n {
			return nil
		}
		if i == 0 && len(p.extents) == 1 {
			return from[e[0] : e[0]+e[1]]
		}
		data = append(data, from[e[0]:e[0]+e[1]]...)
	}
	return data
}

// reader takes big-endian numbers off the front of b; past its end they are 0.
type reader struct {
	b     []byte
	flags uint32
	short bool
}

func (r *reader) uint(bytes int) uint64 {
	if len(r.b) < bytes {
		r.b, r.short = nil, true
		return 0
	}
	var v uint64
	for _, b := range r.b[:bytes] {
		v = v<<8 | uint64(b)
	}
	r.b = r.b[bytes:]
	return v
}

// version reads the version and flags of a full box.
func (r *reader) version() int {
	v := r.uint(4)
	r.flags = uint32(v & 0xffffff)
	return int(v >> 24)
}
