package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// angleView is a figure over an axis of crank angles with a cursor that can be
// clicked, dragged and stepped. It is embedded.
type angleView struct {
	stage

	// OnCursor is told where the user wants the cursor: within the figure when
	// pointed at, anywhere when stepped to.
	OnCursor func(at timing.Deg)

	at     timing.Deg
	label  string
	cursor cursor
	axis   func() angleAxis // of the figure as it is shown
}

// angleAxis is where crank angles lie in a figure.
type angleAxis struct {
	plot     figure.Rect
	from, to timing.Deg // the least and the greatest that can be pointed at
	deg      func(x float64) timing.Deg
}

func (v *angleView) begin(view hosted, least fyne.Size, axis func() angleAxis) {
	v.axis, v.cursor = axis, newCursor()
	v.stage.begin(view, least, func(by timing.Deg) { v.ask(v.at + by) })
}

func (v *angleView) over() []fyne.CanvasObject { return append(v.cursor.objects(), v.ring) }

func (v *angleView) dress(th fyne.Theme) {
	v.stage.dress(th)
	v.cursor.dress(styleOf(th))
}

// Cursor implements [desktop.Cursorable].
func (v *angleView) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseDown implements [desktop.Mouseable]: the cursor goes where it is clicked.
func (v *angleView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v.view.(focusable))
	if e.Button == desktop.MouseButtonPrimary {
		v.point(e.Position)
	}
}

// Dragged implements [fyne.Draggable].
func (v *angleView) Dragged(e *fyne.DragEvent) { v.point(e.Position) }

// point moves the cursor to a place of the view; beyond the figure's ends it stays
// at the end.
func (v *angleView) point(p fyne.Position) {
	a := v.axis()
	if a.plot.W <= 0 {
		return
	}
	x := float64(p.X) / unitsPerPoint
	perUnit := float64(a.deg(a.plot.Right())-a.deg(a.plot.X)) / float64(unit(a.plot.W))
	v.ask(max(a.from, min(Tidy(a.deg(x), perUnit), a.to)))
}

func (v *angleView) ask(at timing.Deg) {
	if v.OnCursor != nil {
		v.OnCursor(at)
	}
}
