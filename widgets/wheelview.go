package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*WheelView)(nil)
	_ fyne.Focusable     = (*WheelView)(nil)
	_ fyne.Scrollable    = (*WheelView)(nil)
	_ desktop.Mouseable  = (*WheelView)(nil)
	_ desktop.Cursorable = (*WheelView)(nil)
)

// WheelView shows the wheel figure; the wheel is turned by dragging it round,
// with the mouse wheel or with the arrow keys.
type WheelView struct {
	turnView // with OnTurn and OnKey

	in     figure.WheelInput
	layout figure.WheelLayout
}

// NewWheelView returns a view that shows nothing yet, with room to tell the teeth
// apart.
func NewWheelView() *WheelView {
	v := &WheelView{}
	v.begin(v, fyne.NewSize(200, 150), v)
	return v
}

// SetFigure puts another figure into the view.
func (v *WheelView) SetFigure(in figure.WheelInput) {
	v.in = in
	v.changed()
}

// AccessibilityLabel says what the view shows.
func (v *WheelView) AccessibilityLabel() string { return v.in.Desc }

func (v *WheelView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	d, v.layout = figure.Wheel(v.in, room)
	return d, true
}

func (v *WheelView) nearest(x, y float64) int { return 0 }

func (v *WheelView) fromTop(_ int, x, y float64) timing.Deg { return v.layout.FromTop(x, y) }

func (v *WheelView) crankTurns(_ int, by timing.Deg) timing.Deg { return by }
