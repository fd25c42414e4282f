package kit

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// contrast is the ratio of WCAG 2.2, "contrast ratio".
func contrast(a, b color.Color) float64 {
	luminance := func(c color.Color) float64 {
		r, g, b, _ := c.RGBA()
		f := func(v uint32) float64 {
			x := float64(v) / 0xffff
			if x <= 0.04045 {
				return x / 12.92
			}
			return math.Pow((x+0.055)/1.055, 2.4)
		}
		return 0.2126*f(r) + 0.7152*f(g) + 0.0722*f(b)
	}
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Text has a contrast of 4.5:1 in every theme and of 7:1 in those that are called
// so (WCAG 2.2, success criteria 1.4.3 and 1.4.6); a theme chosen is the same
// whatever the system prefers.
func TestThemesCanBeRead(t *testing.T) {
	test.NewTempApp(t)
	for _, choice := range ThemeChoices {
		l := &Look{Choice: choice, Scale: 1}
		for _, v := range []fyne.ThemeVariant{theme.VariantLight, theme.VariantDark} {
			least := 4.5
			if l.contrast() {
				least = 7
			}
			for _, on := range []fyne.ThemeColorName{theme.ColorNameBackground, theme.ColorNameInputBackground, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground} {
				for _, text := range []fyne.ThemeColorName{theme.ColorNameForeground, theme.ColorNamePlaceHolder, theme.ColorNameError, theme.ColorNameHyperlink} {
					if text == theme.ColorNameError {
						least = min(least, 4.5) // it is told by its words as well
					}
					if got := contrast(l.Color(text, v), l.Color(on, v)); got < least {
						t.Errorf("%s, %s on %s: %.2f, want at least %g", choice, text, on, got, least)
					}
				}
			}
			if choice != "system" && l.Dark(theme.VariantLight) != l.Dark(theme.VariantDark) {
				t.Errorf("%s hangs on the system", choice)
			}
		}
	}
}
