package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Once is a part of the window that is gone through once when the look changes. The
// toolkit then goes through the whole window and refreshes everything at each level,
// containers with all that is in them: what lies ten levels deep ten times over.
type Once struct {
	widget.BaseWidget
	u       *Frame
	Content fyne.CanvasObject
}

func NewOnce(u *Frame, content fyne.CanvasObject) *Once {
	o := &Once{u: u, Content: content}
	o.ExtendBaseWidget(o)
	return o
}

// CreateRenderer implements [fyne.Widget].
func (o *Once) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(o.Content) }

// Refresh implements [fyne.CanvasObject]. While the look changes what is in it has had
// its turn already.
func (o *Once) Refresh() {
	if !o.u.Restyling {
		o.BaseWidget.Refresh()
	}
}
