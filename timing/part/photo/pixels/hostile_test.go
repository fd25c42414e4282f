package pixels

import (
	"bytes"
	"context"
	"errors"
	"image/jpeg"
	"image/png"
	"runtime"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/webp"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/hostile"
)

// The crafted pictures are sound: the decoders of the standard library take them.
func TestCraftedAreSound(t *testing.T) {
	for name, data := range map[string][]byte{
		"baseline": hostile.JPEG(100, 70, true, false, 0), "grey": hostile.JPEG(100, 70, false, false, 0),
		"progressive": hostile.JPEG(100, 70, false, true, 3), "progressive colours": hostile.JPEG(2000, 1700, true, true, 3),
	} {
		img, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil || img.Bounds().Dx() < 100 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := png.Decode(bytes.NewReader(hostile.PNG(100, 70, 16, false, true))); err != nil {
		t.Error(err)
	}
	if _, err := webp.Decode(bytes.NewReader(hostile.WebP(100, 70, 300))); err != nil {
		t.Error(err)
	}
}

// What asks for more than there is of memory or time is refused by what its header
// and scans say, before it is decoded.
func TestHostileIsRefused(t *testing.T) {
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"5,000 scans", hostile.JPEG(4000, 3000, false, true, 5000), "is built up in more than 100 scans; open it in a picture program and save it again"},
		// 16 bits a channel: 8 bytes a pixel, half as much again interlaced, 4 for the
		// picture shown: 119 × (8 + 4 + 4) MB, and the file.
		{"119 megapixels at 16 bits, interlaced", hostile.PNG(11900, 10000, 16, true, false), "takes 1816 MiB to decode, and at most 1024 are used; save it smaller, or with 8 bits a channel"},
		// 1.5 values a pixel, of 1 byte and of 4, and 4 bytes for the picture shown.
		{"119 megapixels, progressive", hostile.JPEG(11904, 10000, true, true, 10), "takes 1306 MiB to decode, and at most 1024 are used; save it smaller, or as a JPEG that is not progressive"},
		{"65,536 groups of code trees", hostile.WebP(200, 100, 1<<16), "is a damaged WebP picture"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		_, _, err := Decode(t.Context(), c.data, 0)
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
		if made := after.TotalAlloc - before.TotalAlloc; made > 32<<20 {
			t.Errorf("%s: %d MiB were made to refuse it", c.name, made>>20)
		}
		if took > 2*time.Second {
			t.Errorf("%s: it took %v to refuse it", c.name, took)
		}
	}
}

// What is said beforehand is what is made: no picture takes more than its demand, and
// none is refused that takes less than half of it.
func TestDemandIsTrue(t *testing.T) {
	for name, data := range map[string][]byte{
		"JPEG":                     hostile.JPEG(3000, 2000, true, false, 0),
		"JPEG, grey":               hostile.JPEG(3000, 2000, false, false, 0),
		"JPEG, progressive":        hostile.JPEG(3000, 2000, true, true, 20),
		"PNG":                      hostile.PNG(2000, 1500, 8, false, true),
		"PNG, 16 bits":             hostile.PNG(2000, 1500, 16, false, true),
		"PNG, 16 bits, interlaced": hostile.PNG(2000, 1500, 16, true, true),
	} {
		d, err := photo.DemandOf(data)
		if err != nil {
			t.Fatal(err)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		switch {
		case name[0] == 'J':
			_, err = jpeg.Decode(bytes.NewReader(data))
		default:
			_, err = png.Decode(bytes.NewReader(data))
		}
		runtime.ReadMemStats(&after)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		made := int64(after.TotalAlloc - before.TotalAlloc)
		most := d.Bytes + 1<<20
		if strings.Contains(name, "interlaced") {
			most += d.Bytes / 3 // the seven pictures one after the other; only one is there at a time
		}
		if made > most || d.Bytes > 2*made {
			t.Errorf("%s: %d KiB were made, and %d were said", name, made>>10, d.Bytes>>10)
		}
	}
}

// Decoding ends soon after its context does.
func TestDecodingIsCancelled(t *testing.T) {
	for name, data := range map[string][]byte{
		"JPEG": hostile.JPEG(11904, 10000, true, false, 0),
		"PNG":  hostile.PNG(10000, 9000, 8, false, true),
	} {
		start := time.Now()
		ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
		_, _, err := Decode(ctx, data, 1000)
		cancel()
		if took := time.Since(start); took > time.Second {
			t.Errorf("%s: took %v after it was to end in 0.1 s", name, took)
		}
		if !errors.Is(err, context.DeadlineExceeded) || !strings.Contains(err.Error(), "takes too long to decode; save it smaller") {
			t.Errorf("%s: %v", name, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Decode(ctx, readTestFile(t, "lossy.webp"), 0); !errors.Is(err, context.Canceled) {
		t.Errorf("WebP: %v", err)
	}
}
