package part

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func compared(drawing, measured, u timing.Deg) *Comparison {
	return &Comparison{Drawing: timing.Measured{Value: drawing, U: 0.1}, Measured: timing.Measured{Value: measured, U: u}}
}

func TestBeliefsAddUp(t *testing.T) {
	t.Parallel()
	sum, seen := 0.0, map[[2]Place]bool{}
	for _, c := range beliefs {
		sum += c.Probability
		if pair := [2]Place{c.Keyway, c.Dowel}; seen[pair] {
			t.Errorf("%+v is there twice", c)
		} else {
			seen[pair] = true
		}
	}
	near(t, "sum", sum, 1, 1e-12)
	v := Judge(nil, nil)
	near(t, "as drawn with nothing measured", v.AsDrawn, 0.80, 1e-12)
	if k, _ := v.Kind(); k != NotSure || v.IsMirrored() {
		t.Errorf("with nothing measured: %v, mirrored %v", k, v.IsMirrored())
	}
}

// Parts as they come: what is measured of them, and what must come of it.
func TestJudge(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		dowel, keyway *Comparison
		want          Kind
		mirrored      bool
	}{
		{"as drawn, keyway not measured", compared(12.5, 12.6, 0.3), nil, AsDrawn, false},
		{"as drawn", compared(12.5, 12.6, 0.3), compared(90, 90.1, 0.3), AsDrawn, false},
		{"mirrored", compared(12.5, -12.51, 0.5), compared(90, 90.1, 0.3), Mirrored, true},
		{"mirrored, keyway not measured", compared(12.5, -12.51, 0.5), nil, Mirrored, true},
		{"mirrored, rough reading", compared(12.5, -11, 1.5), compared(90, 90, 0.3), Mirrored, true},
		{"the whole drawing mirrored", compared(12.5, -12.4, 0.3), compared(90, -90.2, 0.3), Mirrored, true},
		{"keyway off, dowel right from the throw", compared(12.5, 0.5, 0.3), compared(90, 102, 0.3), KeywayWrong, false},
		{"keyway off, dowel set out from it", compared(12.5, 12.4, 0.3), compared(90, 102, 0.3), KeywayWrong, false},
		{"keyway on the other side, dowel set out from it", compared(12.5, 12.4, 0.3), compared(40, -40, 0.3), KeywayWrong, false},
		{"only the keyway measured, and off: the dowel is open", nil, compared(90, 102, 0.3), NotSure, false},
		{"dowel anywhere", compared(12.5, 40, 0.5), compared(90, 90, 0.3), OtherError, false},
		{"both off, and not by the same", compared(12.5, 40, 0.5), compared(90, 70, 0.3), OtherError, false},
		{"mirrored about a keyway that is off", compared(12.5, -12.5, 0.3), compared(90, 70, 0.3), OtherError, true},
		{"off, keyway not measured: either may be", compared(12.5, 40, 0.5), nil, NotSure, false},
		{"on the keyway: its own mirror", compared(0, 0.2, 0.3), nil, AsDrawn, false},
		{"opposite: its own mirror", compared(180, -179.8, 0.3), nil, AsDrawn, false},
		{"nearly on the keyway: its own mirror", compared(0.25, -0.3, 0.5), nil, AsDrawn, false},
		{"too near to tell", compared(0.5, -0.3, 0.5), nil, NotSure, false},
		{"too rough to tell", compared(5, 0, 8), nil, NotSure, false},
	} {
		v := Judge(c.dowel, c.keyway)
		if k, p := v.Kind(); k != c.want || v.IsMirrored() != c.mirrored {
			t.Errorf("%s: %v (%.3f), mirrored %v; %+v", c.name, k, p, v.IsMirrored(), v.Cases)
		}
	}
	if v := Judge(compared(12.5, -12.5, 0.1), compared(90, 90, 0.2)); v.Mirrored < 0.99 {
		t.Errorf("a clean mirrored reading is only %.3f sure", v.Mirrored)
	}
	if k, p := Judge(nil, compared(90, 102, 0.3)).Leading(); k != KeywayWrong || p < 0.7 {
		t.Errorf("only the keyway measured, and off: %v %.3f", k, p)
	}
}

