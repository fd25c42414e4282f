package cause

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
)

func place(wheel, cam float64) Placement {
	return Placement{timing.Measured{Value: timing.Deg(wheel), U: 1}, &timing.Measured{Value: timing.Deg(wheel - cam), U: 0.15}}
}

// A wheel 88 degrees behind on an even six looks like one 32 ahead with the cam 120
// ahead: one mistake is more probable than two. Hand reasoning by the table of faults:
// four of them put a wheel anywhere, and two must meet by chance for the others.
func TestPlacementsPreferOneMistake(t *testing.T) {
	e := Engine{Strokes: 4, Interval: 120, CrankTeeth: 36, Positions: 60}
	p := Placements(e, []Placement{place(32, 120), place(-88, 0), place(152, 240), place(-88, 360)})
	if p[1] < 0.95 {
		t.Errorf("a wheel alone behind by 88 has %.3f of %v", p[1], p)
	}
	sum := 0.0
	for _, x := range p {
		sum += x
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("they add up to %g", sum)
	}
}

// A cam one tooth out beats any two mistakes; of a wheel alone the small error is the
// more probable, and nothing is sure.
func TestPlacementsByTheirFaults(t *testing.T) {
	e := Engine{Strokes: 4, Interval: 180, CrankTeeth: 36, Positions: 60}
	if p := Placements(e, []Placement{place(0.5, 10.5), place(-179.5, -169.5), place(0.5, -349.5)}); p[0] < 0.95 {
		t.Errorf("a cam gear one tooth out: %v", p)
	}
	alone := func(v float64) Placement { return Placement{Wheel: timing.Measured{Value: timing.Deg(v), U: 1}} }
	if p := Placements(e, []Placement{alone(-28), alone(152)}); p[0] < p[1] || p[0] > 0.95 {
		t.Errorf("28 behind or 152 ahead: %v", p)
	}
}
