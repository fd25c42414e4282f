package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing/figure"
)

var _ desktop.Hoverable = (*MapView)(nil)

// MapView shows a map of starting and tells which of its cells is pointed at.
type MapView struct {
	host

	// OnPoint is told the cell under the pointer, by its column and row; ok is
	// false when the pointer has left the map.
	OnPoint func(column, row int, ok bool)

	in     figure.LightMapInput
	layout figure.LightMapLayout
}

// NewMapView returns a view that shows nothing yet, with room to tell the areas
// apart.
func NewMapView() *MapView {
	v := &MapView{}
	v.begin(v, fyne.NewSize(220, 160))
	return v
}

// SetFigure puts another map into the view.
func (v *MapView) SetFigure(in figure.LightMapInput) {
	v.in = in
	v.changed()
}

// MouseIn implements [desktop.Hoverable].
func (v *MapView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (v *MapView) MouseMoved(e *desktop.MouseEvent) {
	v.host.MouseMoved(e)
	x, y, ok := v.layout.At(float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint)
	v.tell(indexOf(v.in.X, x), indexOf(v.in.Y, y), ok)
}

// MouseOut implements [desktop.Hoverable].
func (v *MapView) MouseOut() {
	v.host.MouseOut()
	v.tell(0, 0, false)
}

// indexOf is where a value stands in a list it was taken from.
func indexOf(list []float64, v float64) int {
	for i, x := range list {
		if x == v {
			return i
		}
	}
	return 0
}

func (v *MapView) tell(column, row int, ok bool) {
	if v.OnPoint != nil {
		v.OnPoint(column, row, ok)
	}
}

// AccessibilityLabel says what the view shows.
func (v *MapView) AccessibilityLabel() string { return v.in.Desc }

func (v *MapView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	d, v.layout = figure.LightMap(v.in, room)
	return d, true
}
