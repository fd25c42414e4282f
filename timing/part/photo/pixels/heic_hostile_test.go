//go:build !noheic

package pixels

import (
	"context"
	"image"
	"math"
	"runtime"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/part/photo/internal/render"
	"pinphase.org/pinphase/timing/part/photo/picture"
)

// The crafted picture is sound: each tile shows what the tile's own file shows.
func TestGridHEIC(t *testing.T) {
	lying := readTestFile(t, "lying.heic")
	tile, _, err := Decode(t.Context(), lying, 0)
	if err != nil {
		t.Fatal(err)
	}
	img, info, err := Decode(t.Context(), render.GridHEIC(lying, 160, 120, 3, 2), 0)
	if err != nil || info.Width != 480 || info.Height != 240 {
		t.Fatalf("%+v, %v", info, err)
	}
	part := image.NewRGBA(tile.Rect)
	for y := range 120 {
		copy(part.Pix[part.PixOffset(0, y):], img.Pix[img.PixOffset(320, 120+y):][:4*160])
	}
	if d := difference(tile, part); d > 1 {
		t.Errorf("a tile differs by %v", d)
	}
}

// The decoder has a bounded memory of its own.
func TestHEICIsBounded(t *testing.T) {
	large := render.GridHEIC(readTestFile(t, "lying.heic"), 160, 120, 16, 16) // 2,560 by 1,920
	small, err := newDecoder(16 << 20)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := small.decode(t.Context(), readTestFile(t, "lying.heic")); err != nil {
		t.Errorf("16 MiB are not enough for a small picture: %v", err)
	}
	if img, err := small.decode(t.Context(), large); err == nil {
		t.Errorf("5 megapixels were decoded in 16 MiB: %v", img.Bounds())
	}
	if _, err := small.decode(t.Context(), readTestFile(t, "lying.heic")); err != nil {
		t.Errorf("the next picture fails after one that was too large: %v", err)
	}
}

// looks is a context that counts how often it is asked whether it has ended, and has
// after so many times.
type looks struct {
	context.Context
	n, end int
}

func (l *looks) Err() error {
	if l.n++; l.n >= l.end {
		return context.Canceled
	}
	return nil
}

// The program looks up often enough to be stopped at once and for nobody to wait for it,
// and seldom enough not to be slowed by it; and once stopped it computes no more.
func TestHEICStops(t *testing.T) {
	d, err := theDecoder()
	if err != nil {
		t.Fatal(err)
	}
	data := render.GridHEIC(readTestFile(t, "lying.heic"), 160, 120, 4, 4)
	const pixels = 640 * 480
	whole := &looks{Context: t.Context(), end: math.MaxInt}
	if _, err := d.decode(whole, data); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d looks, one in %.2f pixels", whole.n, float64(pixels)/float64(whole.n))
	if whole.n < pixels/20 || whole.n > pixels {
		t.Errorf("it looks up %d times for %d pixels", whole.n, pixels)
	}
	half := &looks{Context: t.Context(), end: whole.n / 2}
	if img, err := d.decode(half, data); err == nil {
		t.Errorf("half way stopped, it shows %v", img.Bounds())
	}
	if late := half.n - half.end; late > 10 {
		t.Errorf("stopped, it looked up %d times more", late)
	}
	if _, err := d.decode(t.Context(), data); err != nil {
		t.Errorf("the next picture: %v", err)
	}
}

// One that lies about its size finds no more memory than another.
func TestLyingHEIC(t *testing.T) {
	large := render.GridHEIC(readTestFile(t, "lying.heic"), 160, 120, 60, 70)
	// Its own size says 480 by 240, that of the grid 9,600 by 8,400.
	at := strings.Index(string(large), "ispe") + 8
	copy(large[at:], []byte{0, 0, 1, 0xe0, 0, 0, 0, 0xf0})
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, _, err := picture.Reader{HEIC: decodeHEIC, Most: 100 << 20}.Decode(t.Context(), large, 0)
	runtime.ReadMemStats(&after)
	t.Logf("%v, %d MiB", err, (after.TotalAlloc-before.TotalAlloc)>>20)
	if err == nil {
		t.Error("it was shown")
	}
	if made := after.TotalAlloc - before.TotalAlloc; made > 100<<20 {
		t.Errorf("%d MiB were made", made>>20)
	}
}
