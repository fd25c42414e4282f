package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// arrow is a picture that looks different each way round.
func arrow(width, height int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetRGBA(x, y, color.RGBA{uint8(255 * x / width), uint8(255 * y / height), uint8(20 * (x * y % 7)), 255})
		}
	}
	return img
}

func asJPEG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 98}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// All eight orientations, in each format that leaves them to the reader: the
// corner that is at the top left when upright is where it says.
func TestOrientation(t *testing.T) {
	const w, h = 96, 64
	stored := arrow(w, h)
	webp := readTestFile(t, "lossless.webp") // 64 × 48
	plain, _, err := Decode(webp, 0)
	if err != nil {
		t.Fatal(err)
	}
	// Where the top left pixel of the upright picture is stored (JEITA CP-3451,
	// tag 274: row 0 and column 0 of the stored picture are the upright one's ...).
	topLeft := map[int][2]string{ // x, y
		1: {"left", "top"}, 2: {"right", "top"}, 3: {"right", "bottom"}, 4: {"left", "bottom"},
		5: {"left", "top"}, 6: {"left", "bottom"}, 7: {"right", "bottom"}, 8: {"right", "top"},
	}
	for o := 1; o <= 8; o++ {
		x, y := 0, 0
		if topLeft[o][0] == "right" {
			x = w - 1
		}
		if topLeft[o][1] == "bottom" {
			y = h - 1
		}
		data := tiff(o, 26, 0, 0)
		for name, file := range map[string][]byte{
			"JPEG": withEXIF(asJPEG(t, stored), data),
			"PNG":  withChunk(asPNG(t, stored), "eXIf", data),
		} {
			img, info, err := Decode(file, 0)
			if err != nil {
				t.Errorf("%s, orientation %d: %v", name, o, err)
				continue
			}
			wantW, wantH := w, h
			if o >= 5 {
				wantW, wantH = h, w
			}
			if info.Width != wantW || info.Height != wantH || img.Rect.Dx() != wantW || img.Rect.Dy() != wantH || info.Format != name {
				t.Errorf("%s, orientation %d: %+v, picture %v", name, o, info, img.Rect)
			}
			got, want := img.RGBAAt(0, 0), stored.RGBAAt(x, y)
			if math.Abs(float64(got.R)-float64(want.R)) > 12 || math.Abs(float64(got.G)-float64(want.G)) > 12 {
				t.Errorf("%s, orientation %d: top left is %v, want %v", name, o, got, want)
			}
			if d := math.Abs(info.FocalPx - focalOf(w, h)); d > 1e-9 {
				t.Errorf("%s, orientation %d: focal length %v", name, o, info.FocalPx)
			}
		}
		img, info, err := Decode(withWebPEXIF(webp, data, 64, 48), 0)
		if err != nil {
			t.Errorf("WebP, orientation %d: %v", o, err)
			continue
		}
		if difference(img, orient(plain, o)) != 0 || info.Width != img.Rect.Dx() || info.Format != "WebP" {
			t.Errorf("WebP, orientation %d: %+v, picture %v", o, info, img.Rect)
		}
	}
	// 5 and 7 differ from 6 and 8 by a mirror: row by row.
	for o, at := range map[int][2]int{5: {0, 10}, 6: {0, h - 1 - 10}, 7: {w - 1, h - 1 - 10}, 8: {w - 1, 10}} {
		if got, want := orient(stored, o).RGBAAt(10, 0), stored.RGBAAt(at[0], at[1]); got != want {
			t.Errorf("orientation %d: the eleventh pixel of the top row is %v, want %v", o, got, want)
		}
	}
}

