package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// reader is a long text that is scrolled by keys as well as by the mouse.
type reader struct {
	widget.BaseWidget
	scroll *container.Scroll
	other  func(*fyne.KeyEvent) // gets the keys there is no use for here
}

var _ fyne.Focusable = (*reader)(nil)

func newReader(content fyne.CanvasObject, other func(*fyne.KeyEvent)) *reader {
	r := &reader{scroll: container.NewVScroll(container.New(&besideBar{}, content)), other: other}
	r.ExtendBaseWidget(r)
	return r
}

func (r *reader) handOn(keys func(*fyne.KeyEvent) bool) {
	r.other = func(e *fyne.KeyEvent) { keys(e) }
}

// TypedKey implements [fyne.Focusable].
func (r *reader) TypedKey(e *fyne.KeyEvent) {
	line, page := 2*theme.TextSize(), 0.9*r.scroll.Size().Height
	end := r.scroll.Content.MinSize().Height
	by := map[fyne.KeyName]float32{fyne.KeyDown: line, fyne.KeyUp: -line, fyne.KeyPageDown: page, fyne.KeyPageUp: -page,
		fyne.KeySpace: page, fyne.KeyHome: -end, fyne.KeyEnd: end}[e.Name]
	if by == 0 {
		r.other(e)
		return
	}
	most := max(0, end-r.scroll.Size().Height)
	r.scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(r.scroll.Offset.Y+by, most))))
}

// TypedRune implements [fyne.Focusable].
func (r *reader) TypedRune(rune) {}

// FocusGained implements [fyne.Focusable].
func (r *reader) FocusGained() {}

// FocusLost implements [fyne.Focusable].
func (r *reader) FocusLost() {}

// CreateRenderer implements [fyne.Widget].
func (r *reader) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.scroll) }
