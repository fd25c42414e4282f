package widgets

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

var (
	_ fyne.Draggable     = (*TraceView)(nil)
	_ fyne.Focusable     = (*TraceView)(nil)
	_ fyne.Scrollable    = (*TraceView)(nil)
	_ fyne.Tappable      = (*TraceView)(nil)
	_ desktop.Mouseable  = (*TraceView)(nil)
	_ desktop.Hoverable  = (*TraceView)(nil)
	_ desktop.Cursorable = (*TraceView)(nil)
)

// traceDrag is what the mouse is pulling.
type traceDrag int

const (
	dragNone traceDrag = iota
	dragAxis
	dragCursor
)

// grasp is how near to the cursor it is taken hold of, in Fyne's units.
const grasp = 9

// zoomStep is what one step zooms by; a step back undoes it.
const zoomStep = 1.25

// Cursor implements [desktop.Cursorable].
func (v *TraceView) Cursor() desktop.Cursor {
	if v.nearCursor(v.pointer) {
		return desktop.HResizeCursor
	}
	return desktop.DefaultCursor
}

func (v *TraceView) nearCursor(p fyne.Position) bool {
	return v.on && v.layout.Plot.W > 0 && math.Abs(float64(unit(v.layout.X(v.at))-p.X)) < grasp
}

// axisAt is what lies at a place of the view.
func (v *TraceView) axisAt(p fyne.Position) float64 { return v.layout.At(float64(p.X) / unitsPerPoint) }

// MouseDown implements [desktop.Mouseable].
func (v *TraceView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	v.drag = dragAxis
	if v.nearCursor(e.Position) {
		v.drag = dragCursor
	}
}

// Tapped implements [fyne.Tappable]: the cursor goes where it is clicked.
func (v *TraceView) Tapped(e *fyne.PointEvent) { v.point(e.Position) }

// Dragged implements [fyne.Draggable]: the traces follow the mouse, or the cursor
// does where it was taken hold of.
func (v *TraceView) Dragged(e *fyne.DragEvent) {
	if v.layout.Plot.W <= 0 {
		return
	}
	if v.drag == dragCursor {
		v.point(e.Position)
		return
	}
	by := float64(e.Dragged.DX) / unitsPerPoint / v.layout.Plot.W * (v.to - v.from)
	v.show(v.from-by, v.to-by)
}

// DragEnd implements [fyne.Draggable].
func (v *TraceView) DragEnd() { v.drag = dragNone }

// point asks for the cursor at a place of the view.
func (v *TraceView) point(p fyne.Position) {
	if v.layout.Plot.W > 0 && v.OnCursor != nil {
		v.OnCursor(min(max(v.axisAt(p), v.from), v.to))
	}
}

// Scrolled implements [fyne.Scrollable]: the wheel zooms at the pointer; sideways, or
// with Shift, it moves along.
func (v *TraceView) Scrolled(e *fyne.ScrollEvent) {
	if v.layout.Plot.W <= 0 {
		return
	}
	const notch = 25
	if dx := float64(e.Scrolled.DX); dx != 0 {
		v.Pan(-0.1 * dx / notch)
	}
	if dy := float64(e.Scrolled.DY); dy != 0 {
		v.zoomAbout(min(max(v.axisAt(e.Position), v.from), v.to), math.Pow(zoomStep, -dy/notch))
	}
}

// MouseIn implements [desktop.Hoverable].
func (v *TraceView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable]: a mark under the pointer says what it is, and
// elsewhere a word.
func (v *TraceView) MouseMoved(e *desktop.MouseEvent) {
	v.pointer = e.Position
	hint := ""
	if h, ok := v.plane.drawing.At(float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint); ok && strings.HasPrefix(h.Name, "mark ") {
		hint = h.Label
	}
	v.say(hint)
	if hint == "" {
		v.host.MouseMoved(e)
	} else {
		v.host.MouseOut()
	}
}

// MouseOut implements [desktop.Hoverable].
func (v *TraceView) MouseOut() {
	v.say("")
	v.host.MouseOut()
}

// TypedRune implements [fyne.Focusable]: + and − zoom, 0 shows all, < and > move
// along.
func (v *TraceView) TypedRune(r rune) {
	switch r {
	case '+', '=':
		v.Zoom(1 / zoomStep)
	case '-', '−', '_':
		v.Zoom(zoomStep)
	case '0':
		v.Fit()
	case '<', ',':
		v.Pan(-0.2)
	case '>', '.':
		v.Pan(+0.2)
	}
}
