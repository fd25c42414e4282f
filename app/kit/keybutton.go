package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/widgets"
)

var _ fyne.Focusable = (*KeyButton)(nil)

// KeyButton is a button that Enter presses too, and that may act on other keys.
type KeyButton struct {
	widget.Button
	OnEnter func()                    // nil: as if pressed
	OnKey   func(*fyne.KeyEvent) bool // tells whether it had a use for the key; may be nil
}

func NewKeyButton(text string, tapped func()) *KeyButton {
	b := &KeyButton{}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey implements [fyne.Focusable].
func (b *KeyButton) TypedKey(e *fyne.KeyEvent) {
	switch {
	case widgets.FunctionKey(b, e), b.Disabled():
	case b.OnKey != nil && b.OnKey(e):
	case (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && b.OnEnter != nil:
		b.OnEnter()
	case e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter:
		b.OnTapped()
	default:
		b.Button.TypedKey(e)
	}
}

// Flow puts objects in rows, each as wide as it asks for, as many in a row as
// there is room for, and asks for the height that its present width needs. Hidden
// ones take none.
type Flow struct {
	width float32 // last laid out at
}

func (l *Flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	_, size := l.places(objects, l.width)
	return size
}

func (l *Flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	places, _ := l.places(objects, size.Width)
	for i, o := range objects {
		o.Move(places[i])
		o.Resize(o.MinSize())
	}
}

// places returns where the objects go in so much room, and what they then ask for.
func (l *Flow) places(objects []fyne.CanvasObject, width float32) ([]fyne.Position, fyne.Size) {
	gap := theme.Padding()
	places := make([]fyne.Position, len(objects))
	var size fyne.Size
	var x, y, row float32
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if x > 0 && x+m.Width > width {
			x, y, row = 0, y+row+gap, 0
		}
		places[i] = fyne.NewPos(x, y)
		x, row = x+m.Width+gap, max(row, m.Height)
		size = fyne.NewSize(max(size.Width, m.Width), y+row)
	}
	return places, size
}
