package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"image/gif"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
	"pinphase.org/pinphase/timing/part/photo/pixels"
)

// What cannot be read is one clear line.
func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	jpg, pngs := render.JPEG(render.Arrow(96, 64)), render.PNG(render.Arrow(96, 64))
	heics, webps := readTestFile(t, "turned.heic"), readTestFile(t, "lossy.webp")
	huge := bytes.Clone(pngs)
	binary.BigEndian.PutUint32(huge[16:], 12000)
	binary.BigEndian.PutUint32(huge[20:], 12000)
	var moving bytes.Buffer
	if err := gif.Encode(&moving, render.Arrow(40, 40), nil); err != nil {
		t.Fatal(err)
	}
	hugeJPEG := bytes.Clone(jpg)
	sof := bytes.Index(hugeJPEG, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(hugeJPEG[sof+5:], 65000)
	binary.BigEndian.PutUint16(hugeJPEG[sof+7:], 65000)
	hugeHEIC := bytes.Clone(heics)
	ispe := bytes.Index(hugeHEIC, []byte("ispe"))
	binary.BigEndian.PutUint32(hugeHEIC[ispe+8:], 60000)
	binary.BigEndian.PutUint32(hugeHEIC[ispe+12:], 60000)
	mixed := render.WithWebPEXIF(webps, render.TIFF(1, 0, 0, 0), 16000, 7000)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty.jpg", nil, "is empty"},
		{"text.jpg", []byte("not a photograph\n"), "is a text, not a picture; a JPEG, PNG, WebP or HEIC picture is needed"},
		{"noise.jpg", []byte{0, 1, 2, 3, 0xff, 0xfe, 7}, "is not a picture"},
		{"drawing.jpg", []byte("%PDF-1.7\n"), "is a PDF"},
		{"moving.jpg", moving.Bytes(), "is a GIF picture"},
		{"one.png", render.PNG(render.Arrow(1, 1)), "the picture is 1 × 1 px; at least 32 × 32 are needed to mark points in"},
		{"strip.png", render.PNG(render.Arrow(1000, 20)), "the picture is 1000 × 20 px"},
		{"huge.png", huge, "the picture is 12000 × 12000 px, 144 megapixels; at most 120 are read"},
		{"huge.jpg", hugeJPEG, "the picture is 65000 × 65000 px, 4225 megapixels; at most 120 are read"},
		{"huge.heic", hugeHEIC, "megapixels; at most 120 are read"},
		{"half.jpg", jpg[:len(jpg)/2], "cut short"},
		{"head.jpg", jpg[:100], "cut short"},
		{"half.png", pngs[:len(pngs)/2], "cut short"},
		{"half.heic", heics[:len(heics)/2], "cut short"},
		{"head.heic", heics[:200], "cut short"},
		{"start.heic", heics[:24], "cut short"},
		{"half.webp", webps[:len(webps)/2], "cut short"},
		{"mixed.webp", mixed, "is a damaged WebP picture"},
		{"film.heic", []byte("\x00\x00\x00\x14ftypisom\x00\x00\x00\x00mp42\x00\x00\x00\x08free"), "is a film or sound"},
		{"other.heic", []byte("\x00\x00\x00\x14ftypavif\x00\x00\x00\x00mif1"), "is an AVIF picture"},
		{"bare.heic", []byte("\x00\x00\x00\x14ftypheic\x00\x00\x00\x00mif1"), "is a damaged HEIC picture"},
	} {
		path := filepath.Join(dir, c.name)
		if err := os.WriteFile(path, c.data, 0o644); err != nil {
			t.Fatal(err)
		}
		for what, err := range map[string]error{"InspectFile": errOf(photo.InspectFile(path)), "Load": loadErr(path)} {
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), path+": ") || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s %s: %v, want %q", what, c.name, err, c.want)
			}
		}
	}
	// Sound on the outside: only decoding shows it.
	bad := bytes.Clone(jpg)
	bad[len(bad)/2] = 0xff
	bad[len(bad)/2+1] = 0xd3
	for _, data := range [][]byte{bad, pngs[:len(pngs)-30]} {
		if _, _, err := pixels.Decode(t.Context(), data, 0); err == nil {
			t.Error("a damaged picture was read")
		}
	}
	for path, want := range map[string]string{dir: "is not a file", filepath.Join(dir, "none.jpg"): "there is no such file"} {
		if _, err := photo.InspectFile(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
	large := filepath.Join(dir, "large.jpg")
	if err := os.WriteFile(large, jpg, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, photo.MaxFileBytes+1); err != nil {
		t.Fatal(err)
	}
	if err := loadErr(large); err == nil || !strings.Contains(err.Error(), "64 MiB; at most 64") {
		t.Errorf("large file: %v", err)
	}
}

func errOf(_ photo.Info, err error) error { return err }

func loadErr(path string) error {
	_, _, err := pixels.Load(context.Background(), path, 0)
	return err
}

func FuzzInspect(f *testing.F) {
	f.Add(render.GridHEIC(readTestFile(f, "lying.heic"), 160, 120, 2, 2))
	for _, data := range render.Pictures(func(name string) []byte { return readTestFile(f, name) }) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := photo.Inspect(data)
		if err != nil {
			if strings.Contains(err.Error(), "\n") || err.Error() == "" {
				t.Errorf("%q is not one line", err)
			}
			return
		}
		if info.Width < 32 || info.Height < 32 || float64(info.Width)*float64(info.Height) > photo.MaxMegapixels*1e6 || !(info.FocalPx >= 0) || info.Format == "" {
			t.Errorf("%+v", info)
		}
		if d, err := photo.DemandOf(data); err != nil || d.Bytes < int64(info.Width)*int64(info.Height) || d.Bytes > 16*photo.MaxMegapixels*1e6+1<<28 {
			t.Errorf("%+v: demand %+v, %v", info, d, err)
		}
	})
}

func readTestFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("pixels/testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
