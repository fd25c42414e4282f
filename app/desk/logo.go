package desk

import (
	"bytes"
	"image"
	"image/png"
	"path/filepath"

	"github.com/fyne-io/oksvg"
	"github.com/srwiley/rasterx"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/sheet"
	"pinphase.org/pinphase/timing/store"
)

// The largest logo that is taken, and how large an SVG is drawn: a logo is printed at
// most 53 mm wide, so that this is more than 500 dots per inch.
const (
	mostLogo    = 4 << 20 // bytes
	mostLogoPx  = 4096    // a side of a PNG
	logoDrawnPx = 1200    // the longer side of an SVG
)

// LogoEndings are those of the files that a shop's logo may be.
var LogoEndings = []string{".png", ".svg"}

// ReadLogo reads a shop's logo, a PNG or SVG file; "" is none.
func ReadLogo(files store.Files, path string) (image.Image, error) {
	if path == "" {
		return nil, nil
	}
	data, err := store.Read(files, path, mostLogo)
	if err == nil {
		var img image.Image
		if img, err = logoOf(data); err == nil {
			return img, nil
		}
	}
	return nil, phrase.Errorf("the logo %s: %v", filepath.Base(path), err)
}

func logoOf(data []byte) (image.Image, error) {
	if !bytes.HasPrefix(data, []byte("\x89PNG")) {
		return drawnLogo(data)
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err == nil && (c.Width > mostLogoPx || c.Height > mostLogoPx) {
		return nil, phrase.Errorf("is %d by %d px; at most %d by %d are taken", c.Width, c.Height, mostLogoPx, mostLogoPx)
	}
	if err == nil {
		var img image.Image
		if img, err = png.Decode(bytes.NewReader(data)); err == nil {
			return img, nil
		}
	}
	return nil, phrase.Errorf("is a damaged PNG picture")
}

var errNoLogo = phrase.Errorf("is neither a PNG nor an SVG picture that can be drawn (letters must be outlines, and it needs a viewBox); save it as PNG")

// drawnLogo draws an SVG. The library that does it knows shapes, not letters.
func drawnLogo(data []byte) (img image.Image, err error) {
	defer func() {
		if recover() != nil { // the library does that on some files
			img, err = nil, errNoLogo
		}
	}()
	icon, err := oksvg.ReadIconStream(bytes.NewReader(data), oksvg.StrictErrorMode)
	if err != nil || !(icon.ViewBox.W > 0 && icon.ViewBox.H > 0) {
		return nil, errNoLogo
	}
	k := logoDrawnPx / max(icon.ViewBox.W, icon.ViewBox.H)
	w, h := max(1, int(k*icon.ViewBox.W)), max(1, int(k*icon.ViewBox.H))
	icon.SetTarget(0, 0, float64(w), float64(h))
	drawn := image.NewRGBA(image.Rect(0, 0, w, h))
	icon.Draw(rasterx.NewDasher(w, h, rasterx.NewScannerGV(w, h, drawn, drawn.Bounds())), 1)
	return drawn, nil
}

// Shop is who writes sheets, as the settings have it, but for the logo: that is read from
// its file where it is needed.
func (p Prefs) Shop() sheet.Shop {
	return sheet.Shop{Name: p.String(PrefShopName), Address: p.String(PrefShopAddress), Phone: p.String(PrefShopPhone), Mail: p.String(PrefShopMail)}
}
