package wheel

import (
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// How often a turn looks the same, by hand; teeth 12 in the third row is a mark
// among evenly spaced ones.
func TestRepeats(t *testing.T) {
	for _, c := range []struct {
		teeth    []timing.CamDeg
		repeats  int
		narrow   timing.CamDeg
		describe string
	}{
		{[]timing.CamDeg{0}, 1, 360, "one tooth"},
		{[]timing.CamDeg{0, 90, 180, 270}, 4, 90, "four evenly spaced"},
		{[]timing.CamDeg{0, 60, 120, 180, 240, 300, 330}, 1, 30, "six and a mark"},
		{[]timing.CamDeg{0, 40, 180, 220}, 2, 40, "two pairs"},
		{[]timing.CamDeg{0, 119.8, 240.2}, 3, 119.8, "three, as well as a saw cuts them"},
		{[]timing.CamDeg{0, 118, 240}, 1, 118, "three, one of them two degrees off"},
		{[]timing.CamDeg{0, 170}, 1, 170, "two that are not opposite"},
	} {
		cam := Cam{Teeth: c.teeth, Cycle: 720}
		if got := cam.Repeats(); got != c.repeats {
			t.Errorf("%s: %d times, want %d", c.describe, got, c.repeats)
		}
		if got := cam.Narrowest(); got < c.narrow-1e-9 || got > c.narrow+1e-9 {
			t.Errorf("%s: narrowest way %g, want %g", c.describe, float64(got), float64(c.narrow))
		}
	}
	for _, c := range []struct {
		positions int
		missing   []int
		repeats   int
	}{{60, []int{59, 60}, 1}, {12, nil, 12}, {36, []int{12, 24, 36}, 3}, {36, []int{12, 36}, 1}, {24, []int{12, 24}, 2}} {
		if got := (Crank{Positions: c.positions, Missing: c.missing}).Repeats(); got != c.repeats {
			t.Errorf("%d with %v missing: %d times, want %d", c.positions, c.missing, got, c.repeats)
		}
	}
}

// Turning a wheel by the share that it repeats by brings each tooth to where
// another was.
func TestRepeatingIsTurning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times := rapid.IntRange(1, 6).Draw(t, "times")
		var teeth []timing.CamDeg
		within := rapid.IntRange(1, 4).Draw(t, "teeth each")
		for i := range times {
			at := 360 * float64(i) / float64(times)
			for k := range within {
				teeth = append(teeth, timing.CamDeg(at+float64(k*k)*360/float64(times)/20))
			}
		}
		if got := (Cam{Teeth: teeth}).Repeats(); got%times != 0 {
			t.Fatalf("%v repeats %d times, made to repeat %d", teeth, got, times)
		}
	})
}
