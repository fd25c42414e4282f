package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// oneOf is a row or column of buttons of which one is the chosen.
type oneOf struct {
	content *fyne.Container
	buttons []*dialogButton
	chosen  int // -1: none
	chose   func(int)
	others  widget.Importance // of those not chosen
}

// newOneOf returns the buttons in a row; chose is told of the user's choice. None
// is chosen yet.
func newOneOf(chose func(int), names ...string) *oneOf {
	o := &oneOf{content: container.NewHBox(), chosen: -1, chose: chose, others: widget.LowImportance}
	for i, name := range names {
		b := newDialogButton("", func() {
			o.set(i)
			o.chose(i)
		})
		b.SetText(name)
		b.Importance = widget.LowImportance
		o.buttons = append(o.buttons, b)
		o.content.Add(b)
	}
	return o
}

// inColumn puts the buttons below one another, their words at the left.
func (o *oneOf) inColumn() *oneOf {
	o.content, o.others = container.NewVBox(), widget.MediumImportance
	for _, b := range o.buttons {
		b.Alignment, b.Importance = widget.ButtonAlignLeading, o.others
		o.content.Add(b)
	}
	return o
}

// set shows a button as the chosen one, without telling.
func (o *oneOf) set(chosen int) {
	if chosen == o.chosen {
		return
	}
	o.chosen = chosen
	for i, b := range o.buttons {
		b.Importance = o.others
		if i == chosen {
			b.Importance = widget.HighImportance
		}
		b.Refresh()
	}
}
