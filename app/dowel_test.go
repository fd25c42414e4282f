package app

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
)

// byMethod are the ways in which the demo's dowel may have been measured, all of
// them 14 degrees behind the keyway.
var byMethod = map[string]string{
	"angle":  `{ angle_deg = 14.0, side = "anticlockwise" }`,
	"chord":  `{ method = "chord", chord_mm = 16.18, dowel_radius_mm = 41.0, keyway_radius_mm = 27.0, side = "anticlockwise" }`,
	"arc":    `{ method = "arc", arc_mm = 10.018, rim_radius_mm = 41.0, side = "anticlockwise" }`,
	"xy":     `{ method = "xy", centre = [100, 50], keyway = [127, 50], dowel = [139.782, 59.919] }`,
	"behind": `{ angle_deg = 14.0, side = "clockwise", seen_from = "flywheel" }`,
}

// measuredBy returns the demo job with its dowel measured otherwise.
func measuredBy(reading string) string {
	var out []string
	section := ""
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if strings.HasPrefix(line, "[") {
			section = strings.Fields(line)[0]
		}
		if section == "[dowel]" && strings.HasPrefix(line, "measured") {
			line = "measured = " + reading
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

func measuredAt(t *testing.T, u *ui) float64 {
	t.Helper()
	p, err := finding.PartOf(u.Session.Job())
	if err != nil {
		t.Fatal(err)
	}
	return *p.Dowel.MeasuredDeg
}

// slideTo drags the slider's knob to where a value is.
func slideTo(u *ui, v float64) {
	s := cycleOf(u).dowel.slider
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

func TestSliderMovesTheDowelByEveryMethod(t *testing.T) {
	for name, reading := range byMethod {
		t.Run(name, func(t *testing.T) {
			u := on(t, measuredBy(reading))
			was := u.Session.Job()
			if got := measuredAt(t, u); math.Abs(got+14) > 0.05 {
				t.Fatalf("the job's dowel is at %g", got)
			}
			before := painted(cycleOf(u).wheel) + painted(cycleOf(u).cycle)
			for _, want := range []float64{-9, 14, 3.5} {
				slideTo(u, want)
				if got := measuredAt(t, u); math.Abs(got-want) > 0.2 {
					t.Errorf("dragged to %g, the dowel is at %g", want, got)
				}
			}
			cycleOf(u).dowel.slider.DragEnd()
			if got, want := u.Session.Job().Dowel.Measured.Method, was.Dowel.Measured.Method; got != want {
				t.Errorf("the method is now %q, was %q", got, want)
			}
			if len(u.Session.Faults()) > 0 {
				t.Errorf("the job has the faults %v", u.Session.Faults())
			}
			if painted(cycleOf(u).wheel)+painted(cycleOf(u).cycle) == before {
				t.Error("the figures have not moved")
			}
			if !strings.HasPrefix(cycleOf(u).dowel.words.Text, "3.5° ahead of the keyway, drawn 14° ahead") {
				t.Errorf("beside the slider stands %q", cycleOf(u).dowel.words.Text)
			}
			one := u.Session.Job()
			slideTo(u, 20)
			cycleOf(u).dowel.slider.DragEnd()
			u.Undo() // a drag is one step, two drags are two
			is(t, u, one)
			u.Undo()
			is(t, u, was)
			if u.Session.CanUndo() {
				t.Error("two drags are more than two steps")
			}
			if got := cycleOf(u).dowel.slider.Value; math.Abs(got+14) > 0.05 {
				t.Errorf("undone, the slider stands at %g", got)
			}
		})
	}
}

func TestSliderByKeysPassesTheKeyway(t *testing.T) {
	for _, name := range []string{"angle", "arc", "xy", "behind"} { // near the keyway's line a chord tells nothing so small
		t.Run(name, func(t *testing.T) {
			u := on(t, measuredBy(byMethod[name]))
			slideTo(u, -0.3)
			for range 10 {
				cycleOf(u).dowel.slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			}
			if got := measuredAt(t, u); math.Abs(got-0.7) > 0.1 {
				t.Errorf("ten tenths on from −0.3° the dowel is at %g°", got)
			}
			for range 10 {
				cycleOf(u).dowel.slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
			}
			if got := measuredAt(t, u); math.Abs(got+0.3) > 0.1 {
				t.Errorf("ten tenths back it is at %g°", got)
			}
		})
	}
}

func TestSliderIsOffWithoutAReading(t *testing.T) {
	u := on(t, byHand)
	if !cycleOf(u).dowel.slider.Disabled() || cycleOf(u).dowel.words.Text != "no dowel measured" {
		t.Errorf("beside it stands %q", cycleOf(u).dowel.words.Text)
	}
	u.openDemo()
	if cycleOf(u).dowel.slider.Disabled() {
		t.Error("with a reading it stays off")
	}
}

func TestSliderReachesAFarDowel(t *testing.T) {
	u := on(t, measuredBy(`{ angle_deg = 170, side = "anticlockwise" }`))
	if s := cycleOf(u).dowel.slider; s.Value != -170 || s.Min > -170 {
		t.Errorf("the slider stands at %g of %g to %g", s.Value, s.Min, s.Max)
	}
}
