package app

import (
	_ "unsafe" // for go:linkname

	"fyne.io/fyne/v2"
	"github.com/go-text/typesetting/shaping"
)

// shaper is what the toolkit's painter lays text out with: one for as long as the
// program runs. It keeps each font that it ever saw, in its buffer without any
// bound, and whenever the settings change the toolkit reads all fonts anew. A
// change of text size or theme would so cost 5 MB that never come back.
//
//go:linkname shaper fyne.io/fyne/v2/internal/painter.shaper
var shaper *shaping.HarfbuzzShaper

// forgetFonts makes the shaper let go of the fonts it has seen whenever the
// toolkit is about to read them anew, whatever the reason.
func forgetFonts(s fyne.Settings) {
	s.AddListener(func(fyne.Settings) { *shaper = shaping.HarfbuzzShaper{} })
}
