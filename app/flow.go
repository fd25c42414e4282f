package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// flow puts objects side by side as wide as they ask to be, in as many rows as that
// takes, and asks for the height that its present width needs.
type flow struct {
	width float32 // last laid out at
}

// rows calls at for each object with its place, and returns the height in all.
func (l *flow) rows(objects []fyne.CanvasObject, width float32, at func(o fyne.CanvasObject, x, y float32, size fyne.Size)) float32 {
	pad := theme.Padding()
	x, y, high := float32(0), float32(0), float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if x > 0 && x+m.Width > width {
			x, y, high = 0, y+high+pad, 0
		}
		if at != nil {
			at(o, x, y, fyne.NewSize(min(m.Width, max(width-x, 0)), m.Height))
		}
		x += m.Width + pad
		high = max(high, m.Height)
	}
	return y + high
}

// MinSize implements [fyne.Layout].
func (l *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	least := float32(0)
	for _, o := range objects {
		if o.Visible() {
			least = max(least, o.MinSize().Width)
		}
	}
	return fyne.NewSize(least, l.rows(objects, max(l.width, least), nil))
}

// Layout implements [fyne.Layout].
func (l *flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	l.rows(objects, size.Width, func(o fyne.CanvasObject, x, y float32, size fyne.Size) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(size)
	})
}
