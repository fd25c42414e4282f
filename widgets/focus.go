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

// FunctionKey gives a key that means the same wherever the keyboard is to the
// window of o, and tells whether it was one.
func FunctionKey(o fyne.CanvasObject, k *fyne.KeyEvent) bool {
	switch k.Name {
	case fyne.KeyF1, fyne.KeyF5, fyne.KeyF11:
		if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(k)
		}
		return true
	}
	return false
}
