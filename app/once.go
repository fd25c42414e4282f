package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// once is a part of the window that is gone through once when the look changes. The
// toolkit then goes through the whole window and refreshes everything at each level,
// containers with all that is in them: what lies ten levels deep ten times over.
type once struct {
	widget.BaseWidget
	u       *frame
	content fyne.CanvasObject
}

func newOnce(u *frame, content fyne.CanvasObject) *once {
	o := &once{u: u, content: content}
	o.ExtendBaseWidget(o)
	return o
}

// CreateRenderer implements [fyne.Widget].
func (o *once) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(o.content) }

// Refresh implements [fyne.CanvasObject]. While the look changes what is in it has had
// its turn already.
func (o *once) Refresh() {
	if !o.u.restyling {
		o.BaseWidget.Refresh()
	}
}
