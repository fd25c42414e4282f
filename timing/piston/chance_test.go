package piston

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// cranked is a warm engine with injection commanded at 9 degrees before top dead
// centre and happening 25 later.
func cranked() Uncertain {
	p, r := warmPath()
	c := p.Charge()
	c.Opens, c.Exponent = 130, DefaultExponent
	r.Phi, r.CetanePower = 0.6, 1
	return Uncertain{
		Charge: c, Running: r,
		Starts:     []Start{{At: -9}, {At: 16, U: 0.5}},
		Doubt:      Doubt{K: 7, BarShare: 0.03, Exponent: DefaultExponentU, GaugeBar: GaugeUBar, RPMShare: 0.05, Cetane: 3, Scatter: 0.3, PhiLow: 0.4, PhiHigh: 0.8},
		Heat:       DefaultExponent,
		Isentropic: DryAir.Exponent(c.AtClosing.K, c.ClosedRatio()),
	}
}

// sure is an engine about which nothing is in doubt but the correlation.
func (u Uncertain) sure() Uncertain {
	u.Doubt = Doubt{PhiLow: u.Running.Phi, PhiHigh: u.Running.Phi}
	u.Running.CetanePower = 0
	for i := range u.Starts {
		u.Starts[i].U = 0
	}
	return u
}

// With nothing in doubt the share of draws that light is that of the
// correlations that do, and each agrees with the path's own integral.
func TestDrawsAgreeWithTheIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ch, r := anyCharge(t)
		r.CetanePower = 0
		u := Uncertain{Charge: ch, Running: r, Isentropic: 1.39, Heat: ch.Exponent,
			Starts: []Start{{At: timing.Deg(rapid.Float64Range(-40, 30).Draw(t, "start"))}, {At: timing.Deg(rapid.Float64Range(-40, 30).Draw(t, "other start"))}}}
		u = u.sure()
		s := u.Sampler()
		p := ch.Path()
		d := one{perK: 1 / ch.AtClosing.K, lnBar: math.Log(ch.AtClosing.Bar), Compression: Compression{ch.Exponent, ch.LogLeak}, r: r}
		for _, c := range Correlations() {
			d.kind, d.steady = &c, c.logPerDeg(r)
			table := p.Integral(c, r)
			lit := make([]int, 2)
			starts := []timing.Deg{u.Starts[0].At, u.Starts[1].At}
			s.count(&d, starts, lit)
			for i, start := range starts {
				reached := table.Reached(start)
				if math.Abs(reached-1) < 0.02 { // as near as the draws' coarse steps may tell
					continue
				}
				if (lit[i] == 1) != (reached >= 1) {
					t.Fatalf("%s from %g: drawn %v, the integral is %g", c.Name, float64(start), lit[i] == 1, reached)
				}
			}
		}
	})
}

func TestSharesSumToOne(t *testing.T) {
	sum := 0.0
	for _, c := range Correlations() {
		sum += c.Share
	}
	near(t, "sum of the shares", sum, 1, 1e-12)
	u := cranked().sure()
	tally, err := u.Sampler().Chances(context.Background(), 60_000, 1)
	if err != nil {
		t.Fatal(err)
	}
	// By the path: at 9 before all five light, at 16 after those that the
	// integral says.
	want := 0.0
	for _, c := range Correlations() {
		if _, ok := u.Charge.Path().Integral(c, u.Running).Lights(16); ok {
			want += c.Share
		}
	}
	p, se := tally.Chance(0)
	near(t, "chance at 9 before", p, 1, 0)
	if !(se > 0) {
		t.Error("a chance of 1 has no error")
	}
	p, se = tally.Chance(1)
	near(t, "chance at 16 after", p, want, 5*se)
}

// The same seed gives the same tally on one processor and on all, another seed
// another one within its error.
func TestTheSameSeed(t *testing.T) {
	s := cranked().Sampler()
	draw := func(procs int, seed uint64) Tally {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		tally, err := s.Chances(context.Background(), 30_000, seed)
		if err != nil {
			t.Fatal(err)
		}
		return tally
	}
	a, b, other := draw(1, 7), draw(4, 7), draw(2, 8)
	if a.Draws != 30_000 || !slices.Equal(a.Lit, b.Lit) {
		t.Errorf("the same seed gave %v and %v", a, b)
	}
	if slices.Equal(a.Lit, other.Lit) {
		t.Errorf("two seeds gave the same %v", a)
	}
	for i := range a.Lit {
		p, u := a.Chance(i)
		q, v := other.Chance(i)
		if math.Abs(p-q) > 5*math.Hypot(u, v) {
			t.Errorf("start %d: %g ± %g with one seed, %g ± %g with another", i, p, u, q, v)
		}
	}
}

