package uncertainty

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func someInputs(t *rapid.T) []Input {
	n := rapid.IntRange(1, 5).Draw(t, "inputs")
	list := make([]Input, n)
	for i := range list {
		list[i] = Input{
			Name: fmt.Sprint(i), Value: rapid.Float64Range(-100, 100).Draw(t, "value"), U: rapid.Float64Range(0, 5).Draw(t, "u"),
			DOF: float64(rapid.IntRange(0, 30).Draw(t, "dof")),
		}
	}
	return list
}

// A straight model: u is the root of the sum of squares, the bend is none, the
// second order adds nothing, the shares add up, and the effective degrees of
// freedom lie between the least of any input and their sum (JCGM 100:2008, G.4.1).
func TestStraightModels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := someInputs(t)
		slopes := make([]float64, len(in))
		sum, least, all, limitless := 0.0, math.Inf(1), 0.0, false
		for i, x := range in {
			slopes[i] = rapid.Float64Range(-3, 3).Draw(t, "slope")
			sum += sq(slopes[i] * x.U)
			if x.DOF == 0 {
				limitless = true
			} else {
				least, all = math.Min(least, x.DOF), all+x.DOF
			}
		}
		q := Quantity{Inputs: in, Model: func(x []float64) float64 {
			y := 7.0
			for i := range x {
				y += slopes[i] * x[i]
			}
			return y
		}}
		l := q.Linear()
		want := math.Sqrt(sum)
		scale := 1e-9 * (1 + want)
		if math.Abs(l.U-want) > scale {
			t.Fatalf("u %g, want %g", l.U, want)
		}
		if _, u := q.SecondOrder(); math.Abs(u-want) > 1e-6*(1+want) {
			t.Fatalf("u with second order %g, want %g", u, want)
		}
		if b := q.Bend(); want > 1e-3 && b > 1e-6 {
			t.Fatalf("bend %g", b)
		}
		share := 0.0
		for _, p := range l.Parts {
			share += p.Share
		}
		if want > 1e-6 && math.Abs(share-1) > 1e-9 {
			t.Fatalf("shares add up to %g", share)
		}
		if l.DOF != 0 && (l.DOF < least*(1-1e-6) || !limitless && l.DOF > all*(1+1e-6)) {
			t.Fatalf("%g degrees of freedom of inputs with at least %g, together %g", l.DOF, least, all)
		}
		// With every input independent said the long way, the same.
		q.Correlation = mat.NewSymDense(len(in), nil)
		for i := range in {
			q.Correlation.SetSym(i, i, 1)
		}
		if u := q.Linear().U; math.Abs(u-want) > scale {
			t.Fatalf("u with no correlation %g, want %g", u, want)
		}
	})
}

// Given slopes and numerical ones are the same (JCGM 100:2008, 5.1.3, note 2).
func TestSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(1, 50).Draw(t, "a"), rapid.Float64Range(1, 50).Draw(t, "b")
		q := Quantity{
			Inputs: []Input{{Value: a, U: 0.01 * a}, {Value: b, U: rapid.Float64Range(0, 0.01).Draw(t, "u") * b}},
			Model:  func(x []float64) float64 { return math.Atan2(x[0], x[1]) * x[1] },
		}
		numeric := q.Linear()
		q.Slopes = func(x []float64) []float64 {
			s := x[0]*x[0] + x[1]*x[1]
			return []float64{x[1] * x[1] / s, math.Atan2(x[0], x[1]) - x[0]*x[1]/s}
		}
		given := q.Linear()
		for i := range given.Parts {
			if d := math.Abs(given.Parts[i].Slope - numeric.Parts[i].Slope); d > 1e-7 {
				t.Fatalf("slope %d off by %g", i, d)
			}
		}
	})
}

// Drawn and propagated agree where the model is straight enough, and the same seed
// draws the same.
func TestDrawsAgreeWithPropagation(t *testing.T) {
	q := Quantity{
		Inputs: []Input{{Value: 40, U: 0.1}, Rectangular("r", 29, 31), {Value: 3, U: 0.2, DOF: 6}},
		Model:  func(x []float64) float64 { return x[0]*x[1]/100 + x[2] },
	}
	l, s := q.Linear(), q.Draw(400_000, 5)
	// A scaled t of 6 degrees of freedom spreads by 6/4 more (JCGM 101:2008, 6.4.9.4).
	want := math.Sqrt(sq(l.Parts[0].Contribution) + sq(l.Parts[1].Contribution) + 1.5*sq(l.Parts[2].Contribution))
	near(t, "u", s.U(), want, 0.005*want)
	near(t, "mean", s.Mean(), l.Value, 0.005*want)
	lo, hi := s.Shortest(0.95)
	lo2, hi2 := s.Symmetric(0.95)
	if hi-lo > hi2-lo2 {
		t.Errorf("the shortest interval is %g wide, the symmetric one %g", hi-lo, hi2-lo2)
	}
	again := q.Draw(1000, 6)
	for i, v := range q.Draw(1000, 6) {
		if v != again[i] {
			t.Fatal("the same seed draws something else")
		}
	}
}

func TestSeries(t *testing.T) {
	one := Series{12.5}
	if one.Mean() != 12.5 || one.U() != 0 || one.DOF() != 0 {
		t.Errorf("a single reading: %g, %g, %g", one.Mean(), one.U(), one.DOF())
	}
	near(t, "mean", Series{1e9 + 1, 1e9 + 2, 1e9 + 3}.Mean(), 1e9+2, 0)
	near(t, "SD", Series{1e9 + 1, 1e9 + 2, 1e9 + 3}.SD(), 1, 1e-9)
}

func TestCorrelationThatCannotBe(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a correlation beyond 1 must panic")
		}
	}()
	Quantity{Inputs: make([]Input, 2), Model: func([]float64) float64 { return 0 }, Correlation: mat.NewSymDense(2, []float64{1, 1.2, 1.2, 1})}.Draw(1, 1)
}

// A dowel's angle by its sideways distance from a key and its radius: what is u,
// and which of the two readings makes it?
func ExampleQuantity_Linear() {
	q := Quantity{
		Inputs: []Input{{Name: "sideways", Value: 19, U: 0.05}, {Name: "radius", Value: 38, U: 0.1}},
		Model:  func(x []float64) float64 { return math.Asin(x[0]/x[1]) * 180 / math.Pi },
	}
	l := q.Linear()
	fmt.Printf("%.2f ± %.2f\n", l.Value, l.U)
	for _, p := range l.Parts {
		fmt.Printf("%-8s %.0f %%\n", p.Name, 100*p.Share)
	}
	// Output:
	// 30.00 ± 0.12
	// sideways 50 %
	// radius   50 %
}

// Five readings of a tape: mean, and the uncertainty of the mean.
func ExampleSeries() {
	s := Series{31.5, 31.2, 31.4, 31.6, 31.3}
	fmt.Printf("%.2f ± %.3f, %g degrees of freedom, 95 %%: ± %.2f\n", s.Mean(), s.U(), s.DOF(), Coverage(0.95, s.DOF())*s.U())
	// Output: 31.40 ± 0.071, 4 degrees of freedom, 95 %: ± 0.20
}
