package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

var _ desktop.Hoverable = (*MapView)(nil)

// MapView shows a map of starting and tells which of its cells is pointed at.
type MapView struct {
	widget.BaseWidget

	// OnPoint is told the cell under the pointer, by its column and row; ok is
	// false when the pointer has left the map.
	OnPoint func(column, row int, ok bool)

	in     figure.LightMapInput
	layout figure.LightMapLayout
	plane  *plane
	live   bool // there is a renderer
}

// NewMapView returns a view that shows nothing yet.
func NewMapView() *MapView {
	v := &MapView{plane: newPlane()}
	v.ExtendBaseWidget(v)
	return v
}

// SetFigure puts another map into the view.
func (v *MapView) SetFigure(in figure.LightMapInput) {
	v.in, v.plane.stale = in, true
	v.build()
}

// MinSize leaves room to tell the areas apart.
func (v *MapView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(220, 160)
}

// MouseIn implements [desktop.Hoverable].
func (v *MapView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (v *MapView) MouseMoved(e *desktop.MouseEvent) {
	x, y, ok := v.layout.At(float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint)
	v.tell(indexOf(v.in.X, x), indexOf(v.in.Y, y), ok)
}

// MouseOut implements [desktop.Hoverable].
func (v *MapView) MouseOut() { v.tell(0, 0, false) }

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

// CreateRenderer implements [fyne.Widget].
func (v *MapView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.live = true
	return &mapRenderer{v}
}

func (v *MapView) build() {
	size := v.Size()
	if !v.live || !v.plane.due(size) {
		return
	}
	var d figure.Drawing
	d, v.layout = figure.LightMap(v.in, box(size, v.Theme()))
	v.plane.show(d, styleOf(v.Theme()))
}

type mapRenderer struct{ v *MapView }

func (r *mapRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.build()
}

func (r *mapRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *mapRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.v.plane.raster} }

// Refresh is for a change of the theme.
func (r *mapRenderer) Refresh() {
	r.v.plane.stale = true
	r.v.build()
}

func (r *mapRenderer) Destroy() { r.v.plane.drop() }
