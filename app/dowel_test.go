package app

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/finding"
)

var byMethod, measuredBy = desktest.ByMethod, desktest.MeasuredBy

func measuredAt(t *testing.T, u *ui) float64 {
	t.Helper()
	p, err := finding.PartOf(u.Session.Job())
	if err != nil {
		t.Fatal(err)
	}
	return *p.Dowel.MeasuredDeg
}

// supposedAt is where the dowel is supposed.
func supposedAt(t *testing.T, u *ui) float64 {
	t.Helper()
	wheel := u.Supposed().WheelErrorDeg
	if wheel == nil {
		t.Fatal("nothing is supposed")
	}
	at, ok := desk.DowelAt(u.Known(), *wheel)
	if !ok {
		t.Fatal("the dowel has no place")
	}
	return float64(at)
}

// slideTo drags the slider's knob to where a value is.
func slideTo(u *ui, v float64) {
	s := cycleOf(u).Dowel.Slider
	at := func(x float32) float32 {
		e := &fyne.DragEvent{}
		e.Position = fyne.NewPos(x, 5)
		s.Dragged(e)
		return float32(s.Value)
	}
	x0, x1 := s.Size().Width/4, s.Size().Width*3/4
	v0, v1 := at(x0), at(x1)
	at(x0 + (float32(v)-v0)*(x1-x0)/(v1-v0))
}

// The slider supposes the dowel elsewhere, whatever way it was measured: the figures
// follow and the job does not. Put into the job, the reading is one of the same method.
func TestSliderSupposesTheDowelByEveryMethod(t *testing.T) {
	for name, reading := range byMethod {
		t.Run(name, func(t *testing.T) {
			u := on(t, measuredBy(reading))
			was := u.Session.Job()
			if got := measuredAt(t, u); math.Abs(got+14) > 0.05 {
				t.Fatalf("the job's dowel is at %g", got)
			}
			before := painted(cycleOf(u).Wheel) + painted(cycleOf(u).Cycle)
			for _, want := range []float64{-9, 14, 3.5} {
				slideTo(u, want)
				if got := supposedAt(t, u); math.Abs(got-want) > 0.2 {
					t.Errorf("dragged to %g, the dowel is supposed at %g", want, got)
				}
			}
			cycleOf(u).Dowel.Slider.DragEnd()
			if painted(cycleOf(u).Wheel)+painted(cycleOf(u).Cycle) == before {
				t.Error("the figures have not moved")
			}
			if !strings.HasPrefix(cycleOf(u).Dowel.Words.Text, "3.5° ahead of the keyway, what-if; drawn 14° ahead") {
				t.Errorf("beside the slider stands %q", cycleOf(u).Dowel.Words.Text)
			}
			is(t, u, was)
			if u.Session.CanUndo() || u.Session.Dirty() {
				t.Error("the job has another step")
			}
			test.Tap(u.head.suppose.keep)
			if got := measuredAt(t, u); math.Abs(got-3.5) > 0.2 {
				t.Errorf("put into the job the dowel is measured at %g", got)
			}
			if got, want := u.Session.Job().Dowel.Measured.Method, was.Dowel.Measured.Method; got != want {
				t.Errorf("the method is now %q, was %q", got, want)
			}
			if len(u.Session.Faults()) > 0 || u.Supposes() {
				t.Errorf("the job has the faults %v", u.Session.Faults())
			}
			u.Undo()
			is(t, u, was)
			if u.Session.CanUndo() {
				t.Error("it is more than one step")
			}
			if got := cycleOf(u).Dowel.Slider.Value; math.Abs(got+14) > 0.05 {
				t.Errorf("undone, the slider stands at %g", got)
			}
		})
	}
}

func TestSliderByKeysPassesTheKeyway(t *testing.T) {
	for name, reading := range byMethod {
		t.Run(name, func(t *testing.T) {
			u := on(t, measuredBy(reading))
			slideTo(u, -0.3)
			for range 10 {
				cycleOf(u).Dowel.Slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			}
			if got := supposedAt(t, u); math.Abs(got-0.7) > 0.1 {
				t.Errorf("ten tenths on from −0.3° the dowel is at %g°", got)
			}
			for range 10 {
				cycleOf(u).Dowel.Slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
			}
			if got := supposedAt(t, u); math.Abs(got+0.3) > 0.1 {
				t.Errorf("ten tenths back it is at %g°", got)
			}
		})
	}
}

// Without a drawing nobody knows what wheel error a dowel's place would be. Without a
// reading it can be supposed; put into the job it is an angle that was read off.
func TestSliderNeedsTheDrawing(t *testing.T) {
	u := on(t, byHand)
	if !cycleOf(u).Dowel.Slider.Disabled() || cycleOf(u).Dowel.Words.Text != "no drawing of the dowel" {
		t.Errorf("beside it stands %q", cycleOf(u).Dowel.Words.Text)
	}
	u.openFile(file(t, "unmeasured.toml", without("measured")))
	if cycleOf(u).Dowel.Slider.Disabled() {
		t.Fatal("with a drawing it stays off")
	}
	contains(t, "beside the slider", cycleOf(u).Dowel.Words.Text, "as drawn, not measured")
	slideTo(u, 3.5)
	test.Tap(u.head.suppose.keep)
	if r := u.Session.Job().Dowel.Measured; r == nil || r.Method != "angle" || math.Abs(measuredAt(t, u)-3.5) > 0.2 {
		t.Errorf("put into the job the reading is %+v", r)
	}
	u.openDemo()
}

// A wheel error that no reading can stand for stays supposed, and why is said.
func TestAWheelErrorWithoutADrawingStaysSupposed(t *testing.T) {
	u := on(t, byHand)
	wheel := 5.0
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = &wheel })
	was := u.Session.Job()
	u.KeepSupposed()
	is(t, u, was)
	contains(t, "the window", said(u), "The wheel error stays a what-if")
	if w := u.Supposed().WheelErrorDeg; w == nil || *w != 5 {
		t.Error("it is supposed no longer")
	}
}

func TestSliderReachesAFarDowel(t *testing.T) {
	u := on(t, measuredBy(`{ angle_deg = 170, side = "anticlockwise" }`))
	if s := cycleOf(u).Dowel.Slider; s.Value != -170 || s.Min > -170 {
		t.Errorf("the slider stands at %g of %g to %g", s.Value, s.Min, s.Max)
	}
}
