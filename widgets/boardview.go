package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Focusable         = (*BoardView)(nil)
	_ fyne.Tabbable          = (*BoardView)(nil)
	_ fyne.Tappable          = (*BoardView)(nil)
	_ fyne.SecondaryTappable = (*BoardView)(nil)
	_ fyne.Scrollable        = (*BoardView)(nil)
	_ desktop.Hoverable      = (*BoardView)(nil)
	_ desktop.Cursorable     = (*BoardView)(nil)
)

// BoardView shows a page for a class over the whole screen and hands on all that
// keys and mouse say.
type BoardView struct {
	host
	keyboard // with OnKey

	OnTap    func()           // a click
	OnBack   func()           // a click of the other button
	OnScroll func(by float32) // a notch of the mouse wheel is 1, down is positive
	OnMove   func()           // the pointer was moved

	// Pointer tells whether the pointer is seen.
	Pointer bool

	in      figure.BoardInput
	empty   bool // there was no page yet
	looks   figure.Style
	moving  bool
	pointer fyne.Position
}

// NewBoardView returns a view that shows nothing yet.
func NewBoardView() *BoardView {
	v := &BoardView{empty: true, looks: figure.BoardLight(), Pointer: true}
	v.begin(v, fyne.NewSize(320, 200))
	v.own = true
	v.plane.raster.Generator = v.paint
	v.plane.raster.ScaleMode = canvas.ImageScaleSmooth
	return v
}

// SetGround says in which style the view, which shows nothing yet, shows that.
func (v *BoardView) SetGround(st figure.Style) { v.looks = st }

// SetPage puts another page on the view. While it is moving it is painted with
// fewer pixels on a large screen, to keep up.
func (v *BoardView) SetPage(in figure.BoardInput, st figure.Style, moving bool) {
	v.in, v.looks, v.moving, v.empty = in, st, moving, false
	v.changed()
}

// movingPixels is how many pixels of a moving page are painted at most.
const movingPixels = 1280 * 720

func (v *BoardView) paint(w, h int) image.Image {
	if v.empty {
		one := image.NewRGBA(image.Rect(0, 0, 1, 1))
		one.Set(0, 0, v.looks.Color(figure.Surface))
		return one
	}
	if n := w * h; v.moving && n > movingPixels {
		k := math.Sqrt(movingPixels / float64(n))
		w, h = int(float64(w)*k), int(float64(h)*k)
	}
	return v.plane.paint(w, h)
}

// Cursor implements [desktop.Cursorable].
func (v *BoardView) Cursor() desktop.Cursor {
	if !v.Pointer {
		return desktop.HiddenCursor
	}
	return desktop.DefaultCursor
}

// Tapped implements [fyne.Tappable].
func (v *BoardView) Tapped(*fyne.PointEvent) { call(v.OnTap) }

// TappedSecondary implements [fyne.SecondaryTappable].
func (v *BoardView) TappedSecondary(*fyne.PointEvent) { call(v.OnBack) }

// Scrolled implements [fyne.Scrollable].
func (v *BoardView) Scrolled(e *fyne.ScrollEvent) {
	if by := e.Scrolled.DY + e.Scrolled.DX; by != 0 && v.OnScroll != nil {
		v.OnScroll(float32(math.Copysign(1, -float64(by))))
	}
}

// MouseIn implements [desktop.Hoverable].
func (v *BoardView) MouseIn(e *desktop.MouseEvent) { v.pointer = e.Position }

// MouseMoved implements [desktop.Hoverable]. A page painted anew moves no
// pointer.
func (v *BoardView) MouseMoved(e *desktop.MouseEvent) {
	if e.Position != v.pointer {
		v.pointer = e.Position
		call(v.OnMove)
	}
}

// MouseOut implements [desktop.Hoverable].
func (v *BoardView) MouseOut() {}

func call(f func()) {
	if f != nil {
		f()
	}
}

// TypedKey implements [fyne.Focusable].
func (v *BoardView) TypedKey(e *fyne.KeyEvent) { v.handOn(e) }

// AcceptsTab implements [fyne.Tabbable]: there is nowhere else to go.
func (v *BoardView) AcceptsTab() bool { return true }

// AccessibilityLabel says what the view shows.
func (v *BoardView) AccessibilityLabel() string { return v.in.Sentence + " " + v.in.Desc }

func (v *BoardView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	if v.empty {
		return figure.Drawing{}, false
	}
	return figure.Board(v.in, room.W/room.H), true
}

// style is the page's own, whatever the theme.
func (v *BoardView) style(fyne.Theme) figure.Style { return v.looks }
