package trace

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing/trace/edges"
)

// A slope lost in noise has no flank. It makes no other unknown, and no uncertainty.
func TestFlanksNotKnown(t *testing.T) {
	nan := math.NaN()
	k := clock{t: []float64{0, 1}, angle: []float64{0, 360}, slope: []float64{360, 360}}
	list := []edges.Edge{{At: 0.1, Flank: float32(nan)}, {At: 0.5, Flank: 0.01}, {At: 0.6, Flank: 0.01}}
	if d := flankDeg(k, list); math.Abs(d-3.6) > 1e-4 {
		t.Errorf("half a flank of 10 ms at 360 degrees a second: %v degrees", d)
	}
	if d := flankDeg(k, list[:1]); d == d {
		t.Errorf("no flank is known, yet it is %v degrees", d)
	}
	for _, c := range []struct{ a, b, want float64 }{{1, 2, 1}, {2, 1, 1}, {nan, 3, 3}, {3, nan, 3}, {nan, nan, 0}} {
		if got := shorter([2]float64{c.a, c.b}); got != c.want {
			t.Errorf("the shorter of %v and %v: %v", c.a, c.b, got)
		}
	}
}
