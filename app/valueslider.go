package app

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// twoColumns puts objects in two columns, the first as wide as its share, or in
// one where there is little room for the size of the text.
type twoColumns struct {
	first float32
	width float32 // last laid out at
}

// roomForTwo is how wide two columns are at least, at ordinary text size.
const roomForTwo = 760

func (l *twoColumns) columns() int {
	if l.width < roomForTwo*theme.TextSize()/baseText {
		return 1
	}
	return 2
}

func (l *twoColumns) rowHeight(objects []fyne.CanvasObject) float32 {
	h := float32(0)
	for _, o := range objects {
		h = max(h, o.MinSize().Height)
	}
	return h
}

func (l *twoColumns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := float32(0)
	for _, o := range objects {
		width = max(width, o.MinSize().Width)
	}
	n := l.columns()
	return fyne.NewSize(width, l.rowHeight(objects)*float32((len(objects)+n-1)/n))
}

func (l *twoColumns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	n, h := l.columns(), l.rowHeight(objects)
	gap := theme.Padding()
	left := (size.Width - gap) * l.first
	for i, o := range objects {
		x, w := float32(0), size.Width
		switch {
		case n == 2 && i%2 == 0:
			w = left
		case n == 2:
			x, w = left+gap, size.Width-gap-left
		}
		o.Move(fyne.NewPos(x, float32(i/n)*h))
		o.Resize(fyne.NewSize(w, h))
	}
}

// valueSlider is a slider with what it moves to its left and its value in words
// to its right. Dragging it is one step for undo, and so is a key.
type valueSlider struct {
	content   *fyne.Container
	slider    *keySlider
	words     *lineLabel
	onChanged func(float64)
	onEnded   func() // a drag or a step is over; nil: nobody wants to know

	lo, hi, step float64
	value        float64 // exactly: the knob stands on whole steps
}

func newValueSlider(u *frame, name string, lo, hi, step float64) *valueSlider {
	v := &valueSlider{slider: newKeySlider(lo, hi, step), words: newLineLabel(), lo: lo, hi: hi, step: step}
	v.slider.OnChanged = v.change
	v.slider.OnChangeEnded = func(float64) { v.ended() }
	v.slider.onStep = func(steps float64) {
		v.change(min(max(v.value+steps*step, v.slider.Min), v.slider.Max))
		v.ended()
	}
	v.slider.onKey = u.key
	v.content = container.New(sliderRow{least: 110}, container.New(sized{120}, widget.NewLabel(name)), v.slider, v.words)
	return v
}

func (v *valueSlider) ended() {
	if v.onEnded != nil {
		v.onEnded()
	}
}

func (v *valueSlider) change(to float64) {
	to = math.Round(to*1000) / 1000 // no tail of binary fractions in the job
	if to != v.value {
		v.onChanged(to)
	}
}

// show puts the knob where a value is. The range widens for a value outside it
// and does not narrow again under a drag.
func (v *valueSlider) show(at float64, words string) {
	v.value = at
	s := v.slider
	lo, hi := min(s.Min, math.Floor(at/v.step)*v.step), max(s.Max, math.Ceil(at/v.step)*v.step)
	if lo != s.Min || hi != s.Max || math.Abs(s.Value-at) > 0.51*v.step {
		s.Min, s.Max, s.Value = lo, hi, at // SetValue would take it for the end of the drag under way
		s.Refresh()
	}
	setText(&v.words.Label, words)
}
