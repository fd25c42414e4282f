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

// stand puts an object into a room that holds one, in place of what is there.
func stand(room *fyne.Container, o fyne.CanvasObject) {
	if room.Objects[0] != o {
		room.Objects = []fyne.CanvasObject{o}
		room.Refresh()
	}
}
