package widgets

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Draggable     = (*PhotoView)(nil)
	_ fyne.Focusable     = (*PhotoView)(nil)
	_ fyne.Scrollable    = (*PhotoView)(nil)
	_ fyne.Shortcutable  = (*PhotoView)(nil)
	_ desktop.Mouseable  = (*PhotoView)(nil)
	_ desktop.Hoverable  = (*PhotoView)(nil)
	_ desktop.Keyable    = (*PhotoView)(nil)
	_ desktop.Cursorable = (*PhotoView)(nil)
)

// PhotoView shows a photograph, at any size, and lets points be placed on it,
// dragged, nudged and removed. The points are the owner's: the view says what the
// user wants done to them and shows what [PhotoView.SetMarks] gives it next.
//
// Places are in pixels of the picture, y down, 0, 0 being the corner of its first
// pixel. What the view asks for lies on the picture, in tenths of a pixel.
//
// The mouse places with a click, drags points and the picture, and enlarges with
// its wheel; the middle button, or the space bar held down, drags the picture
// also where a point lies. The keys are told at [PhotoView.TypedKey].
type PhotoView struct {
	widget.BaseWidget
	keyboard // with OnKey

	// PlaceKind is the kind of point that a click places; empty: none.
	PlaceKind string
	// Looks says how each kind of point is shown; others are rings in ink.
	Looks map[string]MarkLook
	// Overlay returns what to draw over the picture; toView takes pixels to points
	// of the drawing. It is called again whenever the picture moved or the
	// points changed, and for the loupe with a transform of its own, so it should
	// draw what is worked out already. May be nil.
	Overlay func(toView Transform) figure.Drawing
	// Placeholder stands where no picture is.
	Placeholder string
	// Label says what the view shows, for those who cannot see it.
	Label string

	// OnPlace is told where the user wants a new point.
	OnPlace func(kind string, x, y float64)
	// OnMove is told where the user wants a point, again and again while it is
	// moved, and OnMoveEnd that it has come to rest: one step to undo.
	OnMove    func(index int, x, y float64)
	OnMoveEnd func(index int)
	// OnRemove is told which point the user wants gone.
	OnRemove func(index int)
	// OnSelect is told which point the user picked, -1 for none.
	OnSelect func(index int)

	picture  *Pyramid // nil: none
	marks    []Mark
	selected int // -1: none
	sight    sight

	hold    *hold // what the mouse has hold of
	pointer fyne.Position
	hover   bool  // the pointer is over the view
	space   bool  // the space bar is down
	arrow   bool  // an arrow key is down
	nudged  bool  // the selected point was moved by keys; OnMoveEnd is owed
	tuning  bool  // the loupe stays on the selected point, for the keys
	aim     *spot // where Enter would place a point

	layers photoLayers
	loupe  *loupe
	hint   *widget.Label
}

// spot is a place of a picture, in its pixels, y down.
type spot struct{ X, Y float64 }

// NewPhotoView returns a view without a picture.
func NewPhotoView() *PhotoView {
	v := &PhotoView{selected: -1}
	v.layers.raster = canvas.NewRaster(v.paint)
	v.layers.raster.ScaleMode = canvas.ImageScaleFastest
	v.loupe = newLoupe(v)
	v.ExtendBaseWidget(v)
	return v
}

// SetPicture puts another picture into the view and shows all of it; nil takes it
// away. The picture must be upright and must not change afterwards. A large one
// is better given as a [Pyramid] made beside the main goroutine; the pyramid that
// is shown already changes nothing.
func (v *PhotoView) SetPicture(img image.Image) {
	p, ok := img.(*Pyramid)
	if !ok {
		p = NewPyramid(img)
	} else if p == v.picture {
		return
	}
	v.settle()
	v.letGo()
	v.picture, v.aim, v.tuning = p, nil, false
	v.sight = sight{w: float64(v.Size().Width), h: float64(v.Size().Height)}
	if p != nil {
		v.sight.picW, v.sight.picH = float64(p.Bounds().Dx()), float64(p.Bounds().Dy())
		v.sight.look(v.sight.picW/2, v.sight.picH/2)
		v.sight.fit()
	}
	v.Refresh()
}

// SetMarks shows these points. A point that was selected or is being dragged is
// still that of the same index; where there is none, nothing is.
func (v *PhotoView) SetMarks(marks []Mark) {
	v.marks = slices.Clone(marks)
	if v.selected >= len(marks) {
		v.selected, v.nudged, v.tuning = -1, false, false
	}
	if v.hold != nil && v.hold.mark >= len(marks) {
		v.hold = nil
	}
	v.show()
}

// Selected returns the selected point's index, -1 for none.
func (v *PhotoView) Selected() int { return v.selected }

