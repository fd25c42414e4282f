package chart

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func fires(order []int, intervals ...float64) job.Job {
	return job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: order, FiringIntervalsDeg: intervals}}
}

func turning(t *testing.T, j job.Job) TurningEngine {
	t.Helper()
	e, err := NewTurningEngine(j, timing.Nose, nil)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// In a V with two rods on a pin, as many pins are drawn as there are: half as many as
// cylinders, or fewer where pins lie behind each other; in line, as many as there are
// directions. Counted by hand from the usual crankshafts (common practice, no source).
func TestEngineThrows(t *testing.T) {
	for _, c := range []struct {
		name string
		job  job.Job
		pins int
		bank timing.Deg
	}{
		{"four in line", fires([]int{1, 3, 4, 2}), 2, 0},
		{"six in line", fires([]int{1, 5, 3, 6, 2, 4}), 3, 0},
		{"five in line", fires([]int{1, 2, 4, 5, 3}), 5, 0},
		{"twin, pins together", fires([]int{1, 2}), 1, 0},
		{"V twin of 90", fires([]int{1, 2}, 270, 450), 1, 90},
		{"V6 of 90, three pins", fires([]int{1, 6, 5, 4, 3, 2}, 90, 150, 90, 150, 90, 150), 3, 90},
		{"the same from the other bank", fires([]int{1, 6, 5, 4, 3, 2}, 150, 90, 150, 90, 150, 90), 3, 90},
		{"eight, drawn in line", fires([]int{1, 8, 4, 3, 6, 5, 7, 2}), 4, 0},
	} {
		in := turning(t, c.job).At(37, 0)
		pins := map[int]bool{}
		banks := map[timing.Deg]bool{}
		for _, cyl := range in.Cylinders {
			pins[int(math.Round(float64(timing.Wrap(cyl.Bank+cyl.Throw, timing.Turn))))%360] = true
			banks[cyl.Bank] = true
		}
		if len(pins) != c.pins {
			t.Errorf("%s: pins at %v, want %d", c.name, pins, c.pins)
		}
		if want := map[bool]int{true: 2, false: 1}[c.bank > 0]; len(banks) != want || c.bank > 0 && !banks[c.bank/2] {
			t.Errorf("%s: banks at %v", c.name, banks)
		}
	}
}

// What is drawn is what the phase says: piston, stroke, valves, at every angle.
func TestEngineAgreesWithPhase(t *testing.T) {
	j := sample.Demo(t)
	e := turning(t, j)
	s, err := finding.ShiftOf(j)
	if err != nil {
		t.Fatal(err)
	}
	sprays := 0
	for at := timing.Deg(0); at < 720; at += 5 {
		p, err := finding.PhaseAt(j, at)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range e.At(at, 0).Cylinders {
			want := p.Cylinders[i]
			if c.Stroke.Text() != want.StrokeText() || math.Abs(c.DropMM-*want.PistonMM) > 0.01 {
				t.Errorf("at %g cylinder %d is drawn on %s, %g down; the phase has %s, %g", float64(at), i+1, c.Stroke.Text(), c.DropMM, want.StrokeText(), *want.PistonMM)
			}
			// Where a valve begins to open its lift is 0 still.
			if c.Intake > 0 && !*want.IntakeOpen || c.Exhaust > 0 && !*want.ExhaustOpen {
				t.Errorf("at %g a closed valve of cylinder %d is drawn open", float64(at), i+1)
			}
			if c.Spraying {
				sprays++
				after := timing.Wrap(at-timing.Deg(s.Injections[i].ActualCrankDeg), 720)
				if after > 15 {
					t.Errorf("at %g cylinder %d sprays %g after injection begins", float64(at), i+1, float64(after))
				}
			}
		}
	}
	if sprays != 6*3 { // 15 degrees are three steps of 5
		t.Errorf("%d sprays are drawn in a cycle", sprays)
	}
}
