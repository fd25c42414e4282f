package trace

import (
	"math"
	"testing"
)

// A level is told at which a signal is cut off, and none of a wave that is whole, however
// long it dwells at its crests: by the wave's own arithmetic, no source.
func TestClips(t *testing.T) {
	for _, c := range []struct {
		lo, hi, step float64
		want         []float64
	}{
		{-2, 2, 0, nil}, {-2, 2, 2. / 256, nil}, {-2, 2, 2. / 25, nil}, {-2, 2, 2. / 12, nil}, {-2, 0.32, 2. / 25, []float64{0.32}}, {-0.6, 2, 0, []float64{-0.6}}, {-2, 0.3, 0, []float64{0.3}}, {-0.5, 0.7, 0, []float64{-0.5, 0.7}},
	} {
		var h histogram
		for i := range 20000 {
			x := math.Sin(float64(i) * 0.0371)
			if c.step > 0 {
				x = math.Round(x/c.step) * c.step
			}
			h.add(min(max(x, c.lo), c.hi))
		}
		var got []float64
		for _, clip := range h.clips(clipShare) {
			got = append(got, clip.level)
		}
		if len(got) != len(c.want) {
			t.Errorf("cut off at %g and %g: %v", c.lo, c.hi, got)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("cut off at %g and %g: %v", c.lo, c.hi, got)
			}
		}
	}
}

// An inductive sensor whose signal the recorder cuts off at one end is read as one that is
// whole, and at which voltage it is cut off is said; where edges had to be moved for it that
// is said too.
func TestClippedIsSaid(t *testing.T) {
	for _, c := range []struct {
		lo   float64
		kind Kind
	}{{0.6, Clipped}, {0.15, ClippedEdges}} {
		p := steady(60, []int{59, 60}, 0, 110, 240)
		p.delta, p.camHall, p.rate, p.seconds, p.clipLo = -20, true, 20000, 2, c.lo
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Errorf("%v, %+v", err, faultsOf(a))
			continue
		}
		said := false
		for _, f := range a.Faults {
			said = said || f.Kind == c.kind && math.Abs(math.Abs(f.Value)-p.clipLo) < 0.01
		}
		if off := signed(float64(a.Correlation.Value)-p.delta, 360); !said || math.Abs(off) > 3*float64(a.Correlation.U) || a.Correlation.U > 0.6 {
			t.Errorf("cut off at %g: correlation %v, want %g; %+v", c.lo, *a.Correlation, p.delta, a.Faults)
		}
	}
}
