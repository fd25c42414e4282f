package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// OneOf is a row or column of buttons of which one is the chosen.
type OneOf struct {
	Content *fyne.Container
	Buttons []*DialogButton
	Chosen  int // -1: none
	Chose   func(int)
	others  widget.Importance // of those not chosen
}

// NewOneOf returns the buttons in a row; chose is told of the user's choice. None
// is chosen yet.
func NewOneOf(chose func(int), names ...string) *OneOf {
	o := &OneOf{Content: container.NewHBox(), Chosen: -1, Chose: chose, others: widget.LowImportance}
	for i, name := range names {
		b := NewDialogButton("", func() {
			o.Set(i)
			o.Chose(i)
		})
		b.SetText(name)
		b.Importance = widget.LowImportance
		o.Buttons = append(o.Buttons, b)
		o.Content.Add(b)
	}
	return o
}

// InColumn puts the buttons below one another, their words at the left.
func (o *OneOf) InColumn() *OneOf {
	o.Content, o.others = container.NewVBox(), widget.MediumImportance
	for _, b := range o.Buttons {
		b.Alignment, b.Importance = widget.ButtonAlignLeading, o.others
		o.Content.Add(b)
	}
	return o
}

// Set shows a button as the chosen one, without telling.
func (o *OneOf) Set(chosen int) {
	if chosen == o.Chosen {
		return
	}
	o.Chosen = chosen
	for i, b := range o.Buttons {
		b.Importance = o.others
		if i == chosen {
			b.Importance = widget.HighImportance
		}
		b.Refresh()
	}
}
