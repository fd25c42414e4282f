package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

func TestFitMarksShowsAllOfThem(t *testing.T) {
	v := photoIn(t, 400, 300) // the picture at twice its size, 192 × 142
	v.SetMarks([]Mark{{"rim", 100, 40}, {"rim", 120, 60}, {"dowel", 110, 50}})
	fitted := v.View().Scale
	v.FitMarks()
	s := &v.sight
	if v.View().Scale <= 2*fitted {
		t.Errorf("the scale went from %g to %g", fitted, v.View().Scale)
	}
	for _, m := range v.marks {
		x, y := s.transform().Apply(m.X, m.Y)
		if x < 0 || y < 0 || x > s.w || y > s.h {
			t.Errorf("%v is at %g, %g of the view", m, x, y)
		}
	}
	if x, y := s.transform().Invert(s.w/2, s.h/2); !near(x, 110, 0.1) || !near(y, 50, 0.1) {
		t.Errorf("in the middle is %g, %g", x, y)
	}
	v.SetMarks(v.marks[:1]) // one alone is shown as large as can be
	v.FitMarks()
	if v.sight.scale > mostEnlarge || v.sight.scale < mostEnlarge/2 {
		t.Errorf("one point is shown at %g", v.sight.scale)
	}
	v.SetMarks(nil)
	v.FitMarks()
	if got := v.View().Scale; !near(got, fitted, 1e-9) {
		t.Errorf("without points the scale is %g, want %g", got, fitted)
	}
	v.SetPicture(nil)
	v.FitMarks()
	v.Resize(fyne.NewSize(100, 100))
}

func TestViewIsTheOverlaysTransform(t *testing.T) {
	v := photoIn(t, 400, 300)
	if x, y := v.View().Apply(10, 20); !near(x, 28*0.75, 1e-9) || !near(y, 48*0.75, 1e-9) {
		t.Errorf("pixel 10, 20 is at %g, %g points", x, y)
	}
}
