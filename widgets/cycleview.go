package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*CycleView)(nil)
	_ fyne.Focusable     = (*CycleView)(nil)
	_ fyne.Scrollable    = (*CycleView)(nil)
	_ desktop.Mouseable  = (*CycleView)(nil)
	_ desktop.Cursorable = (*CycleView)(nil)
)

// CycleView shows the cycle figure with a cursor that can be dragged, clicked
// and stepped. The figure is painted once; the cursor and the readouts beside
// the rows lie on top of it.
type CycleView struct {
	angleView // with OnCursor and OnKey

	// OnRow is told which cylinder's name was clicked, left of its row; nil: the cursor
	// goes to the row's beginning.
	OnRow func(cylinder int)

	in       figure.CycleInput
	layout   figure.CycleLayout
	readouts []string // by row
	rows     []*canvas.Text
}

// NewCycleView returns a view that shows nothing yet, with room for a few rows.
func NewCycleView() *CycleView {
	v := &CycleView{}
	v.grows = true
	v.begin(v, fyne.NewSize(320, 180), func() angleAxis {
		return angleAxis{v.layout.Plot, 0, v.layout.Cycle - 0.1, v.layout.Deg}
	})
	return v
}

// SetFigure puts another figure into the view. Its cursor and its rows' readouts are
// the view's own business; see [CycleView.MoveCursor].
func (v *CycleView) SetFigure(in figure.CycleInput) {
	in.Cursor, in.CursorLabel = nil, " " // room for the cursor's tag
	v.in, v.plane.stale = in, true
	v.Refresh()
}

// MoveCursor puts the cursor at an angle within the cycle, with the words of its
// tag and of every row, in the order of the rows.
func (v *CycleView) MoveCursor(at timing.Deg, label string, readouts []string) {
	v.at, v.label, v.readouts = at, label, readouts
	v.place()
}

// MouseDown implements [desktop.Mouseable].
func (v *CycleView) MouseDown(e *desktop.MouseEvent) {
	x, y := float64(e.Position.X)/unitsPerPoint, float64(e.Position.Y)/unitsPerPoint
	if row, ok := v.layout.RowAt(y); ok && v.OnRow != nil && x < v.layout.Plot.X && e.Button == desktop.MouseButtonPrimary {
		takeKeyboard(v)
		v.OnRow(v.layout.Rows[row].Cylinder)
		return
	}
	v.angleView.MouseDown(e)
}

// AccessibilityLabel says what the view shows.
func (v *CycleView) AccessibilityLabel() string { return v.in.Desc }

func (v *CycleView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	d, v.layout = figure.Cycle(v.in, room)
	return d, true
}

func (v *CycleView) over() []fyne.CanvasObject {
	list := v.cursor.objects()
	for _, t := range v.rows {
		list = append(list, t)
	}
	return append(list, v.ring)
}

// dress makes as many readouts as there are rows.
func (v *CycleView) dress(th fyne.Theme) {
	v.angleView.dress(th)
	for len(v.rows) < len(v.in.Rows) {
		v.rows = append(v.rows, canvas.NewText("", nil))
	}
	v.rows = v.rows[:len(v.in.Rows)]
	for _, t := range v.rows {
		t.Color = styleOf(th).Color(figure.Ink)
	}
}

// place puts the cursor and the readouts where they belong.
func (v *CycleView) place() {
	v.stage.place()
	if !v.live || v.layout.Plot.W <= 0 {
		return // no renderer yet, or no room
	}
	for i, t := range v.rows {
		t.Hidden = v.layout.Readout.W <= 0 || i >= len(v.readouts) || i >= len(v.layout.Rows)
		if t.Hidden {
			continue
		}
		row := v.layout.Rows[i].Row
		t.Text, t.TextSize = v.readouts[i], unit(v.layout.ReadoutSize)
		h := t.MinSize().Height
		t.Move(fyne.NewPos(unit(v.layout.Readout.X), unit(row.Y+row.H/2)-h/2))
		t.Resize(fyne.NewSize(unit(v.layout.Readout.W), h))
		canvas.Refresh(t)
	}
	v.cursor.put(v.layout.X(v.at), v.layout.Plot, v.label, true, v.Theme(), v.Size())
}
