package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*DialView)(nil)
	_ fyne.Tappable      = (*DialView)(nil)
	_ fyne.Focusable     = (*DialView)(nil)
	_ fyne.Scrollable    = (*DialView)(nil)
	_ desktop.Mouseable  = (*DialView)(nil)
	_ desktop.Cursorable = (*DialView)(nil)
)

// DialView shows the face of a degree wheel with a mark that is moved over it: by a
// click, by dragging it round, with the mouse wheel or with the arrow keys.
type DialView struct {
	turnView // OnTurn is told by how much the mark is moved, positive towards higher numbers

	in      figure.DialInput
	x, y, r float64 // the face
}

// NewDialView returns a view that shows nothing yet.
func NewDialView() *DialView {
	v := &DialView{}
	v.begin(v, fyne.NewSize(200, 180), v)
	return v
}

// SetFigure puts another figure into the view.
func (v *DialView) SetFigure(in figure.DialInput) {
	v.in = in
	v.changed()
}

// AccessibilityLabel says what the view shows.
func (v *DialView) AccessibilityLabel() string { return v.in.Desc }

// Tapped implements [fyne.Tappable]: the mark goes to the whole degree that is clicked.
func (v *DialView) Tapped(e *fyne.PointEvent) {
	if v.in.Mark == nil || v.r <= 0 {
		return
	}
	to := timing.Deg(math.Round(float64(v.fromTop(0, float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint))))
	v.turn(timing.Difference(*v.in.Mark, to, timing.Turn))
}

func (v *DialView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	v.x, v.y, v.r = v.in.Face(room)
	return figure.Dial(v.in, room), true
}

func (v *DialView) nearest(x, y float64) int { return 0 }

func (v *DialView) fromTop(_ int, x, y float64) timing.Deg {
	return timing.FromRadians(math.Atan2(x-v.x, v.y-y))
}

func (v *DialView) crankTurns(_ int, by timing.Deg) timing.Deg { return by }
