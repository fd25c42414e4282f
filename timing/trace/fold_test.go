package trace

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/trace/samples"
)

// sampled makes a picture of one channel of n samples, a second apart.
func sampled(n int, value func(t float64) float64) *Picture {
	p := new(Picture)
	b := samples.Block{Values: [][]float64{nil}}
	for i := range n {
		b.Time = append(b.Time, float64(i))
		b.Values[0] = append(b.Values[0], value(float64(i)))
	}
	p.Add(&b)
	p.Finish()
	return p
}

// Between shows the line from sample to sample: as many columns as one likes,
// between samples too; hand values of a saw that rises by 2 a second.
func TestBetween(t *testing.T) {
	p := sampled(10, func(t float64) float64 { return 2 * math.Mod(t, 4) })
	for _, c := range []struct {
		name   string
		times  []float64
		lo, hi []float64
	}{
		{"on samples", []float64{0, 1, 2, 3}, []float64{0, 2, 4}, []float64{2, 4, 6}},
		{"between samples", []float64{0.25, 0.5, 0.75}, []float64{0.5, 1}, []float64{1, 1.5}},
		{"over the fall", []float64{2.5, 3.5}, []float64{3}, []float64{6}},
		{"all of it", []float64{0, 9}, []float64{0}, []float64{6}},
		{"beyond its ends", []float64{-3, -2, 0.5, 8.5, 12}, []float64{nan(), 0, 0, 1}, []float64{nan(), 1, 6, 2}},
		{"nowhere", []float64{1, nan(), 2, 2}, []float64{nan(), nan(), 4}, []float64{nan(), nan(), 4}},
		{"none", nil, nil, nil},
	} {
		lo, hi := p.Between(0, c.times)
		if !alike(lo, c.lo) || !alike(hi, c.hi) {
			t.Errorf("%s: %v to %v, want %v to %v", c.name, lo, hi, c.lo, c.hi)
		}
	}
}

func nan() float64 { return math.NaN() }

func alike(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.IsNaN(a[i]) != math.IsNaN(b[i]) || math.Abs(a[i]-b[i]) > 1e-6 {
			return false
		}
	}
	return true
}

// A recording that repeats every cycle folds to one cycle of itself; what one
// cycle alone shows is seen too.
func TestFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		perCycle := rapid.IntRange(20, 300).Draw(t, "samples a cycle")
		cycles := rapid.IntRange(2, 12).Draw(t, "cycles")
		wave := func(at float64) float64 { return math.Sin(at * math.Pi / 180) }
		odd := rapid.IntRange(1, cycles-1).Draw(t, "odd cycle")
		angle := func(s float64) float64 { return s * 720 / float64(perCycle) }
		p := sampled(perCycle*cycles+1, func(s float64) float64 {
			if a := angle(s); math.Floor(a/720) == float64(odd) && math.Mod(a, 720) > 300 && math.Mod(a, 720) < 360 {
				return 5
			}
			return wave(angle(s))
		})
		f := p.Fold(720, 720, func(s float64) (float64, bool) { return angle(s), true })
		if f.Cycle() != 720 || math.Abs(float64(f.Whole(0).Lo)+1) > 0.2 {
			t.Fatalf("folds to %g, down to %g", f.Cycle(), f.Whole(0).Lo)
		}
		turn := 720 * float64(rapid.IntRange(-2, 2).Draw(t, "turn"))
		at := rapid.Float64Range(0, 719).Draw(t, "at")
		lo, hi := f.Between(0, []float64{turn + at, turn + at + 1})
		step := 720 / float64(perCycle)
		slack := 2*step*math.Pi/180 + 0.05
		if clear := at < 300-2*step || at > 360+2*step; clear && (math.IsNaN(lo[0]) || math.Abs(lo[0]-wave(at)) > slack || math.Abs(hi[0]-wave(at)) > slack) {
			t.Fatalf("at %g it is %g to %g, want %g", at, lo[0], hi[0], wave(at))
		}
		if at > 300+2*step && at < 358-2*step && hi[0] != 5 {
			t.Fatalf("at %g one cycle shows 5, folded up to %g", at, hi[0])
		}
		if lo, hi := f.Between(0, []float64{-400, 900}); lo[0] > -0.8 || hi[0] != 5 {
			t.Fatalf("all of it is %g to %g", lo[0], hi[0])
		}
	})
}

// A curve that is given over a cycle goes on through all of them; hand values.
func TestNewFolded(t *testing.T) {
	f := NewFolded(4, []float64{0, 2, 4, 2, 0})
	for _, c := range []struct{ a, b, lo, hi float64 }{{0, 1, 0, 2}, {1.2, 1.4, 2, 4}, {3, 5, 0, 2}, {-7, -6, 2, 4}, {-1, 30, 0, 4}} {
		if lo, hi := f.Over(0, c.a, c.b); lo != c.lo || hi != c.hi {
			t.Errorf("%g to %g: %g to %g, want %g to %g", c.a, c.b, lo, hi, c.lo, c.hi)
		}
	}
	if lo, _ := f.Over(0, 2, 1); !math.IsNaN(lo) {
		t.Errorf("backwards there is %g", lo)
	}
}

// Where the angle is not known nothing is laid over.
func TestFoldUnknown(t *testing.T) {
	p := sampled(100, func(float64) float64 { return 1 })
	f := p.Fold(720, 72, func(s float64) (float64, bool) { return s * 10, s < 30 })
	lo, _ := f.Between(0, []float64{100, 110, 400, 410})
	if lo[0] != 1 || !math.IsNaN(lo[2]) {
		t.Errorf("folded to %v", lo)
	}
}