// Few readings are less sure than their scatter looks.
func TestFewReadingsSayLess(t *testing.T) {
	t.Parallel()
	many, few := compared(12.5, 15, 0.5), compared(12.5, 15, 0.5)
	few.DOF = 2
	if a, b := Judge(many, nil), Judge(few, nil); b.AsDrawn <= a.AsDrawn {
		t.Errorf("as drawn %.5f with many readings, %.5f with three", a.AsDrawn, b.AsDrawn)
	}
}

func TestVerdictLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-180, 180)
		u := rapid.Float64Range(0.05, 3)
		var dowel, keyway *Comparison
		if rapid.Bool().Draw(t, "dowel measured") {
			dowel = compared(timing.Deg(angle.Draw(t, "dowel drawn")), timing.Deg(angle.Draw(t, "dowel")), timing.Deg(u.Draw(t, "u of the dowel")))
		}
		if rapid.Bool().Draw(t, "keyway measured") {
			keyway = compared(timing.Deg(angle.Draw(t, "keyway drawn")), timing.Deg(angle.Draw(t, "keyway")), timing.Deg(u.Draw(t, "u of the keyway")))
		}
		v := Judge(dowel, keyway)
		if sum := v.AsDrawn + v.Mirrored + v.KeywayWrong + v.Other; math.Abs(sum-1) > 1e-9 {
			t.Fatalf("%+v sums to %g", v, sum)
		}
		// Seen the other way round the engine, every angle changes its sign.
		flip := func(c *Comparison) *Comparison {
			if c == nil {
				return nil
			}
			f := *c
			f.Drawing.Value, f.Measured.Value = -f.Drawing.Value, -f.Measured.Value
			return &f
		}
		w := Judge(flip(dowel), flip(keyway))
		if math.Abs(v.AsDrawn-w.AsDrawn) > 1e-9 || math.Abs(v.Mirrored-w.Mirrored) > 1e-9 || math.Abs(v.KeywayWrong-w.KeywayWrong) > 1e-9 {
			t.Fatalf("%+v, other way round %+v", v, w)
		}
		_, leading := v.Leading()
		for _, c := range v.Next() {
			// A reading can only be expected to tell something (MacKay 2003, sec. 8.1:
			// mutual information is never negative), and at most what is open.
			if c.Leading < leading-1e-6 || c.Leading > 1+1e-9 || c.Bits < 0 || c.Bits > entropy(v)+1e-6 {
				t.Fatalf("%+v: next %+v", v, c)
			}
		}
	})
}

