package trace

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/trace/samples"
)

// A level that changes now and then is drawn as steps, not as slopes from change to change.
func TestPictureOfSteps(t *testing.T) {
	var p Picture
	for _, b := range []samples.Block{
		{Time: []float64{0, 1, 3}, Values: [][]float64{{0, 5, 0}, {1, 1, 2}}, Steps: true},
		{Time: []float64{7, 10}, Values: [][]float64{{5, 5}, {2, 2}}, Steps: true},
	} {
		p.Add(&b)
	}
	p.Finish()
	level := func(at float64) float64 {
		switch {
		case at < 1 || at > 3 && at < 7:
			return 0
		}
		return 5
	}
	for at := 0.05; at < 9.9; at += 0.1 {
		lo, hi := p.Between(0, []float64{at, at + 0.04})
		if math.Abs(lo[0]-level(at)) > 1e-6 || math.Abs(hi[0]-level(at)) > 1e-6 {
			t.Errorf("at %.2f s from %g to %g, want %g", at, lo[0], hi[0], level(at))
		}
	}
	if lo, hi := p.Between(0, []float64{0.98, 1.02}); lo[0] != 0 || hi[0] != 5 {
		t.Errorf("the change goes from %g to %g", lo[0], hi[0])
	}
	if from, to := p.Seconds(); from != 0 || to != 10 {
		t.Errorf("from %g to %g s", from, to)
	}
	// Laid over itself every 10 degrees, a second being one: the same.
	f := p.Fold(10, 100, func(s float64) (float64, bool) { return s, s < 10 })
	for _, at := range []float64{0.5, 2, 2.9, 4, 6.5, 8} {
		lo, hi := f.Over(0, at, at+0.1)
		if math.Abs(lo-level(at)) > 1e-6 || math.Abs(hi-level(at)) > 1e-6 {
			t.Errorf("folded at %g from %g to %g, want %g", at, lo, hi, level(at))
		}
	}
}

// However the samples are cut into blocks the picture is the same, and its extents are
// those of the samples.
func TestPictureOfBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "n")
		per := 1 << rapid.IntRange(0, 4).Draw(t, "per")
		values := make([]float64, n)
		for i := range values {
			values[i] = rapid.Float64Range(-9, 9).Draw(t, "v")
			if rapid.IntRange(0, 9).Draw(t, "lost") == 0 {
				values[i] = math.NaN()
			}
		}
		p := Picture{per: per, channels: make([]picturedChannel, 1)}
		for from := 0; from < n; {
			to := min(from+rapid.IntRange(1, 70).Draw(t, "rows"), n)
			b := samples.Block{Values: [][]float64{values[from:to]}}
			for i := from; i < to; i++ {
				b.Time = append(b.Time, float64(i))
			}
			p.Add(&b)
			from = to
		}
		p.Finish()
		for _, q := range []*Picture{&p, p.Glimpse(rapid.IntRange(1, 50).Draw(t, "most"))} {
			for k, at := range q.time {
				end := n
				if k+1 < len(q.time) {
					end = int(q.time[k+1])
				}
				e := nothing
				for _, v := range values[int(at):end] {
					if v == v {
						e = e.with(Extent{float32(v), float32(v)})
					}
				}
				if got := q.channels[0].bins[k]; got != e && !(got.Empty() && e.Empty()) {
					t.Fatalf("bin %d from %g to %d is %v, want %v", k, at, end, got, e)
				}
			}
			if q.end != float64(n-1) {
				t.Fatalf("the end is at %g, want %d", q.end, n-1)
			}
		}
	})
}