// Drawn with more doubt, or later, or colder, the right start keeps its lead.
func TestChancesOrder(t *testing.T) {
	u := cranked()
	u.Starts = []Start{{At: -9}, {At: 4}, {At: 16}, {At: 40}}
	tally, err := u.Sampler().Chances(context.Background(), 20_000, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(tally.Lit); i++ {
		if tally.Lit[i] > tally.Lit[i-1] {
			t.Errorf("a later start lit more often: %v", tally.Lit)
		}
	}
	first, _ := tally.Chance(0)
	last, _ := tally.Chance(3)
	if first < 0.8 || last > 0.05 {
		t.Errorf("9 before lights with %g, 40 after with %g", first, last)
	}
}

// A low gauge lowers the chance, a good one raises it.
func TestGaugeInTheDraws(t *testing.T) {
	chance := func(bar float64) float64 {
		u := cranked()
		u.Starts = []Start{{At: -2}}
		if bar > 0 {
			u.Gauge = &Gauge{Bar: bar, AmbientBar: 1.013, RPM: u.Running.RPM}
		}
		tally, err := u.Sampler().Chances(context.Background(), 20_000, 5)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := tally.Chance(0)
		return p
	}
	worn, none, good := chance(14), chance(0), chance(38)
	if !(worn < none && none < good) {
		t.Errorf("chances with 14 bar, without a gauge and with 38 bar: %g, %g, %g", worn, none, good)
	}
	if p := chance(200); !(p >= good) {
		t.Errorf("an impossible reading gives %g", p)
	}
}

func TestTruncated(t *testing.T) {
	for _, c := range []struct{ even, mean, sd, lo, hi, want float64 }{
		{0.5, 1.3, 0.05, 1.1, 1.5, 1.3}, // symmetric: the middle
		{0, 1.3, 0.05, 1.25, 1.38, 1.25},
		{1, 1.3, 0.05, 1.25, 1.38, 1.38},
		{0.5, 1.3, 0, 1.1, 1.38, 1.3},
		{0.5, 1.0, 0.01, 1.3, 1.38, 1.3},
		{0.5, 2.0, 0.01, 1.3, 1.38, 1.38},
	} {
		near(t, "truncated", truncate(c.mean, c.sd, c.lo, c.hi).at(c.even), c.want, 1e-6)
	}
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(1, 1.3).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0.001, 0.3).Draw(t, "width")
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		x, y := truncate(1.3, 0.05, lo, hi).at(min(a, b)), truncate(1.3, 0.05, lo, hi).at(max(a, b))
		if x < lo || y > hi || x > y+1e-9 {
			t.Fatalf("%g and %g from %g to %g", x, y, lo, hi)
		}
	})
}

func TestDrawingStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := cranked().Sampler().Chances(ctx, 1<<30, 1); err != context.Canceled {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

// Drawing costs so many times what its random numbers cost alone. The bound is
// generous: it is meant to catch a loop that has come to do ten times the work.
func TestDrawingSpeed(t *testing.T) {
	const n = 20_000
	s := cranked().Sampler()
	best := func(f func()) time.Duration {
		d := time.Duration(math.MaxInt64)
		for range 5 {
			begin := time.Now()
			f()
			d = min(d, time.Since(begin))
		}
		return d
	}
	bare := best(func() { bareNumbers(n) })
	all := best(func() {
		for k := range n / ChunkSize {
			s.Chunk(1, k, ChunkSize)
		}
	})
	ratio := float64(all) / float64(bare)
	t.Logf("%.0f draws/ms, %.0f times the bare random numbers", n/float64(all.Milliseconds()+1), ratio)
	if ratio > 300 {
		t.Errorf("a draw costs %.0f times its random numbers", ratio)
	}
}

// bareNumbers makes what n draws with two starts ask of the generator.
func bareNumbers(n int) (sum float64) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range n {
		for range 8 {
			sum += rng.NormFloat64()
		}
		for range 5 {
			sum += rng.Float64()
		}
	}
	return sum
}

func BenchmarkHundredThousandDraws(b *testing.B) {
	s := cranked().Sampler()
	for b.Loop() {
		if _, err := s.Chances(context.Background(), 100_000, 1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBareNumbersForHundredThousandDraws(b *testing.B) {
	for b.Loop() {
		bareNumbers(100_000)
	}
}

// BenchmarkTable is the chance to light from a hundred thousand draws, against
// drawing as many random numbers and doing nothing with them.
func BenchmarkTable(b *testing.B) {
	const row = "100,000 draws of light-off"
	s := cranked().Sampler()
	b.Run(row+"/pinphase", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Chances(context.Background(), 100_000, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run(row+"/bare random numbers", func(b *testing.B) {
		for b.Loop() {
			bareNumbers(100_000)
		}
	})
}
