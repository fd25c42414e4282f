package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Reader is a long text that is scrolled by keys as well as by the mouse.
type Reader struct {
	widget.BaseWidget
	Scroll *container.Scroll
	other  func(*fyne.KeyEvent) // gets the keys there is no use for here
}

var _ fyne.Focusable = (*Reader)(nil)

func NewReader(content fyne.CanvasObject, other func(*fyne.KeyEvent)) *Reader {
	r := &Reader{Scroll: container.NewVScroll(container.New(&BesideBar{}, content)), other: other}
	r.ExtendBaseWidget(r)
	return r
}

func (r *Reader) HandOn(keys func(*fyne.KeyEvent) bool) {
	r.other = func(e *fyne.KeyEvent) { keys(e) }
}

// TypedKey implements [fyne.Focusable].
func (r *Reader) TypedKey(e *fyne.KeyEvent) {
	line, page := 2*theme.TextSize(), 0.9*r.Scroll.Size().Height
	end := r.Scroll.Content.MinSize().Height
	by := map[fyne.KeyName]float32{fyne.KeyDown: line, fyne.KeyUp: -line, fyne.KeyPageDown: page, fyne.KeyPageUp: -page,
		fyne.KeySpace: page, fyne.KeyHome: -end, fyne.KeyEnd: end}[e.Name]
	if by == 0 {
		r.other(e)
		return
	}
	most := max(0, end-r.Scroll.Size().Height)
	r.Scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(r.Scroll.Offset.Y+by, most))))
}

// TypedRune implements [fyne.Focusable].
func (r *Reader) TypedRune(rune) {}

// FocusGained implements [fyne.Focusable].
func (r *Reader) FocusGained() {}

// FocusLost implements [fyne.Focusable].
func (r *Reader) FocusLost() {}

// CreateRenderer implements [fyne.Widget].
func (r *Reader) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.Scroll) }
