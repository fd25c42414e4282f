package pixels

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"math"
	"runtime"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

// All eight orientations, in each format that leaves them to the reader: the
// corner that is at the top left when upright is where it says.
func TestOrientation(t *testing.T) {
	const w, h = 96, 64
	stored := render.Arrow(w, h)
	webp := readTestFile(t, "lossless.webp") // 64 × 48
	plain, _, err := Decode(context.Background(), webp, 0)
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
		data := render.TIFF(o, 26, 0, 0)
		for name, file := range map[string][]byte{
			"JPEG": render.WithEXIF(render.JPEG(stored), data),
			"PNG":  render.WithChunk(render.PNG(stored), "eXIf", data),
		} {
			img, info, err := Decode(context.Background(), file, 0)
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
			if d := math.Abs(info.FocalPx - render.Focal(render.SampleMM, w, h)); d > 1e-9 {
				t.Errorf("%s, orientation %d: focal length %v", name, o, info.FocalPx)
			}
		}
		img, info, err := Decode(context.Background(), render.WithWebPEXIF(webp, data, 64, 48), 0)
		if err != nil {
			t.Errorf("WebP, orientation %d: %v", o, err)
			continue
		}
		if difference(img, picture.Oriented(plain, o)) != 0 || info.Width != img.Rect.Dx() || info.Format != "WebP" {
			t.Errorf("WebP, orientation %d: %+v, picture %v", o, info, img.Rect)
		}
	}
	// 5 and 7 differ from 6 and 8 by a mirror: row by row.
	for o, at := range map[int][2]int{5: {0, 10}, 6: {0, h - 1 - 10}, 7: {w - 1, h - 1 - 10}, 8: {w - 1, 10}} {
		if got, want := picture.Oriented(stored, o).RGBAAt(10, 0), stored.RGBAAt(at[0], at[1]); got != want {
			t.Errorf("orientation %d: the eleventh pixel of the top row is %v, want %v", o, got, want)
		}
	}
}

// A smaller picture keeps its mean, its shape and the place of its edges.
func TestShrink(t *testing.T) {
	src := render.Arrow(301, 200)
	got, info, err := Decode(context.Background(), render.PNG(src), 100)
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
	small := picture.Shrunk(edge, 9, 6)
	for x, want := range []uint8{0, 0, 0, 0, 255, 255} {
		if g := small.RGBAAt(x, 3).R; g != want {
			t.Errorf("column %d: %d, want %d", x, g, want)
		}
	}
	small = picture.Shrunk(edge, 12, 8) // 7.5 to one: the edge at 40 lies a third into the sixth
	if g := small.RGBAAt(5, 3).R; math.Abs(float64(g)-255*2/3.0) > 1 {
		t.Errorf("share of a pixel: %d", g)
	}
	tall, _, err := Decode(context.Background(), render.WithEXIF(render.JPEG(src), render.TIFF(6, 0, 0, 0)), 100)
	if err != nil || tall.Rect.Dx() != 66 || tall.Rect.Dy() != 100 {
		t.Errorf("lying: %v, %v", tall, err)
	}
	grey, _, err := Decode(context.Background(), render.PNG(image.NewGray16(image.Rect(0, 0, 50, 40))), 0)
	if err != nil || grey.RGBAAt(3, 3) != (color.RGBA{0, 0, 0, 255}) {
		t.Errorf("16 bit grey: %v", err)
	}
}

func TestLossyWebP(t *testing.T) {
	img, info, err := Decode(context.Background(), readTestFile(t, "lossy.webp"), 0)
	if err != nil || info != (photo.Info{Format: "WebP", Width: 160, Height: 120, Orientation: 1}) || img.Rect.Dx() != 160 {
		t.Fatalf("%+v, %v", info, err)
	}
	if !HEIC {
		t.Skip("built without HEIC")
	}
	plain, _, err := Decode(context.Background(), readTestFile(t, "lying.heic"), 0)
	if err != nil {
		t.Fatal(err)
	}
	// The two decoders differ in the range they give black and white.
	if d := difference(img, plain); d > 12 {
		t.Errorf("the WebP and the HEIC of one picture differ by %v", d)
	}
}

// A few bytes that say they are an enormous picture are refused by what they say,
// before anything of that size is made; so are many chunks, or packed pixels, that
// say they are a small one.
func TestBombsAreRefused(t *testing.T) {
	huge := render.PNG(image.NewGray(image.Rect(0, 0, 40, 40)))
	binary.BigEndian.PutUint32(huge[16:], 30000)
	binary.BigEndian.PutUint32(huge[20:], 30000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))

	var zeros bytes.Buffer // 64 MiB of pixels for a picture of 40 by 40
	z, err := zlib.NewWriterLevel(&zeros, zlib.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	for range 64 {
		if _, err := z.Write(make([]byte, 1<<20)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	small := render.PNG(image.NewGray(image.Rect(0, 0, 40, 40)))
	packed := append([]byte{}, small[:33]...)
	chunk := append([]byte("IDAT"), zeros.Bytes()...)
	packed = binary.BigEndian.AppendUint32(packed, uint32(zeros.Len()))
	packed = binary.BigEndian.AppendUint32(append(packed, chunk...), crc32.ChecksumIEEE(chunk))
	packed = append(packed, small[len(small)-12:]...)

	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"900 megapixels", huge, "900 megapixels"},
		{"more pixels than it says", packed, "is a damaged PNG picture"},
		{"a file of 65 MiB", append(append([]byte{}, small...), make([]byte, photo.MaxFileBytes)...), "at most 64 are read"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, err := Decode(context.Background(), c.data, 0)
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
		if made := after.TotalAlloc - before.TotalAlloc; made > 8<<20 {
			t.Errorf("%s: %d MiB were made to refuse it", c.name, made>>20)
		}
	}
}

// What decodes has the size that was said, upright; what does not, says so.
func FuzzDecode(f *testing.F) {
	// Preparing the decoder takes seconds, which are not the first picture's.
	if _, _, err := Decode(f.Context(), readTestFile(f, "lying.heic"), 0); err != nil && HEIC {
		f.Fatal(err)
	}
	for _, data := range render.Pictures(func(name string) []byte { return readTestFile(f, name) }) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		small, err := photo.Inspect(data)
		if err != nil || small.Width*small.Height > 1<<18 {
			return
		}
		img, info, err := Decode(context.Background(), data, 50)
		if err != nil {
			return
		}
		w, h := picture.Fitted(info.Width, info.Height, 50)
		if math.Abs(float64(img.Rect.Dx()-w)) > 1 || math.Abs(float64(img.Rect.Dy()-h)) > 1 {
			t.Errorf("%v, %+v", img.Rect, info)
		}
	})
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.10g, want %.10g ± %g", what, got, want, tol)
	}
}
