package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing/figure"
)

var _ desktop.Hoverable = (*CycleView)(nil)

// Words are the texts on the figure, for those who cannot point at them.
func (h *host) Words() (list []string) {
	for _, s := range h.plane.drawing.Shapes {
		if t, ok := s.(figure.Text); ok {
			list = append(list, t.S)
		}
	}
	return list
}

// SetPointed says who is told of the text that the pointer rests on, and where that is on
// the view; "" when it is on none any more.
func (h *host) SetPointed(told func(text string, at fyne.Position, size fyne.Size)) { h.pointed = told }

// MouseIn implements [desktop.Hoverable].
func (h *host) MouseIn(e *desktop.MouseEvent) { h.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (h *host) MouseMoved(e *desktop.MouseEvent) {
	if h.pointed == nil {
		return
	}
	text, at, size := h.textAt(e.Position)
	if text != h.under {
		h.under = text
		h.pointed(text, at, size)
	}
}

// MouseOut implements [desktop.Hoverable].
func (h *host) MouseOut() {
	if h.pointed != nil && h.under != "" {
		h.under = ""
		h.pointed("", fyne.Position{}, fyne.Size{})
	}
}

// textAt is the text of the figure at a place of the view, and where it lies.
func (h *host) textAt(p fyne.Position) (text string, at fyne.Position, size fyne.Size) {
	d, room := h.plane.drawing, h.Size()
	if d.W <= 0 || room.Width <= 0 {
		return "", at, size
	}
	k := float64(room.Width) / d.W // as the plane paints it
	x, y := float64(p.X)/k, float64(p.Y)/k
	for i := len(d.Shapes) - 1; i >= 0; i-- {
		t, ok := d.Shapes[i].(figure.Text)
		if !ok {
			continue
		}
		if b := t.Bounds(); x >= b.X && x <= b.Right() && y >= b.Y && y <= b.Bottom() {
			return t.S, fyne.NewPos(float32(b.X*k), float32(b.Y*k)), fyne.NewSize(float32(b.W*k), float32(b.H*k))
		}
	}
	return "", at, size
}
