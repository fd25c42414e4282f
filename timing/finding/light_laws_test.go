package finding

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Every engine and every option gives finite numbers, whole sentences and a
// verdict that agrees with the numbers; an error forth and back changes nothing.
func TestLightLaws(t *testing.T) {
	base := sample.Read(t, cranked)
	rapid.Check(t, func(t *rapid.T) {
		j := base.Clone()
		e := &j.Engine
		e.Strokes = rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes")
		e.CompressionRatio = job.Num(value(t, "ratio", 1.5, 100))
		e.PinOffsetMM = maybe(t, "offset", -5, 5)
		e.PolytropicExponent = maybe(t, "exponent", 1, 1.4)
		e.CompressionGaugeBar = maybe(t, "gauge", 0.1, 100)
		e.CompressionGaugeRPM = maybe(t, "gauge rpm", 1, 1000)
		e.Valves = &job.Valves{IntakeClosesABDCDeg: maybe(t, "closes", -180, 360), ExhaustOpensBBDCDeg: maybe(t, "opens", -180, 360), ExhaustClosesATDCDeg: maybe(t, "exhaust closes", -180, 360)}
		in := j.Injection
		in.StartBTDCDeg = job.Num(value(t, "start", -180, 180))
		in.CrankingRPM = job.Num(value(t, "rpm", 1, 6000))
		in.AirC, in.AirKPa, in.Cetane = maybe(t, "air", -90, 150), maybe(t, "kPa", 1, 1000), maybe(t, "cetane", 1, 150)
		delta := value(t, "wheel error", -180, 180)
		o := LightOptions{WheelErrorDeg: &delta, Correlation: rapid.SampledFrom([]string{"", "wolfer", "stringer", "watson", "assanis", "hardenberg"}).Draw(t, "correlation")}
		l, err := LightOf(j, o)
		if err != nil {
			t.Fatal(err)
		}
		l, err = l.Drawn(context.Background(), 50, 1)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(l); err != nil {
			t.Fatal(err)
		}
		for _, s := range slices.Concat([]phrase.Sentence{l.Says}, l.Notes, l.Assumptions) {
			if spoilt.MatchString(s.String()) {
				t.Fatalf("sentence %q: %s", s.Text, s)
			}
		}
		for _, c := range l.Cases {
			if c.Lights != (c.LightsAt != nil) || c.Lights != (c.DelayMS != nil) || c.InWindow && !c.Lights {
				t.Fatalf("%+v", c)
			}
			if p := *c.Probability; !(p >= 0 && p <= 1) {
				t.Fatalf("probability %g", p)
			}
		}
		says, actual := l.Says.String(), l.Cases[1]
		if strings.Contains(says, "will not light") {
			t.Fatalf("no estimate says that: %s", says)
		}
		switch { // what is said, the estimate, the window and the probability agree
		case strings.HasSuffix(says, string(lightShould)) && !(actual.Lights && actual.InWindow && *actual.Probability >= shouldLight),
			strings.HasSuffix(says, string(lightUnlikely)) && !(!actual.Lights && *actual.Probability <= unlikelyLight),
			strings.HasSuffix(says, string(lightTooCold)) && !(!actual.Lights && actual.Wets && *actual.Probability <= unlikelyLight),
			strings.HasSuffix(says, string(lightTooEarly)) && !(actual.Lights && actual.KickBack):
			t.Fatalf("lights %v, %g: %s", actual.Lights, *actual.Probability, says)
		}
		// Another start, as far the other way: the same injection.
		in.StartBTDCDeg = job.Num(in.StartBTDCDeg.Value + delta)
		back := LightOptions{WheelErrorDeg: new(float64), Correlation: o.Correlation}
		same, err := LightOf(j, back)
		if err != nil {
			t.Fatal(err)
		}
		if !near(same.Cases[1].Integral, l.Cases[1].Integral, 1e-6*(1+l.Cases[1].Integral)) {
			t.Fatalf("there and back: %g, was %g", same.Cases[1].Integral, l.Cases[1].Integral)
		}
	})
}

// The same seed gives the same probabilities; the right timing keeps its lead.
func TestLightProbabilities(t *testing.T) {
	l := lightOf(t, sample.Read(t, cranked), LightOptions{WheelErrorDeg: set(-28)})
	if l.Cases[0].Probability != nil || l.Draws != 0 {
		t.Error("probabilities without a draw")
	}
	draw := func(seed uint64) Light {
		d, err := l.Drawn(context.Background(), 20_000, seed)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	a, b, other := draw(3), draw(3), draw(4)
	for i := range a.Cases {
		if *a.Cases[i].Probability != *b.Cases[i].Probability {
			t.Errorf("case %d: %g and %g with one seed", i, *a.Cases[i].Probability, *b.Cases[i].Probability)
		}
		if d := math.Abs(*a.Cases[i].Probability - *other.Cases[i].Probability); d > 6**a.Cases[i].ProbabilityU {
			t.Errorf("case %d: two seeds differ by %g", i, d)
		}
	}
	if *a.Cases[0].Probability < 0.8 || *a.Cases[1].Probability > 0.5 || a.Draws != 20_000 || a.Seed != 3 {
		t.Errorf("probabilities %g and %g", *a.Cases[0].Probability, *a.Cases[1].Probability)
	}
	if l.Cases[0].Probability != nil {
		t.Error("drawing changed the estimate it started from")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := l.Drawn(ctx, 1_000_000, 1); err != context.Canceled {
		t.Errorf("error %v", err)
	}
}
