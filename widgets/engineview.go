package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*EngineView)(nil)
	_ fyne.Tappable      = (*EngineView)(nil)
	_ fyne.Focusable     = (*EngineView)(nil)
	_ fyne.Scrollable    = (*EngineView)(nil)
	_ desktop.Mouseable  = (*EngineView)(nil)
	_ desktop.Cursorable = (*EngineView)(nil)
)

// EngineView shows the engine figure. A cylinder is chosen by a click, by its number
// from 1 to 9 or with the arrows up and down; the crankshaft is turned by dragging any of the cranks
// round, with the mouse wheel or with the arrows left and right.
type EngineView struct {
	turnView // with OnTurn and OnKey

	// OnCylinder is told which cylinder is chosen; nil: none can be.
	OnCylinder func(cylinder int)

	in     figure.EngineInput
	layout figure.EngineLayout
}

// NewEngineView returns a view that shows nothing yet.
func NewEngineView() *EngineView {
	v := &EngineView{}
	v.begin(v, fyne.NewSize(160, 120), v)
	return v
}

// SetFigure puts another figure into the view.
func (v *EngineView) SetFigure(in figure.EngineInput) {
	v.in = in
	v.changed()
}

// AccessibilityLabel says what the view shows.
func (v *EngineView) AccessibilityLabel() string { return v.in.Desc }

// Tapped implements [fyne.Tappable]: a cylinder is chosen.
func (v *EngineView) Tapped(e *fyne.PointEvent) {
	u := v.layout.UnitAt(float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint)
	if u >= 0 {
		v.choose(v.layout.Units[u].Cylinder)
	}
}

// TypedRune implements [fyne.Focusable]: the number of a cylinder.
func (v *EngineView) TypedRune(r rune) {
	if n := int(r - '0'); n >= 1 && n <= 9 && n <= len(v.in.Cylinders) {
		v.choose(n)
	}
}

// TypedKey implements [fyne.Focusable].
func (v *EngineView) TypedKey(e *fyne.KeyEvent) {
	by := 0
	switch e.Name {
	case fyne.KeyUp:
		by = -1
	case fyne.KeyDown:
		by = 1
	}
	n := len(v.in.Cylinders)
	if by == 0 || v.OnCylinder == nil || n == 0 {
		v.turnView.TypedKey(e)
		return
	}
	at := -1 // none is chosen yet
	for i, c := range v.in.Cylinders {
		if c.Selected {
			at = i
		}
	}
	if at < 0 && by < 0 {
		at = 0
	}
	v.choose(v.in.Cylinders[(at+by+n)%n].Cylinder)
}

func (v *EngineView) choose(cylinder int) {
	if v.OnCylinder != nil {
		v.OnCylinder(cylinder)
	}
}

func (v *EngineView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	d, v.layout = figure.Engine(v.in, room)
	if v.held > len(v.layout.Units) {
		v.held = -1 // the engine has lost the cylinder that was held
	}
	return d, true
}

func (v *EngineView) nearest(x, y float64) int { return v.layout.Nearest(x, y) }

func (v *EngineView) fromTop(wheel int, x, y float64) timing.Deg {
	return v.layout.FromTop(wheel, x, y)
}

func (v *EngineView) crankTurns(_ int, by timing.Deg) timing.Deg { return by }
