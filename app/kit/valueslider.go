package kit

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// TwoColumns puts objects in two columns, the first as wide as its share, or in
// one where there is little room for the size of the text.
type TwoColumns struct {
	First float32
	width float32 // last laid out at
}

// roomForTwo is how wide two columns are at least, at ordinary text size.
const roomForTwo = 760

func (l *TwoColumns) columns() int {
	if l.width < roomForTwo*theme.TextSize()/BaseText {
		return 1
	}
	return 2
}

func (l *TwoColumns) rowHeight(objects []fyne.CanvasObject) float32 {
	h := float32(0)
	for _, o := range objects {
		h = max(h, o.MinSize().Height)
	}
	return h
}

func (l *TwoColumns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := float32(0)
	for _, o := range objects {
		width = max(width, o.MinSize().Width)
	}
	n := l.columns()
	return fyne.NewSize(width, l.rowHeight(objects)*float32((len(objects)+n-1)/n))
}

func (l *TwoColumns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	n, h := l.columns(), l.rowHeight(objects)
	gap := theme.Padding()
	left := (size.Width - gap) * l.First
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

// ValueSlider is a slider with what it moves to its left and its value in words
// to its right. Dragging it is one step for undo, and so is a key.
type ValueSlider struct {
	Content   *fyne.Container
	Slider    *keySlider
	Words     *LineLabel
	OnChanged func(float64)
	OnEnded   func() // a drag or a step is over; nil: nobody wants to know

	Lo, Hi, Step float64
	value        float64 // exactly: the knob stands on whole steps
}

func NewValueSlider(u *Frame, name string, lo, hi, step float64) *ValueSlider {
	v := &ValueSlider{Slider: newKeySlider(lo, hi, step), Words: NewLineLabel(), Lo: lo, Hi: hi, Step: step}
	v.Slider.OnChanged = v.Change
	v.Slider.OnChangeEnded = func(float64) { v.ended() }
	v.Slider.onStep = func(steps float64) {
		v.Change(min(max(v.value+steps*step, v.Slider.Min), v.Slider.Max))
		v.ended()
	}
	v.Slider.onKey = u.Key
	v.Content = container.New(SliderRow{least: 110}, container.New(Sized{120}, widget.NewLabel(name)), v.Slider, v.Words)
	return v
}

func (v *ValueSlider) ended() {
	if v.OnEnded != nil {
		v.OnEnded()
	}
}

func (v *ValueSlider) Change(to float64) {
	to = math.Round(to*1000) / 1000 // no tail of binary fractions in the job
	if to != v.value {
		v.OnChanged(to)
	}
}

// Show puts the knob where a value is. The range widens for a value outside it
// and does not narrow again under a drag.
func (v *ValueSlider) Show(at float64, words string) {
	v.value = at
	s := v.Slider
	lo, hi := min(s.Min, math.Floor(at/v.Step)*v.Step), max(s.Max, math.Ceil(at/v.Step)*v.Step)
	if lo != s.Min || hi != s.Max || math.Abs(s.Value-at) > 0.51*v.Step {
		s.Min, s.Max, s.Value = lo, hi, at // SetValue would take it for the end of the drag under way
		s.Refresh()
	}
	SetText(&v.Words.Label, words)
}
