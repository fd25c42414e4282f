package figure

import (
	"math"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
)

// TestValvesLieOnTheirAxis: every opening lies whole on the axis, and the shade where both
// are open lies in both of them and is as wide as the angle says.
func TestValvesLieOnTheirAxis(t *testing.T) {
	t.Parallel()
	box := Box{W: 842, H: 440}
	for name, c := range map[string]struct {
		cycle           timing.Deg
		intake, exhaust timing.Span
	}{
		"usual":                                 {720, timing.Span{From: 346, To: 576}, timing.Span{From: 132, To: 372}},
		"intake closes 105° ABDC":               {720, timing.Span{From: 346, To: 645}, timing.Span{From: 132, To: 372}},
		"exhaust opens 100° BBDC":               {720, timing.Span{From: 346, To: 576}, timing.Span{From: 80, To: 372}},
		"two-stroke, about BDC":                 {360, timing.Span{From: 128, To: 232}, timing.Span{From: 96, To: 238}},
		"two-stroke, both open across TDC":      {360, timing.Span{From: 300, To: 420}, timing.Span{From: 100, To: 390}},
		"two-stroke, given a turn after":        {360, timing.Span{From: 128, To: 232}, timing.Span{From: 350, To: 600}},
		"two-stroke, they meet in the next one": {360, timing.Span{From: 20, To: 100}, timing.Span{From: 270, To: 400}},
	} {
		in := ValvesInput{Cycle: c.cycle, Intake: &c.intake, Exhaust: &c.exhaust, TDC: "TDC", BDC: "BDC", FiringTDC: "firing TDC", Overlap: "overlap"}
		both, ok := c.intake.Meet(c.exhaust, c.cycle)
		if !ok {
			t.Fatalf("%s: they never meet", name)
		}
		in.Both = &both
		rects := map[string]Rect{}
		d := Valves(in, box)
		for _, h := range d.Hits {
			rects[h.Name] = h.Rect
		}
		intake, exhaust, shade := rects["intake"], rects["exhaust"], rects["overlap"]
		left, right := 0.0, 0.0
		for _, s := range d.Shapes {
			if p, ok := s.(Path); ok && p.Stroke == Ink && p.Weight == Fine { // the base line
				left, right = p.Segs[0].X, p.Segs[1].X
			}
		}
		for what, r := range rects {
			if r.X < left || r.W <= 0 || r.Right() > right {
				t.Errorf("%s: %s from %.1f to %.1f, the axis from %.1f to %.1f", name, what, r.X, r.Right(), left, right)
			}
		}
		if shade.X < max(intake.X, exhaust.X)-0.01 || shade.Right() > min(intake.Right(), exhaust.Right())+0.01 {
			t.Errorf("%s: the shade %.1f to %.1f is not in both %.1f to %.1f and %.1f to %.1f", name, shade.X, shade.Right(), intake.X, intake.Right(), exhaust.X, exhaust.Right())
		}
		if got, want := shade.W/intake.W, float64((both.To-both.From)/(c.intake.To-c.intake.From)); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: the shade is %.3f of the intake, want %.3f", name, got, want)
		}
		at := c.cycle + 200 // a whole cycle on
		in.Cursor = &at
		on := Valves(in, box).String()
		at -= c.cycle
		if on != Valves(in, box).String() || strings.Count(on, "\n") <= strings.Count(d.String(), "\n") {
			t.Errorf("%s: a cycle on the cursor is elsewhere, or is not drawn", name)
		}
	}
}
