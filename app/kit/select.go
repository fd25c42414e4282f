package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Select is a list to choose from that shows the whole of what is chosen, on several
// lines where it is narrow: the toolkit's cuts it short.
type Select struct{ widget.Select }

func NewSelect(options []string, changed func(string)) *Select {
	s := &Select{}
	s.Options, s.OnChanged = options, changed
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements [fyne.Widget].
func (s *Select) CreateRenderer() fyne.WidgetRenderer {
	r := s.Select.CreateRenderer()
	for _, o := range r.Objects() {
		if words, ok := o.(*widget.RichText); ok {
			words.Truncation, words.Wrapping = fyne.TextTruncateOff, fyne.TextWrapWord
		}
	}
	return r
}
