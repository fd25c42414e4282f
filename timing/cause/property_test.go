package cause

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// The order of the evidence does not matter; probabilities stay within 0 and 1
// and add up to 1, and so does a prediction.
func TestAnyEvidence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list []Evidence
		for range rapid.IntRange(0, 5).Draw(t, "pieces") {
			list = append(list, anyEvidence(t))
		}
		a, err := Rank(six(), list, Options{PairShare: &alone})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Rank(six(), rapid.Permutation(list).Draw(t, "order"), Options{PairShare: &alone})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, c := range a.Causes {
			sum += c.Probability
			if p := b.Find(c.Name()).Probability; !near(c.Probability, p, 1e-6) || !(c.Probability >= 0 && c.Probability <= 1+1e-9) {
				t.Fatalf("%s: %g and %g", c.Name(), c.Probability, p)
			}
			for _, p := range a.Predicts(&c) {
				if math.IsNaN(p.SD) || p.Number != nil && math.IsNaN(*p.Number) || p.Probability > 1+1e-9 {
					t.Fatalf("%s predicts %+v", c.Name(), p)
				}
			}
			for _, r := range a.Reasons(&c) {
				if !(r.Factor >= 0) || math.IsInf(r.Factor, 0) {
					t.Fatalf("%s: reason %+v", c.Name(), r)
				}
			}
		}
		if !near(sum, 1, 1e-9) {
			t.Fatalf("they add up to %g", sum)
		}
		a.Clash()
		next, err := a.Next()
		if err != nil {
			t.Fatal(err)
		}
		for i, n := range next {
			if i > 0 && next[i-1].Check.Name != again && n.Worth() > next[i-1].Worth()+1e-12 || n.Bits > math.Log2(float64(len(faults))) {
				t.Fatalf("%s: %g bits in %g minutes", n.Check.Name, n.Bits, n.Check.Minutes)
			}
			p := n.Rest
			for _, o := range n.Outcomes {
				p += o.Probability
			}
			if !near(p, 1, 1e-9) || n.Rest > 0.3 {
				t.Fatalf("%s: its outcomes add up to %g, of which %g are not named", n.Check.Name, p, n.Rest)
			}
		}
	})
}

func anyEvidence(t *rapid.T) Evidence {
	k := rapid.SampledFrom(kinds).Draw(t, "kind")
	switch k.Value {
	case YesNo:
		return Evidence{Kind: k.Name, Value: rapid.Bool().Draw(t, "seen")}
	case Word:
		return Evidence{Kind: k.Name, Value: rapid.SampledFrom(k.Words).Draw(t, "word")}
	}
	v := rapid.Float64Range(k.Min, k.Max).Draw(t, "number")
	if k.Whole {
		return Evidence{Kind: k.Name, Value: math.Round(v)}
	}
	return Evidence{k.Name, v, rapid.SampledFrom([]float64{0, 0.1, 1, 30}).Draw(t, "u")}
}

// In every state the words of a kind are probabilities that add up to 1.
func TestWordsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := six().withDefaults()
		e.OneGap = rapid.Bool().Draw(t, "one gap")
		d := func(name string) timing.Deg { return timing.Deg(rapid.Float64Range(-400, 400).Draw(t, name)) }
		s := State{Keyway: d("keyway"), Dowel: d("dowel"), Wheel: d("wheel"), Slip: d("slip"), CamWheel: d("cam wheel"),
			CrankOut: rapid.IntRange(-3, 3).Draw(t, "crank out"), Wrong: Wrong(rapid.Uint64Range(0, uint64(Elsewhere)*2-1).Draw(t, "wrong"))}
		for _, k := range kinds {
			if k.word == nil {
				continue
			}
			sum := 0.0
			for w := range max(len(k.Words), 2) {
				p := k.word(&e, &s, w)
				if !(p >= 0 && p <= 1) {
					t.Fatalf("%s: word %d has probability %g", k.Name, w, p)
				}
				sum += p
			}
			if !near(sum, 1, 1e-9) {
				t.Fatalf("%s: its words add up to %g", k.Name, sum)
			}
		}
	})
}

func TestWrongNumbersOfTheReader(t *testing.T) {
	for _, o := range []Options{
		{Priors: map[string]float64{"gremlins": 0.1}}, {Priors: map[string]float64{"bad fuel": -0.1}}, {Priors: map[string]float64{"bad fuel": 1.1}},
		{Priors: map[string]float64{"bad fuel": 0.6, "keyway off": 0.6}}, {Priors: map[string]float64{"bad fuel": math.NaN()}},
		{Minutes: map[string]float64{"pray": 5}}, {Minutes: map[string]float64{"look at a fuel sample": 0}}, {Minutes: map[string]float64{"look at a fuel sample": math.Inf(1)}},
	} {
		if o.Check() == nil {
			t.Errorf("%+v was taken", o)
		}
	}
	if _, err := Rank(six(), []Evidence{{Kind: "mood", Value: "good"}}, Options{}); err == nil {
		t.Error("an unknown kind was taken")
	}
	if _, err := Rank(six(), []Evidence{{Kind: "smoke", Value: "purple"}}, Options{}); err == nil {
		t.Error("an unknown word was taken")
	}
}
