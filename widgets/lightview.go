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
	_ fyne.Draggable     = (*LightView)(nil)
	_ fyne.Focusable     = (*LightView)(nil)
	_ fyne.Scrollable    = (*LightView)(nil)
	_ desktop.Mouseable  = (*LightView)(nil)
	_ desktop.Cursorable = (*LightView)(nil)
)

// LightView shows the light-off figure with a cursor that reads its curves. The
// figure is painted once; the cursor and its tag lie on top of it.
type LightView struct {
	widget.BaseWidget
	stepper // with OnKey

	// OnCursor is told where the user wants the cursor: within the figure when
	// pointed at, anywhere when stepped to.
	OnCursor func(at timing.Deg)

	in     figure.LightOffInput
	layout figure.LightOffLayout
	at     timing.Deg
	label  string

	plane *plane
	line  *canvas.Line
	tag   tag
}

// heightForSpreads is how many points high the view must be for the windows by
// other ways of reckoning to leave the curves enough room.
const heightForSpreads = 285

// NewLightView returns a view that shows nothing yet.
func NewLightView() *LightView {
	v := &LightView{plane: newPlane()}
	v.step = func(by timing.Deg) { v.ask(v.at + by) }
	v.ExtendBaseWidget(v)
	return v
}

// SetFigure puts another figure into the view. Its cursor is the view's own
// business; see [LightView.MoveCursor].
func (v *LightView) SetFigure(in figure.LightOffInput) {
	in.Cursor = nil
	v.in, v.plane.stale = in, true
	v.build()
	v.place()
}

// MoveCursor puts the cursor at an angle, with the words of its tag. At an angle
// the figure does not reach there is no cursor.
func (v *LightView) MoveCursor(at timing.Deg, label string) {
	v.at, v.label = at, label
	v.place()
}

// MinSize leaves room for the curves and the injections.
func (v *LightView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(300, 190)
}

// Cursor implements [desktop.Cursorable].
func (v *LightView) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseDown implements [desktop.Mouseable]: the cursor goes where it is clicked.
func (v *LightView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	if e.Button == desktop.MouseButtonPrimary {
		v.point(e.Position)
	}
}

// MouseUp implements [desktop.Mouseable].
func (v *LightView) MouseUp(*desktop.MouseEvent) {}

// Dragged implements [fyne.Draggable].
func (v *LightView) Dragged(e *fyne.DragEvent) { v.point(e.Position) }

// DragEnd implements [fyne.Draggable].
func (v *LightView) DragEnd() {}

// point moves the cursor to a place of the view; beyond the figure's ends it
// stays at the end.
func (v *LightView) point(p fyne.Position) {
	if v.layout.Plot.W <= 0 {
		return
	}
	degPerUnit := float64(v.layout.To-v.layout.From) / float64(unit(v.layout.Plot.W))
	at := Tidy(v.layout.Deg(float64(p.X)/unitsPerPoint), degPerUnit)
	v.ask(max(v.layout.From, min(at, v.layout.To)))
}

func (v *LightView) ask(at timing.Deg) {
	if v.OnCursor != nil {
		v.OnCursor(at)
	}
}

// AccessibilityLabel says what the view shows.
func (v *LightView) AccessibilityLabel() string { return v.in.Desc }

// CreateRenderer implements [fyne.Widget].
func (v *LightView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.line = canvas.NewLine(nil)
	v.line.StrokeWidth = 2
	v.tag = newTag()
	v.newRing()
	r := &lightRenderer{v}
	r.Refresh()
	return r
}

// build makes the figure for the view's present size, if that or what it shows
// has changed.
func (v *LightView) build() {
	size := v.Size()
	if v.line == nil || !v.plane.due(size) {
		return
	}
	in, room := v.in, box(size, v.Theme())
	if room.H < heightForSpreads*room.Type {
		in.Spreads = nil
	}
	var d figure.Drawing
	d, v.layout = figure.LightOff(in, room)
	v.plane.show(d, styleOf(v.Theme()))
}

// place puts the cursor where it belongs.
func (v *LightView) place() {
	if v.line == nil {
		return // no renderer yet
	}
	off := v.layout.Plot.W <= 0 || v.label == "" || v.at < v.layout.From || v.at > v.layout.To
	v.line.Hidden = off
	v.tag.hide(off)
	if !off {
		x := unit(v.layout.X(v.at))
		top := unit(v.layout.Plot.Y)
		v.line.Position1, v.line.Position2 = fyne.NewPos(x, top), fyne.NewPos(x, unit(v.layout.Plot.Bottom())) // not over the words of the rows
		size := v.tag.write(v.label, v.Theme().Size(theme.SizeNameCaptionText))
		v.tag.put(x, top-size.Height, v.Size())
	}
	canvas.Refresh(v.line)
	v.tag.refresh()
}

type lightRenderer struct{ v *LightView }

func (r *lightRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.ring.Resize(size)
	r.v.build()
	r.v.place()
}

func (r *lightRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *lightRenderer) Objects() []fyne.CanvasObject {
	v := r.v
	return []fyne.CanvasObject{v.plane.raster, v.line, v.tag.box, v.tag.text, v.ring}
}

// Refresh is for a change of the theme; figure and cursor change without it.
func (r *lightRenderer) Refresh() {
	v := r.v
	st := styleOf(v.Theme())
	v.plane.stale = true
	v.line.StrokeColor = st.Color(figure.Cursor)
	v.tag.colour(st.Color(figure.Cursor), st.Color(figure.Surface))
	v.dressRing(v.Theme())
	v.build()
	v.place()
}

func (r *lightRenderer) Destroy() { r.v.plane.drop() }
