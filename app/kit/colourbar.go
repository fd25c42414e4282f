package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"pinphase.org/pinphase/timing/figure"
)

// ColourBar is the colour beside a sentence, which says the same in words.
type ColourBar struct {
	*canvas.Rectangle
	look *Look
}

func NewColourBar(u *Frame) ColourBar {
	b := ColourBar{canvas.NewRectangle(nil), u.Look}
	b.SetMinSize(fyne.NewSize(6, 0))
	return b
}

func (b ColourBar) Show(role figure.Role) {
	b.FillColor = b.look.FigureColor(role)
	canvas.Refresh(b.Rectangle)
}
