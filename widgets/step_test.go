package widgets

import (
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing"
)

func TestStep(t *testing.T) {
	for _, tt := range []struct {
		key  fyne.KeyName
		mods fyne.KeyModifier
		want timing.Deg
		ok   bool
	}{
		{fyne.KeyRight, 0, 1, true},
		{fyne.KeyUp, 0, 1, true},
		{fyne.KeyLeft, 0, -1, true},
		{fyne.KeyDown, 0, -1, true},
		{fyne.KeyRight, fyne.KeyModifierShift, 10, true},
		{fyne.KeyLeft, fyne.KeyModifierShift, -10, true},
		{fyne.KeyRight, fyne.KeyModifierControl, 0.1, true},
		{fyne.KeyLeft, fyne.KeyModifierSuper, -0.1, true},
		{fyne.KeyLeft, fyne.KeyModifierShift | fyne.KeyModifierControl, -10, true},
		{fyne.KeyHome, 0, 0, false},
		{fyne.KeySpace, fyne.KeyModifierShift, 0, false},
	} {
		if got, ok := Step(tt.key, tt.mods); got != tt.want || ok != tt.ok {
			t.Errorf("%s with %d: %v, %v, want %v, %v", tt.key, tt.mods, got, ok, tt.want, tt.ok)
		}
	}
}

func TestTidy(t *testing.T) {
	for _, tt := range []struct {
		d          timing.Deg
		degPerUnit float64
		want       timing.Deg
	}{
		{12.34, 1, 12},
		{12.5, 1, 13},
		{-12.34, 1, -12},
		{12.34, 0.16, 12},
		{12.34, 0.15, 12.3},
		{12.36, 0.01, 12.4},
		{0.04, 0.1, 0},
	} {
		if got := Tidy(tt.d, tt.degPerUnit); got-tt.want > 1e-9 || tt.want-got > 1e-9 {
			t.Errorf("%v at %g a unit is %v, want %v", tt.d, tt.degPerUnit, got, tt.want)
		}
	}
}
