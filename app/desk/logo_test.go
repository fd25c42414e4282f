package desk

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/store"
)

// A logo keeps its shape and colours, whichever of the two kinds of file it is.
func TestReadLogo(t *testing.T) {
	var dots bytes.Buffer
	img := image.NewNRGBA(image.Rect(0, 0, 20, 10))
	img.Set(15, 5, color.NRGBA{200, 0, 0, 255})
	if err := png.Encode(&dots, img); err != nil {
		t.Fatal(err)
	}
	read := func(name string, data []byte) (image.Image, error) {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return ReadLogo(store.System, path)
	}
	got, err := read("a.png", dots.Bytes())
	if err != nil || got.Bounds().Dx() != 20 || got.At(15, 5) != (color.NRGBA{200, 0, 0, 255}) {
		t.Errorf("%v, %v", got, err)
	}
	svg := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><rect x="20" y="0" width="20" height="20" fill="#0000ff"/></svg>`
	got, err = read("a.svg", []byte(svg))
	if err != nil || got.Bounds().Size() != image.Pt(1200, 600) || got.At(900, 300) != (color.RGBA{0, 0, 255, 255}) || got.At(300, 300) != (color.RGBA{}) {
		t.Errorf("%v, %v", got.Bounds(), err)
	}
	for name, data := range map[string][]byte{
		"cut.png":  dots.Bytes()[:30],
		"text.svg": []byte("no picture"),
		"bare.svg": []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`),
		"word.svg": []byte(strings.Replace(svg, "<rect", "<text>Wren</text><rect", 1)),
	} {
		if _, err := read(name, data); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if img, err := ReadLogo(store.System, ""); img != nil || err != nil {
		t.Errorf("no logo is %v, %v", img, err)
	}
}

// Regions as RFC 5646 has them in a language tag, and as POSIX names locales.
func TestRegion(t *testing.T) {
	for locale, want := range map[string]string{"en-US": "US", "es_MX.UTF-8": "MX", "zh-Hant-TW": "TW", "de": "", "C": "", "": "", "en-us": ""} {
		if got := region(locale); got != want {
			t.Errorf("%q is of %q, want %q", locale, got, want)
		}
	}
}
