package cycle

import (
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk/desktest"
)

// TestCylinderIsChosenOnTheEngine: by a click on the drawn engine, by its number and by
// its name in the cycle figure; the crankshaft goes to its firing TDC. The demo job fires
// 1-5-3-6-2-4 every 120°: No. 3 at 240, No. 5 at 120, No. 6 at 360.
func TestCylinderIsChosenOnTheEngine(t *testing.T) {
	u := desktest.New(t, Kind)
	u.Window.Resize(fyne.NewSize(1366, 768))
	u.OpenPage(Kind.Name, "")
	p := u.Page.(*Page)
	at := func(what string, chosen int, want float64) {
		t.Helper()
		if u.Chosen != chosen || float64(u.At) != want {
			t.Errorf("%s: cylinder %d is chosen and the crankshaft at %g, want %d and %g", what, u.Chosen, float64(u.At), chosen, want)
		}
	}
	p.Results.content.Select(p.Results.drawn)
	v := p.Results.Engine
	for x := float32(0); x < v.Size().Width && u.Chosen != 3; x += 9 {
		v.Tapped(&fyne.PointEvent{Position: fyne.NewPos(x, v.Size().Height/2)})
	}
	at("a click", 3, 240)
	v.TypedRune('5')
	at("its number", 5, 120)
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	at("the arrow down", 6, 360)
	p.Cycle.OnRow(1)
	at("its name in the cycle figure", 1, 0)
	p.Cycle.OnRow(1)
	at("once more, which lets it go", 0, 0)
}
