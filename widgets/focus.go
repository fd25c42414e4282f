package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing"
)

// keyboard is a view's part in the keyboard: the ring that shows where the keys go,
// and the way on for keys the view has no use for. It is embedded.
type keyboard struct {
	// OnKey gets the keys the view has no use for itself.
	OnKey func(*fyne.KeyEvent)

	focused bool
	ring    *canvas.Rectangle // nil before there is a renderer, and where none is wanted
}

// FocusGained implements [fyne.Focusable].
func (k *keyboard) FocusGained() { k.focus(true) }

// FocusLost implements [fyne.Focusable].
func (k *keyboard) FocusLost() { k.focus(false) }

// TypedRune implements [fyne.Focusable].
func (k *keyboard) TypedRune(rune) {}

func (k *keyboard) focus(on bool) {
	k.focused = on
	if k.ring != nil {
		k.ring.Hidden = !on
		canvas.Refresh(k.ring)
	}
}

// handOn gives a key to the view's owner.
func (k *keyboard) handOn(e *fyne.KeyEvent) {
	if k.OnKey != nil {
		k.OnKey(e)
	}
}

// newRing makes the ring, for a new renderer.
func (k *keyboard) newRing() {
	k.ring = canvas.NewRectangle(nil)
	k.ring.StrokeWidth = 2
	k.ring.CornerRadius = 4
}

// dressRing shows the ring as the theme has it, if the view has the keyboard.
func (k *keyboard) dressRing(th fyne.Theme) {
	k.ring.StrokeColor = th.Color(theme.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant())
	k.ring.Hidden = !k.focused
}

// stepper is the keyboard of a view whose arrow keys and mouse wheel move the crank.
// It is embedded.
type stepper struct {
	keyboard
	// step moves the crank, positive in the direction of rotation.
	step func(by timing.Deg)
}

// TypedKey implements [fyne.Focusable].
func (s *stepper) TypedKey(e *fyne.KeyEvent) {
	if by, ok := Step(e.Name, modifiers()); ok {
		s.step(by)
		return
	}
	s.handOn(e)
}

// Scrolled implements [fyne.Scrollable]: a degree a notch.
func (s *stepper) Scrolled(e *fyne.ScrollEvent) {
	switch d := e.Scrolled.DY + e.Scrolled.DX; {
	case d > 0:
		s.step(-1)
	case d < 0:
		s.step(1)
	}
}

// focusable is a widget that can have the keyboard.
type focusable interface {
	fyne.CanvasObject
	fyne.Focusable
}

// takeKeyboard gives a widget the keyboard; the toolkit does not do so for one that
// is clicked.
func takeKeyboard(w focusable) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(w); c != nil {
		c.Focus(w)
	}
}

// FunctionKey gives a key that means the same wherever the keyboard is to the
// window of o, and tells whether it was one.
func FunctionKey(o fyne.CanvasObject, k *fyne.KeyEvent) bool {
	switch k.Name {
	case fyne.KeyF1, fyne.KeyF5, fyne.KeyF11:
		if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(k)
		}
		return true
	}
	return false
}
