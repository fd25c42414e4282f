package chart

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func TestNextFiring(t *testing.T) {
	t.Parallel()
	six := "[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n"
	one := "[engine]\nstrokes = 2\nfiring_order = [1]\n"
	uneven := "[engine]\nstrokes = 4\nfiring_order = [1, 2]\nfiring_intervals_deg = [315, 405]\n"
	for _, c := range []struct {
		job  string
		at   timing.Deg
		dir  int
		want timing.Deg
	}{
		{six, 0, 1, 120}, {six, 0, -1, 600}, {six, 1, -1, 0}, {six, 119.9, 1, 120}, {six, 650, 1, 0}, {six, -1, 1, 0}, {six, 1000, -1, 240},
		{one, 0, 1, 0}, {one, 0, -1, 0}, {one, 200, 1, 0},
		{uneven, 0, 1, 315}, {uneven, 315, 1, 0}, {uneven, 315, -1, 0}, {uneven, 0, -1, 315},
	} {
		if got, ok := NextFiring(sample.Read(t, c.job), c.at, c.dir); !ok || got != c.want {
			t.Errorf("from %g in direction %d: %g, %v; want %g", float64(c.at), c.dir, float64(got), ok, float64(c.want))
		}
	}
	if _, ok := NextFiring(job.Job{}, 0, 1); ok {
		t.Error("a job without an engine fires")
	}
}

// Stepping on from any angle visits every cylinder's dead centre once, in firing
// order, and the same steps back lead where they began.
func TestSteppingThroughTheFirings(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, timing.MaxCylinders).Draw(t, "cylinders")
		numbers := make([]int, n)
		for i := range numbers {
			numbers[i] = i + 1
		}
		j := job.Job{Engine: job.Engine{Strokes: rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes"), FiringOrder: rapid.Permutation(numbers).Draw(t, "order")}}
		cycle := timing.CycleOf(j.Engine.Strokes)
		at := timing.Deg(rapid.Float64Range(-1000, 1000).Draw(t, "at"))
		start, ok := NextFiring(j, at, 1)
		if !ok {
			t.Fatal("no firing")
		}
		seen := map[timing.Deg]bool{}
		now := start
		for range n {
			if seen[now] {
				t.Fatalf("%g comes twice", float64(now))
			}
			seen[now] = true
			next, _ := NextFiring(j, now, 1)
			if way := timing.Wrap(next-now, cycle); n > 1 && math.Abs(float64(way-cycle/timing.Deg(n))) > 1e-6 {
				t.Fatalf("from %g to %g", float64(now), float64(next))
			}
			if back, _ := NextFiring(j, next, -1); back != now {
				t.Fatalf("from %g back to %g, not %g", float64(next), float64(back), float64(now))
			}
			now = next
		}
		if now != start {
			t.Fatalf("round the cycle from %g to %g", float64(start), float64(now))
		}
	})
}
