package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// focusRing is the frame round a view that has the keyboard.
func focusRing() *canvas.Rectangle {
	r := canvas.NewRectangle(nil)
	r.StrokeWidth = 2
	r.CornerRadius = 4
	return r
}

func colourRing(r *canvas.Rectangle, th fyne.Theme) {
	r.StrokeColor = th.Color(theme.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant())
}
