package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

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
	widget.BaseWidget
	stepper // with OnKey

	// OnCursor is told where the user wants the cursor: within the cycle when
	// pointed at, anywhere when stepped to.
	OnCursor func(at timing.Deg)

	in       figure.CycleInput
	layout   figure.CycleLayout
	at       timing.Deg
	label    string
	readouts []string // by row

	plane *plane
	line  *canvas.Line
	tag   tag
	rows  []*canvas.Text
}

// NewCycleView returns a view that shows nothing yet.
func NewCycleView() *CycleView {
	v := &CycleView{plane: newPlane()}
	v.step = func(by timing.Deg) { v.ask(v.at + by) }
	v.ExtendBaseWidget(v)
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

// MinSize leaves room for a few rows, more where text is large.
func (v *CycleView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(320, 180*largeText(v.Theme()))
}

// Cursor implements [desktop.Cursorable].
func (v *CycleView) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseDown implements [desktop.Mouseable]: the cursor goes where it is clicked.
func (v *CycleView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	if e.Button == desktop.MouseButtonPrimary {
		v.point(e.Position)
	}
}

// MouseUp implements [desktop.Mouseable].
func (v *CycleView) MouseUp(*desktop.MouseEvent) {}

// Dragged implements [fyne.Draggable].
func (v *CycleView) Dragged(e *fyne.DragEvent) { v.point(e.Position) }

// DragEnd implements [fyne.Draggable].
func (v *CycleView) DragEnd() {}

// point moves the cursor to a place of the view; beyond the plot's ends it stays
// at the end.
func (v *CycleView) point(p fyne.Position) {
	if v.layout.Plot.W <= 0 {
		return
	}
	degPerUnit := float64(v.layout.Cycle) / float64(unit(v.layout.Plot.W))
	at := Tidy(v.layout.Deg(float64(p.X)/unitsPerPoint), degPerUnit)
	v.ask(max(0, min(at, v.layout.Cycle-0.1)))
}

func (v *CycleView) ask(at timing.Deg) {
	if v.OnCursor != nil {
		v.OnCursor(at)
	}
}

// AccessibilityLabel says what the view shows.
func (v *CycleView) AccessibilityLabel() string { return v.in.Desc }

// CreateRenderer implements [fyne.Widget].
func (v *CycleView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.line = canvas.NewLine(nil)
	v.line.StrokeWidth = 2
	v.tag = newTag()
	v.newRing()
	r := &cycleRenderer{v}
	r.Refresh()
	return r
}

// build makes the figure for the view's present size, if that or what it shows
// has changed.
func (v *CycleView) build() {
	if size := v.Size(); v.plane.due(size) {
		var d figure.Drawing
		d, v.layout = figure.Cycle(v.in, box(size, v.Theme()))
		v.plane.show(d, styleOf(v.Theme()))
	}
}

// place puts the cursor and the readouts where they belong.
func (v *CycleView) place() {
	if v.line == nil || v.layout.Plot.W <= 0 {
		return // no renderer yet, or no room
	}
	plot := v.layout.Plot
	x := unit(v.layout.X(v.at))
	top, bottom := unit(plot.Y), unit(plot.Bottom())
	v.line.Position1, v.line.Position2 = fyne.NewPos(x, top), fyne.NewPos(x, bottom)

	size := v.tag.write(v.label, v.Theme().Size(theme.SizeNameCaptionText))
	v.tag.put(x, top-size.Height, v.Size())

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
	canvas.Refresh(v.line)
	v.tag.refresh()
}

type cycleRenderer struct{ v *CycleView }

func (r *cycleRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.ring.Resize(size)
	r.v.build()
	r.v.place()
}

func (r *cycleRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *cycleRenderer) Objects() []fyne.CanvasObject {
	v := r.v
	list := []fyne.CanvasObject{v.plane.raster, v.line, v.tag.box, v.tag.text}
	for _, t := range v.rows {
		list = append(list, t)
	}
	return append(list, v.ring)
}

// Refresh is for a change of the figure or of the theme; the cursor alone moves
// without it.
func (r *cycleRenderer) Refresh() {
	v := r.v
	st := styleOf(v.Theme())
	v.plane.stale = true
	v.line.StrokeColor = st.Color(figure.Cursor)
	v.tag.colour(st.Color(figure.Cursor), st.Color(figure.Surface))
	v.dressRing(v.Theme())
	for len(v.rows) < len(v.in.Rows) {
		v.rows = append(v.rows, canvas.NewText("", nil))
	}
	v.rows = v.rows[:len(v.in.Rows)]
	for _, t := range v.rows {
		t.Color = st.Color(figure.Ink)
	}
	v.build()
	v.place()
}

func (r *cycleRenderer) Destroy() { r.v.plane.drop() }
