package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

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
	angleView // with OnCursor and OnKey

	in     figure.LightOffInput
	layout figure.LightOffLayout
}

// heightForSpreads is how many points high the view must be for the windows by
// other ways of reckoning to leave the curves enough room.
const heightForSpreads = 285

// NewLightView returns a view that shows nothing yet, with room for the curves and
// the injections.
func NewLightView() *LightView {
	v := &LightView{}
	v.begin(v, fyne.NewSize(300, 190), func() angleAxis {
		return angleAxis{v.layout.Plot, v.layout.From, v.layout.To, v.layout.Deg}
	})
	return v
}

// SetFigure puts another figure into the view. Its cursor is the view's own
// business; see [LightView.MoveCursor].
func (v *LightView) SetFigure(in figure.LightOffInput) {
	in.Cursor = nil
	v.in = in
	v.changed()
}

// MoveCursor puts the cursor at an angle, with the words of its tag. At an angle
// the figure does not reach there is no cursor.
func (v *LightView) MoveCursor(at timing.Deg, label string) {
	v.at, v.label = at, label
	v.place()
}

// AccessibilityLabel says what the view shows.
func (v *LightView) AccessibilityLabel() string { return v.in.Desc }

func (v *LightView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	in := v.in
	if room.H < heightForSpreads*room.Type {
		in.Spreads = nil
	}
	d, v.layout = figure.LightOff(in, room)
	return d, true
}

func (v *LightView) place() {
	v.stage.place()
	if v.layout.Plot.W <= 0 || v.label == "" || v.at < v.layout.From || v.at > v.layout.To {
		v.cursor.hide()
		return
	}
	// Not over the words of the rows.
	v.cursor.put(v.layout.X(v.at), v.layout.Plot, v.label, true, v.Theme(), v.Size())
}
