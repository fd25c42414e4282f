package app

import (
	"testing"

	"fyne.io/fyne/v2"
)

func TestTextFitsTheScreenUntilChosen(t *testing.T) {
	u := window(t)
	at := func(width, height float32) float32 {
		u.Window.Resize(fyne.NewSize(width, height))
		u.fitText()
		return u.Look.Scale
	}
	for _, c := range []struct{ width, height, want float32 }{
		{1024, 640, 1}, {1920, 1080, 1}, {2560, 1400, 1.25}, {3840, 2100, 2}, {1280, 2160, 1}, {1280, 800, 1},
	} {
		if got := at(c.width, c.height); got != c.want {
			t.Errorf("at %g by %g the text size is %g, want %g", c.width, c.height, got, c.want)
		}
	}
	u.stepTextSize(+1)
	if got := at(3840, 2100); got != 1.25 {
		t.Errorf("1.25 was chosen, the text size is %g", got)
	}
	u.resetSettings()
	if u.Look.Scale != 2 {
		t.Errorf("with all choices forgotten it is %g", u.Look.Scale)
	}
}