func entropy(v Verdict) float64 {
	h := 0.0
	for _, p := range v.kinds() {
		if p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

// Of parts made as the beliefs have it, what the verdict is sure of holds in 95 of
// 100, and its probabilities are those with which it is right.
func TestVerdictIsAsSureAsItSays(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(11, 3))
	anywhere := func() float64 { return 360*r.Float64() - 180 }
	const parts = 20000
	sure, right, expected, leading := 0, 0, 0.0, 0
	for range parts {
		pick, c := r.Float64(), beliefs[0]
		for _, b := range beliefs {
			if c = b; pick < b.Probability {
				break
			}
			pick -= b.Probability
		}
		drawnDowel, drawnKeyway := 10+60*r.Float64(), 20+120*r.Float64()
		made := func() float64 { return float64(makingU) * r.NormFloat64() }
		k := map[Place]float64{Right: made(), Opposite: -2*drawnKeyway + made(), Elsewhere: anywhere()}[c.Keyway]
		d := map[Place]float64{Right: made(), Opposite: -2*drawnDowel + made(), FromThrow: -k + made(), Elsewhere: anywhere()}[c.Dowel]
		u := 0.1 + r.Float64()
		read := func(drawn, off float64) *Comparison {
			at := timing.WrapSigned(timing.Deg(drawn+off+u*r.NormFloat64()), timing.Turn)
			return &Comparison{Drawing: timing.Measured{Value: timing.Deg(drawn)}, Measured: timing.Measured{Value: at, U: timing.Deg(u)}}
		}
		var keyway *Comparison
		if r.IntN(2) == 0 {
			keyway = read(drawnKeyway, k)
		}
		v := Judge(read(drawnDowel, d), keyway)
		kind, p := v.Leading()
		expected += p
		if kind == c.Kind() {
			leading++
		}
		if kind, _ := v.Kind(); kind != NotSure {
			sure++
			if kind == c.Kind() {
				right++
			}
		}
	}
	share := float64(right) / float64(sure)
	t.Logf("sure of %d in %d parts, and right in %.1f %% of them; most probable kind right in %.1f %%, said %.1f %%",
		sure, parts, 100*share, 100*float64(leading)/parts, 100*expected/parts)
	if share < 0.95 || sure < parts/2 {
		t.Errorf("sure of %d parts, right in %.3f", sure, share)
	}
	near(t, "most probable kind", float64(leading)/parts, expected/parts, 0.006)
}

// A dowel off by an odd angle leaves open which of the two is wrong: the keyway
// settles it, the dowel again does not. Where both are known, nothing is open.
func TestTheReadingThatSettlesIt(t *testing.T) {
	t.Parallel()
	open := Judge(compared(12.5, 40, 0.3), nil)
	next := open.Next()
	if next[0].Feature != Keyway || next[0].Bits < 10*next[1].Bits || next[0].Leading < 0.95 {
		t.Errorf("dowel off: %+v", next)
	}
	if next := Judge(nil, compared(90, 90, 0.3)).Next(); next[0].Feature != Dowel {
		t.Errorf("keyway right, dowel not measured: %+v", next)
	}
	if next := Judge(compared(12.5, 12.5, 0.2), compared(90, 90, 0.2)).Next(); next[0].Bits > 0.01 {
		t.Errorf("both right: %+v", next)
	}
	if next := Judge(compared(5, 0, 8), compared(90, 90, 0.2)).Next(); next[0].Feature != Dowel || next[0].Leading < 0.9 {
		t.Errorf("a rough reading of the dowel: %+v", next)
	}
}

// The expected information against a plain average over many made-up readings.
func TestExpectAgainstMadeUpReadings(t *testing.T) {
	t.Parallel()
	v := Judge(compared(12.5, 40, 0.3), nil)
	const n = 3600
	bits, leading := 0.0, 0.0
	for i := range n {
		z := timing.Deg(-180 + (float64(i)+0.5)*360/n)
		// How probable is it to read z, and what would it make of the verdict?
		w := Judge(compared(12.5, 40, 0.3), &Comparison{Measured: timing.Measured{Value: z, U: WheelU}})
		weight := 0.0
		for j, c := range v.Cases {
			weight += c.Probability * v.known[j].keyway.wider(float64(WheelU)).density(spread{at: float64(z)}) * 360 / n
		}
		_, p := w.Leading()
		leading += weight * p
		bits += weight * (entropy(v) - entropy(w))
	}
	got := v.Expect(Keyway, WheelU)
	near(t, "bits", got.Bits, bits, 0.01)
	near(t, "leading", got.Leading, leading, 0.01)
}

// A dowel was drawn 12.5 degrees ahead of its keyway and measured 28 ahead; the
// keyway was not measured. What is wrong, and what would tell?
func ExampleJudge() {
	v := Judge(&Comparison{Drawing: timing.Measured{Value: 12.5}, Measured: timing.Measured{Value: 28, U: 0.3}}, nil)
	kind, p := v.Leading()
	fmt.Printf("most probable: %v, %.0f %%; keyway wrong: %.0f %%\n", kind, 100*p, 100*v.KeywayWrong)
	next := v.Next()[0]
	fmt.Printf("measure the %v: %.1f bits, then %.1f %% sure\n", next.Feature, next.Bits, 100*next.Leading)
	// Output:
	// most probable: other, 74 %; keyway wrong: 26 %
	// measure the keyway: 0.8 bits, then 99.9 % sure
}
