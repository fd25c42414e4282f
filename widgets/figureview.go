package widgets

import (
	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/figure"
)

// FigureView shows any figure that needs nothing on top of it, made anew for the
// room it has.
type FigureView struct {
	host

	figure func(figure.Box) figure.Drawing
	desc   string
}

// NewFigureView returns a view that shows nothing yet and asks for at least so
// much room.
func NewFigureView(min fyne.Size) *FigureView {
	v := &FigureView{}
	v.begin(v, min)
	return v
}

// SetFigure puts another figure into the view: draw makes it for the room there
// is. desc says what it shows, for those who cannot see it.
func (v *FigureView) SetFigure(desc string, draw func(figure.Box) figure.Drawing) {
	v.desc, v.figure = desc, draw
	v.changed()
}

// AccessibilityLabel says what the view shows.
func (v *FigureView) AccessibilityLabel() string { return v.desc }

func (v *FigureView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	if v.figure == nil {
		return figure.Drawing{W: 1, H: 1}, true
	}
	return v.figure(room), true
}
