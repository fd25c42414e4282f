package cause

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// bayes returns the posterior probabilities of hypotheses, and the probability of what
// was seen (MacKay, Information Theory, Inference, and Learning Algorithms, 2003,
// eq. 2.16 to 2.18; numbers from memory). The priors add up to 1.
func bayes(prior, likelihood []float64) (posterior []float64, evidence float64) {
	posterior = make([]float64, len(prior))
	for i, p := range prior {
		posterior[i] = p * likelihood[i]
		evidence += posterior[i]
	}
	for i := range posterior {
		posterior[i] /= evidence
	}
	return posterior, evidence
}

// MacKay 2003, example 2.6 (from memory): eleven urns, urn u with u black balls of
// ten; three black in ten draws with replacement.
func TestUrns(t *testing.T) {
	const n, black = 10, 3
	prior, like := make([]float64, 11), make([]float64, 11)
	for u := range prior {
		f := float64(u) / 10
		prior[u], like[u] = 1.0/11, 120*math.Pow(f, black)*math.Pow(1-f, n-black)
	}
	p, evidence := bayes(prior, like)
	want := []float64{0, 0.0630726, 0.221240, 0.293220, 0.236256, 0.128779, 0.0466678, 0.00989205, 0.000864218, 9.61326e-6, 0}
	next := 0.0
	for u := range p {
		if !near(p[u], want[u], 1e-6) {
			t.Errorf("urn %d: %.9f, want %.9f", u, p[u], want[u])
		}
		next += p[u] * float64(u) / 10
	}
	if !near(next, 0.3330377815, 1e-9) || !near(Entropy(p), 2.405688474, 1e-6) || !near(evidence, 0.08272660909, 1e-9) {
		t.Errorf("next black %.10f, entropy %.9f, evidence %.11f", next, Entropy(p), evidence)
	}
}

// MacKay 2003, section 4.1 (from memory): twelve balls, one heavier or lighter,
// weighed k against k. The best first weighing is four against four, log2 3 bits.
func TestTwelveBalls(t *testing.T) {
	prior := make([]float64, 24) // ball i heavier, ball i lighter
	for i := range prior {
		prior[i] = 1.0 / 24
	}
	if !near(Entropy(prior), 4.584962501, 1e-9) {
		t.Errorf("log2 24 = %.9f", Entropy(prior))
	}
	for k, want := range map[int]float64{1: 0.8166890883, 2: 1.251629167, 3: 1.5, 4: 1.584962501, 5: 1.483355755, 6: 1} {
		given := make([][]float64, 24) // left heavy, right heavy, level
		for i := range given {
			given[i] = make([]float64, 3)
			ball, heavier := i/2, i%2 == 0
			switch {
			case ball >= 2*k:
				given[i][2] = 1
			case ball < k == heavier:
				given[i][0] = 1
			default:
				given[i][1] = 1
			}
		}
		if got := Information(prior, given); !near(got, want, 1e-9) {
			t.Errorf("%d against %d: %.10f bits, want %.10f", k, k, got, want)
		}
	}
}

// Hand calculation: three causes, a yes-or-no check.
func TestThreeCauses(t *testing.T) {
	prior := []float64{0.5, 0.3, 0.2}
	yes, no := []float64{0.9, 0.2, 0.5}, []float64{0.1, 0.8, 0.5}
	p, evidence := bayes(prior, yes)
	q, _ := bayes(prior, no)
	if !near(evidence, 0.61, 1e-12) || !near(Entropy(prior), 1.485475297, 1e-8) {
		t.Errorf("P(yes) %.12f, entropy %.9f", evidence, Entropy(prior))
	}
	for i, want := range []float64{0.73770492, 0.098360656, 0.16393443} {
		if !near(p[i], want, 1e-8) {
			t.Errorf("yes: cause %d %.9f, want %.9f", i+1, p[i], want)
		}
	}
	for i, want := range []float64{0.12820513, 0.61538462, 0.25641026} {
		if !near(q[i], want, 1e-8) {
			t.Errorf("no: cause %d %.9f, want %.9f", i+1, q[i], want)
		}
	}
	var given [][]float64
	for i := range yes {
		given = append(given, []float64{yes[i], no[i]})
	}
	if got := Information(prior, given); !near(got, 0.3137233232, 1e-9) {
		t.Errorf("expected information %.10f bits", got)
	}
}

// The binary entropy of 0.1, and what a channel that is wrong one time in ten
// carries (MacKay 2003: 0.47 and 0.53; from memory).
func ExampleInformation() {
	fmt.Printf("%.10f\n", Entropy([]float64{0.1, 0.9}))
	fmt.Printf("%.10f\n", Information([]float64{0.5, 0.5}, [][]float64{{0.9, 0.1}, {0.1, 0.9}}))
	// Output:
	// 0.4689955936
	// 0.5310044064
}

// Information is what the entropy is expected to fall by: the definition and the
// shorter sum agree.
func TestInformationIsEntropyLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, o := rapid.IntRange(1, 6).Draw(t, "hypotheses"), rapid.IntRange(1, 5).Draw(t, "outcomes")
		row := func(n int) []float64 {
			r := rapid.SliceOfN(rapid.Float64Range(1e-6, 1), n, n).Draw(t, "row")
			sum := 0.0
			for _, v := range r {
				sum += v
			}
			for i := range r {
				r[i] /= sum
			}
			return r
		}
		prior := row(h)
		given := make([][]float64, h)
		for i := range given {
			given[i] = row(o)
		}
		lost := Entropy(prior)
		for k := range o {
			like := make([]float64, h)
			for i := range given {
				like[i] = given[i][k]
			}
			p, evidence := bayes(prior, like)
			lost -= evidence * Entropy(p)
		}
		if got := Information(prior, given); !near(got, lost, 1e-9) {
			t.Fatalf("%g bits, the entropy falls by %g", got, lost)
		}
	})
}
