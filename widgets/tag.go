package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// tag is a few words on a ground of their own that lie over a figure.
type tag struct {
	box  *canvas.Rectangle
	text *canvas.Text
}

func newTag() tag {
	t := tag{canvas.NewRectangle(nil), canvas.NewText("", nil)}
	t.box.CornerRadius = 3
	t.text.TextStyle.Bold = true
	t.text.Alignment = fyne.TextAlignCenter
	return t
}

// colour gives the tag its ground and the colour of its words.
func (t tag) colour(ground, ink color.Color) { t.box.FillColor, t.text.Color = ground, ink }

// write puts words on the tag and returns how large it is.
func (t tag) write(words string, textSize float32) fyne.Size {
	t.text.Text, t.text.TextSize = words, textSize
	size := t.text.MinSize().AddWidthHeight(10, 2)
	t.box.Resize(size)
	t.text.Resize(size)
	return size
}

// put sets the tag with its middle at x, as far as there is room.
func (t tag) put(x, top float32, room fyne.Size) {
	size := t.box.Size()
	at := fyne.NewPos(
		max(0, min(x-size.Width/2, room.Width-size.Width)),
		max(0, min(top, room.Height-size.Height)))
	t.box.Move(at)
	t.text.Move(at)
}

func (t tag) hide(on bool) { t.box.Hidden, t.text.Hidden = on, on }

func (t tag) refresh() {
	canvas.Refresh(t.box)
	canvas.Refresh(t.text)
}
