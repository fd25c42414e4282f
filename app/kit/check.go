package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Check is a box to be ticked, as wide as its words wherever it is put. The
// toolkit's own fills its row, of which all beyond the words looks like part of it
// and does nothing when it is clicked.
type Check struct {
	widget.Check
	keys func(*fyne.KeyEvent) bool // nil outside dialogs
}

func NewCheck(text string, changed func(on bool)) *Check {
	c := &Check{}
	c.Text, c.OnChanged = text, changed
	c.ExtendBaseWidget(c)
	return c
}

// Resize implements [fyne.CanvasObject].
func (c *Check) Resize(size fyne.Size) {
	c.Check.Resize(fyne.NewSize(min(size.Width, c.MinSize().Width), size.Height))
}

func (c *Check) HandOn(keys func(*fyne.KeyEvent) bool) { c.keys = keys }

// TypedKey implements [fyne.Focusable].
func (c *Check) TypedKey(e *fyne.KeyEvent) {
	if c.keys == nil || !c.keys(e) {
		c.Check.TypedKey(e)
	}
}
