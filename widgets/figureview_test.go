package widgets

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing/figure"
)

func TestFigureViewDrawsForItsRoom(t *testing.T) {
	test.NewTempApp(t)
	v := NewFigureView(fyne.NewSize(120, 80))
	var boxes []figure.Box
	drawn := func(role figure.Role) func(figure.Box) figure.Drawing {
		return func(box figure.Box) figure.Drawing {
			boxes = append(boxes, box)
			return square(role)(box)
		}
	}
	v.SetFigure("a part", drawn(figure.Measured))
	if len(boxes) != 0 {
		t.Error("drawn before there is room")
	}
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 300))
	if n := len(boxes); n == 0 || !near(boxes[n-1].W, 300, 1e-4) || !near(boxes[n-1].H, 225, 1e-4) { // 400 × 300 units in points
		t.Fatalf("drawn for %+v", boxes)
	}
	if v.MinSize() != fyne.NewSize(120, 80) || v.AccessibilityLabel() != "a part" {
		t.Errorf("it asks for %v and is called %q", v.MinSize(), v.AccessibilityLabel())
	}
	at := func() any {
		return v.plane.raster.Generator(400, 300).(*image.RGBA).RGBAAt(200, 150)
	}
	if got, want := at(), styleOf(v.Theme()).Color(figure.Measured); got != any(want) {
		t.Errorf("painted %v, want %v", got, want)
	}
	before := len(boxes)
	w.Resize(fyne.NewSize(400, 300))
	at()
	if len(boxes) != before {
		t.Error("drawn anew for the same room")
	}
	w.Resize(fyne.NewSize(500, 300))
	if !near(boxes[len(boxes)-1].W, 375, 1e-4) {
		t.Errorf("in more room drawn for %+v", boxes[len(boxes)-1])
	}
	test.ApplyTheme(t, always{theme.DefaultTheme(), theme.VariantDark})
	v.SetFigure("another", drawn(figure.Warning))
	if got, want := at(), styleOf(v.Theme()).Color(figure.Warning); got != any(want) || v.AccessibilityLabel() != "another" {
		t.Errorf("painted %v, want %v", got, want)
	}
	v.SetFigure("", nil)
	if got := at(); got == any(styleOf(v.Theme()).Color(figure.Warning)) {
		t.Error("without a figure the old one stays")
	}
}
