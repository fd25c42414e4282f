package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*GearsView)(nil)
	_ fyne.Focusable     = (*GearsView)(nil)
	_ fyne.Scrollable    = (*GearsView)(nil)
	_ desktop.Mouseable  = (*GearsView)(nil)
	_ desktop.Cursorable = (*GearsView)(nil)
)

// GearsView shows the gear figure; the train is turned by dragging any of its
// wheels round, with the mouse wheel or with the arrow keys.
type GearsView struct {
	turnView // with OnTurn and OnKey

	in     figure.GearsInput
	layout figure.GearsLayout
}

// NewGearsView returns a view that shows nothing yet, with room to see which wheel
// is which.
func NewGearsView() *GearsView {
	v := &GearsView{}
	v.begin(v, fyne.NewSize(240, 180), v)
	return v
}

// SetFigure puts another figure into the view.
func (v *GearsView) SetFigure(in figure.GearsInput) {
	v.in = in
	v.changed()
}

// AccessibilityLabel says what the view shows.
func (v *GearsView) AccessibilityLabel() string { return v.in.Desc }

func (v *GearsView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	d, v.layout = figure.Gears(v.in, room)
	if v.held >= len(v.layout.R) {
		v.held = -1 // the train has lost the wheel that was held
	}
	return d, true
}

func (v *GearsView) nearest(x, y float64) int { return v.layout.Nearest(x, y) }

func (v *GearsView) fromTop(wheel int, x, y float64) timing.Deg { return v.layout.FromTop(wheel, x, y) }

func (v *GearsView) crankTurns(wheel int, by timing.Deg) timing.Deg {
	return v.layout.CrankTurns(wheel, by)
}
