package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"os"
	"testing"
)

// withProperty adds a property (irot, imir, clap) to the primary item of a
// HEIF file, after its others.
func withProperty(t testing.TB, file []byte, kind string, body ...byte) []byte {
	t.Helper()
	property := append(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), kind...)
	property = append(property, body...)
	var meta, count int
	boxes(file, func(k string, b []byte) {
		if k == "meta" {
			f := readItems(b[4:])
			meta, count = len(b), len(f.props)
		}
	})
	out := bytes.Clone(file)
	grow := func(kind string, by int) (start, end int) {
		at := bytes.Index(out, []byte(kind)) - 4
		size := int(binary.BigEndian.Uint32(out[at:]))
		binary.BigEndian.PutUint32(out[at:], uint32(size+by))
		return at, at + size
	}
	insert := func(at int, b ...byte) { out = append(out[:at:at], append(b, out[at:]...)...) }
	if meta == 0 || count == 0 {
		t.Fatal("no properties found")
	}
	added := len(property) + 1
	// Where the items' data stand moves.
	loc, locEnd := grow("iloc", 0)
	f := readItems(out[bytes.Index(out, []byte("meta"))+8 : bytes.Index(out, []byte("mdat"))-4])
	for _, p := range f.places {
		for _, e := range p.extents {
			old := binary.BigEndian.AppendUint32(nil, uint32(e[0]))
			if i := bytes.Index(out[loc:locEnd], old); i >= 0 {
				binary.BigEndian.PutUint32(out[loc+i:], uint32(e[0])+uint32(added))
			}
		}
	}
	grow("meta", added)
	grow("iprp", added)
	link, _ := grow("ipma", 1)
	// Full box, number of items, then the first item: id, number, numbers.
	n := link + 12 + 4 + 2
	insert(n+1+int(out[n]), 0x80|byte(count+1))
	out[n]++
	_, end := grow("ipco", len(property))
	insert(end, property...)
	return out
}

func readTestFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// lying.heic is nose-portrait.jpg at a tenth of its size, lying on its side, its
// EXIF data saying so; turned.heic is the same with HEIF's own turning, as
// phones write it.
func TestHEICTurning(t *testing.T) {
	lying := readTestFile(t, "lying.heic")
	stored, info, err := Decode(lying, 0)
	if err != nil {
		t.Fatal(err)
	}
	if info.Width != 160 || info.Height != 120 {
		t.Errorf("without turning: %+v, want 160 × 120: EXIF orientation does not count in HEIF", info)
	}
	if want := focalOf(160, 120); info.FocalPx != want {
		t.Errorf("focal length %v px, want %v", info.FocalPx, want)
	}
	for _, c := range []struct {
		name        string
		kind        string
		value       byte
		orientation int // the EXIF orientation that does the same
	}{
		{"a quarter anticlockwise", "irot", 1, 8},
		{"half", "irot", 2, 3},
		{"three quarters anticlockwise", "irot", 3, 6},
		{"top and bottom exchanged", "imir", 0, 4},
		{"left and right exchanged", "imir", 1, 2},
	} {
		got, info, err := Decode(withProperty(t, lying, c.kind, c.value), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got.Rect.Dx() != info.Width || got.Rect.Dy() != info.Height {
			t.Errorf("%s: picture %v, said %+v", c.name, got.Rect, info)
		}
		if d := difference(got, orient(stored, c.orientation)); d > 2 {
			t.Errorf("%s: mean difference %v from orientation %d", c.name, d, c.orientation)
		}
	}
	if *regen {
		if err := os.WriteFile("testdata/turned.heic", withProperty(t, lying, "irot", 3), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if info, err := InspectFile("testdata/turned.heic"); err != nil || info.Width != 120 || info.Height != 160 {
		t.Errorf("turned.heic: %+v, %v", info, err)
	}
}

// difference is the mean difference of two pictures of one size, in steps of a
// channel; infinite for different sizes.
func difference(a, b *image.RGBA) float64 {
	if a.Rect.Size() != b.Rect.Size() {
		return 1e9
	}
	s := 0
	for i := range a.Pix {
		d := int(a.Pix[i]) - int(b.Pix[i])
		s += max(d, -d)
	}
	return float64(s) / float64(len(a.Pix))
}
