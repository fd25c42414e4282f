package widgets

import (
	"image"
	"runtime"
	"testing"
	"weak"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/timing/figure"
)

// A figure that is not shown any more holds no pixels, and is painted again when it
// is.
func TestDestroyedFiguresLetGoOfTheirPixels(t *testing.T) {
	test.NewTempApp(t)
	board, cycle, one, gears, light := NewBoardView(), NewCycleView(), NewFigureView(fyne.NewSize(10, 10)), NewGearsView(), NewLightView()
	heat, traces, wheel := NewMapView(), NewTraceView(), NewWheelView()
	card := NewCard("a card", func(figure.Box) figure.Drawing { return figure.Drawing{} })
	for _, c := range []struct {
		name   string
		widget fyne.Widget
		plane  *plane
	}{
		{"board", board, board.plane}, {"card", card, card.plane}, {"cycle", cycle, cycle.plane}, {"figure", one, one.plane}, {"gears", gears, gears.plane},
		{"light", light, light.plane}, {"map", heat, heat.plane}, {"traces", traces, traces.plane}, {"wheel", wheel, wheel.plane},
	} {
		renderer := test.WidgetRenderer(c.widget)
		pixels := func() weak.Pointer[image.RGBA] { return weak.Make(c.plane.paint(64, 48).(*image.RGBA)) }()
		renderer.Destroy()
		runtime.GC()
		if pixels.Value() != nil {
			t.Errorf("%s: the pixels are still held", c.name)
		}
		if again := c.plane.paint(64, 48); again.Bounds() != image.Rect(0, 0, 64, 48) {
			t.Errorf("%s: painted again at %v", c.name, again.Bounds())
		}
		runtime.KeepAlive(c.widget)
	}
}