// Select selects a point and brings it into view, without telling OnSelect. An
// index that no point has selects none.
func (v *PhotoView) Select(index int) {
	v.settle()
	v.selected, v.tuning, v.aim = -1, false, nil
	if index >= 0 && index < len(v.marks) {
		v.selected = index
		v.keepInView()
	}
	v.show()
}

// Fit shows the whole picture.
func (v *PhotoView) Fit() {
	if v.picture != nil {
		v.sight.fit()
		v.show()
	}
}

// View returns the transform that [PhotoView.Overlay] gets for the view itself; the
// loupe has another.
func (v *PhotoView) View() Transform { return v.sight.transform().times(1 / unitsPerPoint) }

// FitMarks shows all points and some of the picture round them; without points the
// whole picture.
func (v *PhotoView) FitMarks() {
	if v.picture == nil || len(v.marks) == 0 {
		v.Fit()
		return
	}
	const around = 1.3 // how much more than the points is shown
	lo, hi := v.marks[0].place(), v.marks[0].place()
	for _, m := range v.marks {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, m.X), min(lo.Y, m.Y), max(hi.X, m.X), max(hi.Y, m.Y)
	}
	s := &v.sight
	s.scale = s.clampScale(min(s.w/max(1, hi.X-lo.X), s.h/max(1, hi.Y-lo.Y)) / around)
	s.look((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
	v.show()
}

// Zoom enlarges by a factor, about the selected point if it is in view, else
// about the middle.
func (v *PhotoView) Zoom(by float64) {
	if v.picture == nil {
		return
	}
	x, y := v.sight.w/2, v.sight.h/2
	if at, ok := v.attention(); ok {
		if ax, ay := v.sight.transform().Apply(at.X, at.Y); ax >= 0 && ay >= 0 && ax <= v.sight.w && ay <= v.sight.h {
			x, y = ax, ay
		}
	}
	v.zoomAt(by, x, y)
}

// attention returns the place that the keys work on.
func (v *PhotoView) attention() (spot, bool) {
	switch {
	case v.aim != nil:
		return *v.aim, true
	case v.selected >= 0:
		return v.marks[v.selected].place(), true
	}
	return spot{}, false
}

func (v *PhotoView) zoomAt(by, x, y float64) {
	v.sight.zoom(by, x, y)
	if v.hold != nil {
		v.hold.begin(v.pointer, v)
	}
	v.show()
}

// choose selects a point for the user, -1 for none.
func (v *PhotoView) choose(index int) {
	v.settle()
	v.tuning, v.aim = false, nil
	if index == v.selected {
		return
	}
	v.selected = index
	if v.OnSelect != nil {
		v.OnSelect(index)
	}
}

// place asks for a new point and selects it if it came.
func (v *PhotoView) place(at spot) {
	at.X, at.Y = v.sight.clamp(at.X, at.Y)
	kind := v.PlaceKind
	v.settle()
	before := v.marks
	if v.OnPlace != nil {
		v.OnPlace(kind, at.X, at.Y)
	}
	if i := written(before, v.marks, Mark{kind, at.X, at.Y}); i >= 0 {
		v.choose(i)
	}
}

// written is the index of the mark of the kind asked for that is among the marks now and
// was not before: its owner may have moved it, onto an edge for one. Where there is none
// it is that of the mark asked for, -1 where that is not there either.
func written(before, now []Mark, asked Mark) int {
	had := map[Mark]int{}
	for _, m := range before {
		had[m]++
	}
	at := -1
	for i, m := range now {
		if had[m]--; m.Kind == asked.Kind && (had[m] < 0 || m == asked && at < 0) {
			at = i
		}
	}
	return at
}

// move asks for a point to be moved; it returns false if it is there already.
func (v *PhotoView) move(index int, to spot) bool {
	to.X, to.Y = v.sight.clamp(to.X, to.Y)
	if to == v.marks[index].place() {
		return false
	}
	if v.OnMove != nil {
		v.OnMove(index, to.X, to.Y)
	}
	return true
}

// settle tells that the point moved by keys has come to rest.
func (v *PhotoView) settle() {
	if v.nudged {
		v.nudged = false
		v.moveEnd(v.selected)
	}
}

func (v *PhotoView) moveEnd(index int) {
	if v.OnMoveEnd != nil {
		v.OnMoveEnd(index)
	}
}

// keepInView brings the place that the keys work on into view.
func (v *PhotoView) keepInView() {
	const margin = 30 // units, that it is not found at the very edge
	if at, ok := v.attention(); ok && v.picture != nil {
		v.sight.reveal(at.X, at.Y, margin)
	}
}

// AccessibilityLabel says what the view shows.
func (v *PhotoView) AccessibilityLabel() string {
	if v.picture == nil {
		return v.Placeholder
	}
	return v.Label
}

// MinSize leaves room to work in.
func (v *PhotoView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(240, 180)
}
