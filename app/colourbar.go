package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"pinphase.org/pinphase/timing/figure"
)

// colourBar is the colour beside a sentence, which says the same in words.
type colourBar struct {
	*canvas.Rectangle
	look *look
}

func newColourBar(u *frame) colourBar {
	b := colourBar{canvas.NewRectangle(nil), u.look}
	b.SetMinSize(fyne.NewSize(6, 0))
	return b
}

func (b colourBar) show(role figure.Role) {
	b.FillColor = b.look.figureColor(role)
	canvas.Refresh(b.Rectangle)
}
