package chart

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
)

// Formats are the file endings a figure can be written to.
var Formats = []string{".svg", ".pdf", ".png"}

// Themes are how a figure can look: in colour on a light ground, in colour on a
// dark one, and in black alone.
var Themes = []string{"light", "dark", "mono"}

// Style returns a theme's style; "" is light.
func Style(theme string) (figure.Style, error) {
	switch theme {
	case "", "light":
		return figure.Light(), nil
	case "dark":
		return figure.Dark(), nil
	case "mono":
		return figure.Paper(), nil
	}
	return figure.Style{}, fmt.Errorf("there is no theme %q; there are %s", theme, strings.Join(Themes, ", "))
}

// UsualDPI is how fine a picture is written unless told: sharp on paper up to twice
// its size.
const UsualDPI = 192

// The limits of a figure that is written to a file.
const (
	leastMM, mostMM   = 30.0, 2000.0
	leastDPI, mostDPI = 36.0, 1200.0
	mostPicture       = 100e6 // pixels
)

// WriteAs writes a drawing in the format of a file ending, one of [Formats] in any
// case. dpi counts for a picture only.
func WriteAs(w io.Writer, ending string, d figure.Drawing, st figure.Style, dpi float64) error {
	switch strings.ToLower(ending) {
	case ".svg":
		return figure.WriteSVG(w, d, st)
	case ".pdf":
		return figure.WritePDF(w, d, st)
	case ".png":
		if err := checkPicture(d.W, d.H, dpi); err != nil {
			return err
		}
		return figure.WritePNG(w, d, st, dpi)
	}
	return fmt.Errorf("a figure's file must end in .svg, .pdf or .png, not %q", ending)
}

// WriteClear writes a drawing as a PNG in which nothing is painted where nothing is drawn,
// to lie over something else.
func WriteClear(w io.Writer, d figure.Drawing, st figure.Style, dpi float64) error {
	if err := checkPicture(d.W, d.H, dpi); err != nil {
		return err
	}
	return figure.WriteClearPNG(w, d, st, dpi)
}

// CheckPicture says what would be wrong with a figure in [Names] as a picture: of
// the size of a box, or of its usual one.
func CheckPicture(name string, box figure.Box, dpi float64) error {
	box = Options{Box: box}.box(name)
	return checkPicture(box.W, box.H, dpi)
}

func checkPicture(w, h, dpi float64) error {
	if !(dpi >= leastDPI && dpi <= mostDPI) {
		return fmt.Errorf("a picture of %g dots an inch: from %g to %g", dpi, leastDPI, mostDPI)
	}
	if pixels := w * h * dpi * dpi / 72 / 72; pixels > mostPicture {
		return fmt.Errorf("a picture of %.0f million pixels: at most %.0f; take fewer dots an inch or a smaller size", pixels/1e6, mostPicture/1e6)
	}
	return nil
}

// Sized returns the room for a figure so many millimetres wide and high; a height
// of 0 keeps the figure's usual shape. A figure larger than usual has larger type.
func Sized(name string, widthMM, heightMM float64) (figure.Box, error) {
	usual := boxes[name]
	if heightMM == 0 {
		heightMM = widthMM * usual.H / usual.W
	}
	if !(widthMM >= leastMM && widthMM <= mostMM && heightMM >= leastMM && heightMM <= mostMM) {
		return figure.Box{}, fmt.Errorf("%.4g × %.4g mm: each side from %g to %g mm", widthMM, heightMM, leastMM, mostMM)
	}
	box := figure.Box{W: widthMM * figure.MM, H: heightMM * figure.MM}
	box.Type = max(1, min(box.W/usual.W, box.H/usual.H))
	return box, nil
}

// units are how long one of a unit is, in millimetres.
var units = []struct {
	name string
	mm   float64
}{{"mm", 1}, {"cm", 10}, {"in", 25.4}, {"pt", 25.4 / 72}, {"", 1}}

var errSize = errors.New("is no size such as 200x150mm")

// ParseLength reads a length such as "180mm", "18 cm" or "7in", in millimetres; a
// bare number is one of millimetres.
func ParseLength(text string) (mm float64, err error) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, u := range units {
		if number, ok := strings.CutSuffix(text, u.name); ok {
			v, err := finding.ParseNumber(number)
			if err != nil || v <= 0 {
				break
			}
			return v * u.mm, nil
		}
	}
	return 0, fmt.Errorf("%q is no length such as 180mm", text)
}

// ParseSize reads a size such as "200x150mm", width first, in millimetres.
func ParseSize(text string) (widthMM, heightMM float64, err error) {
	all := strings.ToLower(strings.TrimSpace(text))
	w, h, ok := strings.Cut(strings.ReplaceAll(all, "×", "x"), "x")
	if !ok {
		return 0, 0, fmt.Errorf("%q %w", text, errSize)
	}
	w = strings.TrimSpace(w)
	if last := w[max(0, len(w)-1):]; !strings.ContainsAny(last, "mnt") { // the unit stands once, at the end
		w += strings.TrimLeft(h, "0123456789.,+- ")
	}
	if widthMM, err = ParseLength(w); err == nil {
		heightMM, err = ParseLength(h)
	}
	if err != nil {
		return 0, 0, fmt.Errorf("%q %w", text, errSize)
	}
	return widthMM, heightMM, nil
}
