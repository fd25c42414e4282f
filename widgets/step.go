package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/timing"
)

// Step returns by how much an arrow key moves the crank: 1 degree, 10 with
// Shift, a tenth with Ctrl. ok is false for any other key.
func Step(key fyne.KeyName, mods fyne.KeyModifier) (step timing.Deg, ok bool) {
	step = 1
	switch {
	case mods&fyne.KeyModifierShift != 0:
		step = 10
	case mods&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0:
		step = 0.1
	}
	switch key {
	case fyne.KeyLeft, fyne.KeyDown:
		return -step, true
	case fyne.KeyRight, fyne.KeyUp:
		return step, true
	}
	return 0, false
}

// Tidy rounds an angle that was pointed at to what pointing can tell: tenths of
// a degree where a unit of the screen is finer than that, whole degrees where it
// is not.
func Tidy(d timing.Deg, degPerUnit float64) timing.Deg {
	grain := 1.0
	if degPerUnit <= 0.15 {
		grain = 0.1
	}
	return timing.Deg(math.Round(float64(d)/grain) * grain)
}

// modifiers returns the keys held down now; none where the driver cannot tell.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}
