package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var _ fyne.Focusable = (*keySlider)(nil)

// keySlider is a slider whose keys go by steps from the value itself, which may
// lie between the places of the knob, and which hands on keys it has no use for.
type keySlider struct {
	widget.Slider
	onStep func(steps float64)
	onKey  func(*fyne.KeyEvent)
}

func newKeySlider(lo, hi, step float64) *keySlider {
	s := &keySlider{}
	s.Min, s.Max, s.Step = lo, hi, step
	s.Value = lo
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey implements [fyne.Focusable]: an arrow is a step, with Shift ten, as
// are Page Up and Page Down.
func (s *keySlider) TypedKey(e *fyne.KeyEvent) {
	steps := 1.0
	if HeldModifiers()&fyne.KeyModifierShift != 0 {
		steps = 10
	}
	switch e.Name {
	case fyne.KeyRight, fyne.KeyUp:
		s.onStep(steps)
	case fyne.KeyLeft, fyne.KeyDown:
		s.onStep(-steps)
	case fyne.KeyPageUp:
		s.onStep(10)
	case fyne.KeyPageDown:
		s.onStep(-10)
	default:
		s.onKey(e)
	}
}

func HeldModifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}
