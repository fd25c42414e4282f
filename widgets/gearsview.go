package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

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
	widget.BaseWidget
	stepper // with OnKey

	// OnTurn is told by how much the user turns the crank, positive in the direction
	// of rotation.
	OnTurn func(by timing.Deg)

	in     figure.GearsInput
	layout figure.GearsLayout
	held   int        // the wheel that is dragged; −1: none
	grip   timing.Deg // where, from its top, it is held
	rest   timing.Deg // of a drag, in crank degrees, too little for a step so far
	plane  *plane
}

// NewGearsView returns a view that shows nothing yet.
func NewGearsView() *GearsView {
	v := &GearsView{plane: newPlane(), held: -1}
	v.step = v.turn
	v.ExtendBaseWidget(v)
	return v
}

// SetFigure puts another figure into the view.
func (v *GearsView) SetFigure(in figure.GearsInput) {
	v.in, v.plane.stale = in, true
	v.build()
}

// MinSize leaves room to see which wheel is which.
func (v *GearsView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(240, 180*v.Theme().Size(theme.SizeNameText)/ordinaryText)
}

// Cursor implements [desktop.Cursorable].
func (v *GearsView) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseDown implements [desktop.Mouseable]: a wheel is taken hold of.
func (v *GearsView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	v.hold(e.Position)
}

// MouseUp implements [desktop.Mouseable].
func (v *GearsView) MouseUp(*desktop.MouseEvent) { v.held = -1 }

// Dragged implements [fyne.Draggable].
func (v *GearsView) Dragged(e *fyne.DragEvent) {
	if v.held < 0 || v.held >= len(v.layout.R) {
		v.hold(e.Position)
		return
	}
	now := v.fromTop(e.Position)
	v.rest += v.layout.CrankTurns(v.held, timing.Difference(v.grip, now, timing.Turn))
	v.grip = now
	if by := Tidy(v.rest, 1); by != 0 {
		v.rest -= by
		v.turn(by)
	}
}

// DragEnd implements [fyne.Draggable].
func (v *GearsView) DragEnd() { v.held = -1 }

func (v *GearsView) hold(p fyne.Position) {
	if v.held = v.layout.Nearest(float64(p.X)/unitsPerPoint, float64(p.Y)/unitsPerPoint); v.held >= 0 {
		v.grip, v.rest = v.fromTop(p), 0
	}
}

func (v *GearsView) fromTop(p fyne.Position) timing.Deg {
	return v.layout.FromTop(v.held, float64(p.X)/unitsPerPoint, float64(p.Y)/unitsPerPoint)
}

func (v *GearsView) turn(by timing.Deg) {
	if v.OnTurn != nil {
		v.OnTurn(by)
	}
}

// AccessibilityLabel says what the view shows.
func (v *GearsView) AccessibilityLabel() string { return v.in.Desc }

// CreateRenderer implements [fyne.Widget].
func (v *GearsView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.newRing()
	r := &gearsRenderer{v}
	r.Refresh()
	return r
}

func (v *GearsView) build() {
	size := v.Size()
	if v.ring == nil || !v.plane.due(size) {
		return
	}
	var d figure.Drawing
	d, v.layout = figure.Gears(v.in, box(size, v.Theme()))
	v.plane.show(d, styleOf(v.Theme()))
}

type gearsRenderer struct{ v *GearsView }

func (r *gearsRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.ring.Resize(size)
	r.v.build()
}

func (r *gearsRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *gearsRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.v.plane.raster, r.v.ring}
}

// Refresh is for a change of the theme.
func (r *gearsRenderer) Refresh() {
	r.v.plane.stale = true
	r.v.dressRing(r.v.Theme())
	r.v.build()
}

func (r *gearsRenderer) Destroy() { r.v.plane.drop() }