func TestEXIF(t *testing.T) {
	little := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00")
	if got := readEXIF(little); got.orientation != 6 {
		t.Errorf("little endian: %+v", got)
	}
	if got := readEXIF(append([]byte("Exif\x00\x00"), tiff(3, 28, 4000, 3000)...)); got != (exif{3, 28, 4000, 3000}) {
		t.Errorf("big endian: %+v", got)
	}
	for _, bad := range [][]byte{nil, []byte("II"), []byte("XX*\x00\x08\x00\x00\x00"), little[:15], []byte("MM\x00*\xff\xff\xff\xff"), tiff(9, 0, 0, 0)} {
		if got := readEXIF(bad); got != (exif{}) {
			t.Errorf("%q: %+v", bad, got)
		}
	}
	// 26 mm on a frame of 43.27 mm: hand calculation.
	near(t, "focal length", exif{focal35: 26}.focalPx(4000, 3000), 26*5000/43.266615305567875, 1e-9)
	near(t, "as taken", exif{focal35: 26, width: 4000, height: 3000}.focalPx(1200, 1600), 26*2000/43.266615305567875, 1e-9)
	near(t, "cut since", exif{focal35: 26, width: 4000, height: 3000}.focalPx(2000, 2000), 0, 0)
}

// What cannot be read is one clear line.
func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	jpg, pngs := asJPEG(t, arrow(96, 64)), asPNG(t, arrow(96, 64))
	heics, webps := readTestFile(t, "turned.heic"), readTestFile(t, "lossy.webp")
	huge := bytes.Clone(pngs)
	binary.BigEndian.PutUint32(huge[16:], 12000)
	binary.BigEndian.PutUint32(huge[20:], 12000)
	var moving bytes.Buffer
	if err := gif.Encode(&moving, arrow(40, 40), nil); err != nil {
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
	mixed := withWebPEXIF(webps, tiff(1, 0, 0, 0), 16000, 7000)
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
		{"one.png", asPNG(t, arrow(1, 1)), "the picture is 1 × 1 px; at least 32 × 32 are needed to mark points in"},
		{"strip.png", asPNG(t, arrow(1000, 20)), "the picture is 1000 × 20 px"},
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
		{"mixed.webp", mixed, "is no sound WebP picture"},
		{"film.heic", []byte("\x00\x00\x00\x14ftypisom\x00\x00\x00\x00mp42\x00\x00\x00\x08free"), "is a film or sound"},
		{"other.heic", []byte("\x00\x00\x00\x14ftypavif\x00\x00\x00\x00mif1"), "is an AVIF picture"},
		{"bare.heic", []byte("\x00\x00\x00\x14ftypheic\x00\x00\x00\x00mif1"), "is no sound HEIC picture"},
	} {
		path := filepath.Join(dir, c.name)
		if err := os.WriteFile(path, c.data, 0o644); err != nil {
			t.Fatal(err)
		}
		for what, err := range map[string]error{"InspectFile": errOf(InspectFile(path)), "Load": loadErr(path)} {
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
		if _, _, err := Decode(data, 0); err == nil {
			t.Error("a damaged picture was read")
		}
	}
	for path, want := range map[string]string{dir: "is not a file", filepath.Join(dir, "none.jpg"): "there is no such file"} {
		if _, err := InspectFile(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
	large := filepath.Join(dir, "large.jpg")
	if err := os.WriteFile(large, jpg, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, MaxFileBytes+1); err != nil {
		t.Fatal(err)
	}
	if err := loadErr(large); err == nil || !strings.Contains(err.Error(), "64 MiB; at most 64") {
		t.Errorf("large file: %v", err)
	}
}

func errOf(_ Info, err error) error { return err }

func loadErr(path string) error {
	_, _, err := Load(path, 0)
	return err
}

// A smaller picture keeps its mean, its shape and the place of its edges.
func TestShrink(t *testing.T) {
	src := arrow(301, 200)
	got, info, err := Decode(asPNG(t, src), 100)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rect.Dx() != 100 || got.Rect.Dy() != 66 || info.Width != 301 || info.Height != 200 {
		t.Errorf("%v, %+v", got.Rect, info)
	}
	mean := func(img *image.RGBA) float64 {
		s := 0
		for _, v := range img.Pix {
			s += int(v)
		}
		return float64(s) / float64(len(img.Pix))
	}
	near(t, "mean", mean(got), mean(src), 0.05)
	edge := image.NewRGBA(image.Rect(0, 0, 90, 60))
	for i := range edge.Pix {
		if x := i / 4 % 90; x >= 40 || i%4 == 3 {
			edge.Pix[i] = 255
		}
	}
	small := shrink(edge, 9, 6)
	for x, want := range []uint8{0, 0, 0, 0, 255, 255} {
		if g := small.RGBAAt(x, 3).R; g != want {
			t.Errorf("column %d: %d, want %d", x, g, want)
		}
	}
	small = shrink(edge, 12, 8) // 7.5 to one: the edge at 40 lies a third into the sixth
	if g := small.RGBAAt(5, 3).R; math.Abs(float64(g)-255*2/3.0) > 1 {
		t.Errorf("share of a pixel: %d", g)
	}
	tall, _, err := Decode(withEXIF(asJPEG(t, src), tiff(6, 0, 0, 0)), 100)
	if err != nil || tall.Rect.Dx() != 66 || tall.Rect.Dy() != 100 {
		t.Errorf("lying: %v, %v", tall, err)
	}
	grey, _, err := Decode(asPNG(t, image.NewGray16(image.Rect(0, 0, 50, 40))), 0)
	if err != nil || grey.RGBAAt(3, 3) != (color.RGBA{0, 0, 0, 255}) {
		t.Errorf("16 bit grey: %v", err)
	}
}

func TestLossyWebP(t *testing.T) {
	img, info, err := Decode(readTestFile(t, "lossy.webp"), 0)
	if err != nil || info != (Info{Format: "WebP", Width: 160, Height: 120}) || img.Rect.Dx() != 160 {
		t.Fatalf("%+v, %v", info, err)
	}
	plain, _, err := Decode(readTestFile(t, "lying.heic"), 0)
	if err != nil {
		t.Fatal(err)
	}
	// The two decoders differ in the range they give black and white.
	if d := difference(img, plain); d > 12 {
		t.Errorf("the WebP and the HEIC of one picture differ by %v", d)
	}
}

func FuzzInspect(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := Inspect(data)
		if err != nil {
			if strings.Contains(err.Error(), "\n") || err.Error() == "" {
				t.Errorf("%q is not one line", err)
			}
			return
		}
		if info.Width < minSide || info.Height < minSide || float64(info.Width)*float64(info.Height) > MaxMegapixels*1e6 || !(info.FocalPx >= 0) || info.Format == "" {
			t.Errorf("%+v", info)
		}
	})
}

// What decodes has the size that was said, upright; what does not, says so.
func FuzzDecode(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := inspect(data)
		if err != nil || h.width*h.height > 1<<18 {
			return
		}
		img, info, err := Decode(data, 50)
		if err != nil {
			return
		}
		w, h2 := fitted(info.Width, info.Height, 50)
		if math.Abs(float64(img.Rect.Dx()-w)) > 1 || math.Abs(float64(img.Rect.Dy()-h2)) > 1 {
			t.Errorf("%v, %+v", img.Rect, info)
		}
	})
}

func seed(f *testing.F) {
	img := arrow(48, 36)
	exif := tiff(6, 26, 48, 36)
	f.Add(withEXIF(asJPEG(f, img), exif))
	f.Add(withChunk(asPNG(f, img), "eXIf", exif))
	f.Add(readTestFile(f, "lossy.webp"))
	f.Add(withWebPEXIF(readTestFile(f, "lossless.webp"), exif, 64, 48))
	f.Add(readTestFile(f, "lying.heic"))
	f.Add(readTestFile(f, "turned.heic"))
	f.Add([]byte("not a photograph\n"))
	f.Add([]byte{})
}
