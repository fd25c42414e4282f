package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
)

// turnView is a figure with wheels that are turned by dragging them round, with the
// mouse wheel or with the arrow keys. It is embedded.
type turnView struct {
	stage

	// OnTurn is told by how much the user turns the crank, positive in the direction
	// of rotation.
	OnTurn func(by timing.Deg)

	wheels wheels
	held   int        // the wheel that is dragged; −1: none
	grip   timing.Deg // where, from its top, it is held
	rest   timing.Deg // of a drag, in crank degrees, too little for a step so far
}

// wheels are those of a figure, with places in points.
type wheels interface {
	// nearest is the wheel at a place, −1 for none.
	nearest(x, y float64) int
	// fromTop is the angle of a place round a wheel, from its top, clockwise.
	fromTop(wheel int, x, y float64) timing.Deg
	// crankTurns is by how much the crank turns when a wheel is turned on the page.
	crankTurns(wheel int, by timing.Deg) timing.Deg
}

func (v *turnView) begin(view hosted, least fyne.Size, w wheels) {
	v.wheels, v.held, v.grows = w, -1, true
	v.stage.begin(view, least, v.turn)
}

// Cursor implements [desktop.Cursorable].
func (v *turnView) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseDown implements [desktop.Mouseable]: a wheel is taken hold of.
func (v *turnView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v.view.(focusable))
	v.hold(e.Position)
}

// MouseUp implements [desktop.Mouseable].
func (v *turnView) MouseUp(*desktop.MouseEvent) { v.held = -1 }

// DragEnd implements [fyne.Draggable].
func (v *turnView) DragEnd() { v.held = -1 }

// Dragged implements [fyne.Draggable].
func (v *turnView) Dragged(e *fyne.DragEvent) {
	if v.held < 0 {
		v.hold(e.Position)
		return
	}
	now := v.fromTop(e.Position)
	v.rest += v.wheels.crankTurns(v.held, timing.Difference(v.grip, now, timing.Turn))
	v.grip = now
	if by := Tidy(v.rest, 1); by != 0 {
		v.rest -= by
		v.turn(by)
	}
}

func (v *turnView) hold(p fyne.Position) {
	if v.held = v.wheels.nearest(float64(p.X)/unitsPerPoint, float64(p.Y)/unitsPerPoint); v.held >= 0 {
		v.grip, v.rest = v.fromTop(p), 0
	}
}

func (v *turnView) fromTop(p fyne.Position) timing.Deg {
	return v.wheels.fromTop(v.held, float64(p.X)/unitsPerPoint, float64(p.Y)/unitsPerPoint)
}

func (v *turnView) turn(by timing.Deg) {
	if v.OnTurn != nil {
		v.OnTurn(by)
	}
}
