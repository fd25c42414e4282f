package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

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
	widget.BaseWidget
	stepper // with OnKey

	// OnTurn is told by how much the user turns the crankshaft, positive in the
	// direction of rotation.
	OnTurn func(by timing.Deg)

	in     figure.WheelInput
	layout figure.WheelLayout
	grip   *timing.Deg // where on the page, from the top, the wheel is held
	rest   timing.Deg  // of a drag, too little for a step so far

	plane *plane
}

// NewWheelView returns a view that shows nothing yet.
func NewWheelView() *WheelView {
	v := &WheelView{plane: newPlane()}
	v.step = v.turn
	v.ExtendBaseWidget(v)
	return v
}

// SetFigure puts another figure into the view.
func (v *WheelView) SetFigure(in figure.WheelInput) {
	v.in, v.plane.stale = in, true
	v.build()
}

// MinSize leaves room to tell the teeth apart.
func (v *WheelView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(200, 180*largeText(v.Theme()))
}

// Cursor implements [desktop.Cursorable].
func (v *WheelView) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseDown implements [desktop.Mouseable]: the wheel is taken hold of.
func (v *WheelView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	g := v.fromTop(e.Position)
	v.grip, v.rest = &g, 0
}

// MouseUp implements [desktop.Mouseable].
func (v *WheelView) MouseUp(*desktop.MouseEvent) { v.grip = nil }

// Dragged implements [fyne.Draggable].
func (v *WheelView) Dragged(e *fyne.DragEvent) {
	now := v.fromTop(e.Position)
	if v.grip == nil {
		v.grip = &now
		return
	}
	v.rest += timing.Difference(*v.grip, now, timing.Turn)
	v.grip = &now
	if by := Tidy(v.rest, 1); by != 0 {
		v.rest -= by
		v.turn(by)
	}
}

// DragEnd implements [fyne.Draggable].
func (v *WheelView) DragEnd() { v.grip = nil }

func (v *WheelView) fromTop(p fyne.Position) timing.Deg {
	return v.layout.FromTop(float64(p.X)/unitsPerPoint, float64(p.Y)/unitsPerPoint)
}

func (v *WheelView) turn(by timing.Deg) {
	if v.OnTurn != nil {
		v.OnTurn(by)
	}
}

// AccessibilityLabel says what the view shows.
func (v *WheelView) AccessibilityLabel() string { return v.in.Desc }

// CreateRenderer implements [fyne.Widget].
func (v *WheelView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.newRing()
	r := &wheelRenderer{v}
	r.Refresh()
	return r
}

func (v *WheelView) build() {
	size := v.Size()
	if v.ring == nil || !v.plane.due(size) {
		return
	}
	var d figure.Drawing
	d, v.layout = figure.Wheel(v.in, box(size, v.Theme()))
	v.plane.show(d, styleOf(v.Theme()))
}

type wheelRenderer struct{ v *WheelView }

func (r *wheelRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.ring.Resize(size)
	r.v.build()
}

func (r *wheelRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *wheelRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.v.plane.raster, r.v.ring}
}

// Refresh is for a change of the theme.
func (r *wheelRenderer) Refresh() {
	r.v.plane.stale = true
	r.v.dressRing(r.v.Theme())
	r.v.build()
}

func (r *wheelRenderer) Destroy() { r.v.plane.drop() }
