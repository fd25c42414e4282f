package piston

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// The two paths the check values were worked on, apart from this code: bore 100,
// stroke 110, rod 180 mm, 17:1, closing 40 degrees after bottom dead centre, one
// warm and one cold and slow. Formulas: Heywood 1988, eqs 2.4 to 2.6; polytropic
// compression.
var testCylinder = Cylinder{SliderCrank{ThrowMM: 55, RodMM: 180}, 100, 17}

func warmPath() (Path, Running) {
	c := Charge{Cylinder: testCylinder, Closes: -140, Opens: 100, AtClosing: Gas{300, 1}, Exponent: 1.33}
	return c.Path(), Running{RPM: 200, MeanPistonMS: testCylinder.MeanSpeedMS(200), Cetane: 50, Phi: 1}
}

func coldPath() (Path, Running) {
	c := Charge{Cylinder: testCylinder, Closes: -140, Opens: 100, AtClosing: Gas{263, 1}, Exponent: 1.28}
	return c.Path(), Running{RPM: 120, MeanPistonMS: testCylinder.MeanSpeedMS(120), Cetane: 50, Phi: 1}
}

// near to a number of significant digits.
func nearRel(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	near(t, what, got, want, rel*math.Abs(want))
}

func TestStatesOfTheWarmPath(t *testing.T) {
	p, r := warmPath()
	near(t, "V at closing over clearance", p.Charge().ClosedRatio(), 15.63831472, 1e-7)
	for _, c := range []struct {
		at                       timing.Deg
		ratio, k, bar            float64
		wolfer, watson, stringer float64
		hardenberg               float64
	}{
		{-140, 15.6383147, 300, 1, 2408906, 3783.384, 3425796, math.Inf(1)},
		{-90, 10.2521651, 344.853623, 1.75342783, 164455.3, 858.4345, 208752, math.Inf(1)},
		{-60, 5.93330133, 413.062838, 3.62901208, 7466.544, 149.5464, 8756.644, math.Inf(1)},
		{-50, 4.58503122, 449.739445, 5.11313638, 1982.563, 69.63695, 2292.727, math.Inf(1)},
		{-40, 3.38160363, 497.271360, 7.66548151, 455.7795, 29.48727, 527.3011, math.Inf(1)},
		{-30, 2.37915644, 558.450068, 12.2357344, 93.79499, 11.52287, 110.8357, math.Inf(1)},
		{-20, 1.62582439, 633.212732, 20.3022746, 19.20969, 4.409881, 23.75068, 3.290129},
		{-15, 1.35459517, 672.522464, 25.8801010, 9.368154, 2.836023, 11.92514, 1.633352},
		{-10, 1.15841846, 708.155011, 31.8662939, 5.164453, 1.960201, 6.764257, 1.148660},
		{-5, 1.03972821, 733.872129, 36.7933439, 3.457722, 1.525748, 4.627370, 0.965422},
		{0, 1, 743.368130, 38.7500826, 2.998187, 1.395257, 4.045063, 0.9156321},
	} {
		for _, at := range []timing.Deg{c.at, -c.at} { // expansion mirrors compression
			if at > 100 {
				continue
			}
			g := p.At(at)
			nearRel(t, fmt.Sprintf("V/Vc at %g", float64(at)), testCylinder.VolumeRatio(at), c.ratio, 1e-8)
			nearRel(t, fmt.Sprintf("T at %g", float64(at)), g.K, c.k, 1e-8)
			nearRel(t, fmt.Sprintf("p at %g", float64(at)), g.Bar, c.bar, 1e-8)
			nearRel(t, "Wolfer", Wolfer().DelayMS(g, r), c.wolfer, 1e-6)
			nearRel(t, "Watson", Watson().DelayMS(g, r), c.watson, 1e-6)
			nearRel(t, "Stringer", Stringer().DelayMS(g, r), c.stringer, 1e-6)
			if got := HardenbergHase().DelayMS(g, r); math.IsInf(c.hardenberg, 1) {
				if !math.IsInf(got, 1) {
					t.Errorf("Hardenberg and Hase at %g: %g, want +Inf", float64(at), got)
				}
			} else {
				nearRel(t, "Hardenberg and Hase", got, c.hardenberg, 1e-6)
			}
		}
	}
}

func TestStatesOfTheColdPath(t *testing.T) {
	p, r := coldPath()
	for _, c := range []struct {
		at     timing.Deg
		k, bar float64
		wolfer float64
	}{{0, 567.974626, 33.7724941, 24.36845}, {-20, 495.710726, 18.1296276, 168.5231}, {-60, 344.989551, 3.4573531, math.NaN()}} {
		g := p.At(c.at)
		nearRel(t, "T", g.K, c.k, 1e-8)
		nearRel(t, "p", g.Bar, c.bar, 1e-8)
		if !math.IsNaN(c.wolfer) {
			nearRel(t, "Wolfer", Wolfer().DelayMS(g, r), c.wolfer, 1e-6)
		}
	}
	nearRel(t, "Watson", Watson().DelayMS(p.At(0), r), 3.840808, 1e-6)
	nearRel(t, "Stringer", Stringer().DelayMS(p.At(0), r), 43.60328, 1e-6)
	nearRel(t, "Hardenberg and Hase", HardenbergHase().DelayMS(p.At(0), r), 2.238534, 1e-6)
	nearRel(t, "Hardenberg and Hase at -20", HardenbergHase().DelayMS(p.At(-20), r), 20.39808, 1e-6)
}

// Livengood and Wu 1955 along both paths, worked by adaptive quadrature and by
// Simpson's rule apart from this code. Where fuel does not ignite by 100 degrees
// after top dead centre, the row has the integral there and no angle.
func TestLightsAt(t *testing.T) {
	never := math.NaN()
	warm, warmR := warmPath()
	cold, coldR := coldPath()
	for _, c := range []struct {
		p       Path
		r       Running
		c       Correlation
		soi     timing.Deg
		at      float64
		reached float64 // 0: not checked
	}{
		{warm, warmR, Wolfer(), -20, -9.609009, 0}, {warm, warmR, Wolfer(), -15, -7.856894, 0},
		{warm, warmR, Wolfer(), -10, -5.049513, 0}, {warm, warmR, Wolfer(), -5, -1.175960, 0},
		{warm, warmR, Wolfer(), 0, 3.692396, 0}, {warm, warmR, Wolfer(), 5, 9.926427, 0},
		{warm, warmR, Wolfer(), 10, 21.682456, 0}, {warm, warmR, Wolfer(), 20, never, 0.276369},
		{warm, warmR, Watson(), -20, -15.674960, 0}, {warm, warmR, Watson(), -15, -11.987308, 0},
		{warm, warmR, Watson(), -10, -7.799418, 0}, {warm, warmR, Watson(), -5, -3.219433, 0},
		{warm, warmR, Watson(), 0, 1.680039, 0}, {warm, warmR, Watson(), 5, 6.899837, 0},
		{warm, warmR, Watson(), 10, 12.561090, 0}, {warm, warmR, Watson(), 20, 27.351714, 0},
		{warm, warmR, Stringer(), -20, -8.007389, 0}, {warm, warmR, Stringer(), -15, -6.382498, 0},
		{warm, warmR, Stringer(), -10, -3.724997, 0}, {warm, warmR, Stringer(), -5, 0.070821, 0},
		{warm, warmR, Stringer(), 0, 5.081190, 0}, {warm, warmR, Stringer(), 5, 12.140206, 0},
		{warm, warmR, Stringer(), 10, never, 0.960279}, {warm, warmR, Stringer(), 20, never, 0.229605},
		{warm, warmR, HardenbergHase(), -20, -16.983275, 0}, {warm, warmR, HardenbergHase(), -15, -13.192957, 0},
		{warm, warmR, HardenbergHase(), -10, -8.664114, 0}, {warm, warmR, HardenbergHase(), -5, -3.854626, 0},
		{warm, warmR, HardenbergHase(), 0, 1.099677, 0}, {warm, warmR, HardenbergHase(), 5, 6.174578, 0},
		{warm, warmR, HardenbergHase(), 10, 11.431311, 0}, {warm, warmR, HardenbergHase(), 20, never, 0.735674},
		{cold, coldR, Wolfer(), -20, 6.474983, 0}, {cold, coldR, Wolfer(), -15, 7.942588, 0}, {cold, coldR, Wolfer(), -10, 11.628726, 0},
		{cold, coldR, Wolfer(), -5, never, 0.981857}, {cold, coldR, Wolfer(), 0, never, 0.710527},
		{cold, coldR, Wolfer(), 5, never, 0.439198}, {cold, coldR, Wolfer(), 10, never, 0.234590}, {cold, coldR, Wolfer(), 20, never, 0.050969},
		{cold, coldR, Stringer(), -20, never, 0.778555}, {cold, coldR, Stringer(), 0, never, 0.404577},
		{cold, coldR, Watson(), 0, 2.792075, 0}, {cold, coldR, Watson(), 20, 40.739299, 0},
	} {
		name := fmt.Sprintf("%s from %g", c.c.Name, float64(c.soi))
		table := c.p.Integral(c.c, c.r)
		at, lights := table.Lights(c.soi)
		switch {
		case math.IsNaN(c.at):
			near(t, name+": integral", table.Reached(c.soi), c.reached, 1e-5)
			if lights {
				t.Errorf("%s lights at %g", name, float64(at))
			}
		case !lights:
			t.Errorf("%s does not ignite", name)
		default:
			near(t, name, float64(at), c.at, 1e-4)
		}
	}
}

// At one state throughout the delay is the correlation's own: an engine that
// compresses nothing (exponent 1 keeps the temperature; the pressure is held by
// a correlation that does not ask for it).
func TestConstantState(t *testing.T) {
	c := Charge{Cylinder: testCylinder, Closes: -140, Opens: 100, AtClosing: Gas{800, 40}, Exponent: 1}
	steady := Correlation{form: arrhenius(Wolfer().DelayMS(Gas{800, 40}, Running{})*math.Exp(-4650.0/800), 4650, 0, 1), rest: cetaneOutside}
	at, ok := c.Path().Integral(steady, Running{RPM: 200, Cetane: 50}).Lights(-10)
	if !ok {
		t.Fatal("does not ignite")
	}
	near(t, "delay in degrees", float64(at)+10, 2.22495882, 1e-6) // 1.85413235 ms at 200 rpm
}

// Closed form (hand calculation): a delay that grows or falls evenly with time,
// tau = t0 + k t, ends at t0 (e^k - 1)/k. Degrees stand for time here.
func TestLivengoodWuClosedForm(t *testing.T) {
	const n = 4000
	for _, c := range []struct{ k, want float64 }{{0.5, 2.594885083}, {-0.5, 1.573877361}} {
		table := Integral{from: 0, to: 4, step: 4.0 / n, sum: make([]float64, n+1), slope: make([]float64, n+1)}
		rate := func(x float64) float64 { return 1 / max(2+c.k*x, 0.1) }
		for i := range table.slope {
			table.slope[i] = rate(float64(i) * table.step)
			if i > 0 {
				table.sum[i] = table.sum[i-1] + table.step/6*(table.slope[i-1]+4*rate((float64(i)-0.5)*table.step)+table.slope[i])
			}
		}
		at, ok := table.Lights(0)
		if !ok {
			t.Fatal("does not ignite")
		}
		near(t, fmt.Sprintf("k = %g", c.k), float64(at), c.want, 1e-8)
	}
}

// The table against a general-purpose quadrature (Gauss and Legendre), on any
// engine, charge and start.
func TestIntegralAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ch, r := anyCharge(t)
		p := ch.Path()
		soi := timing.Deg(rapid.Float64Range(-60, 60).Draw(t, "start"))
		for _, c := range Correlations() {
			rate := func(deg float64) float64 { return 1 / (c.DelayMS(p.At(timing.Deg(deg)), r) * 0.006 * r.RPM) }
			var want float64
			// In stretches, so that Hardenberg and Hase's edge falls into a short one.
			const stretch = 2.0
			for a := float64(soi); a < float64(ch.Opens); a += stretch {
				want += quad.Fixed(rate, a, min(a+stretch, float64(ch.Opens)), 12, nil, 0)
			}
			// The path's leak and the table's own step set the tolerance.
			if got := p.Integral(c, r).Reached(soi); math.Abs(got-want) > 1e-5*(1+want) {
				t.Fatalf("%s from %g: table %.9g, quadrature %.9g", c.Name, float64(soi), got, want)
			}
		}
	})
}

func anyCharge(t *rapid.T) (Charge, Running) {
	c := Charge{
		Cylinder:  anyCylinder(t),
		Closes:    timing.Deg(rapid.Float64Range(-165, -110).Draw(t, "closes")),
		Opens:     timing.Deg(rapid.Float64Range(95, 150).Draw(t, "opens")),
		AtClosing: Gas{rapid.Float64Range(250, 340).Draw(t, "K"), rapid.Float64Range(0.8, 1.1).Draw(t, "bar")},
		Exponent:  rapid.Float64Range(1.2, 1.38).Draw(t, "n"),
		LogLeak:   rapid.SampledFrom([]float64{0, 0.02, 0.1, 0.3}).Draw(t, "leak"),
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	rpm := rapid.Float64Range(80, 400).Draw(t, "rpm")
	return c, Running{RPM: rpm, MeanPistonMS: c.MeanSpeedMS(rpm), Cetane: rapid.Float64Range(40, 55).Draw(t, "cetane"), Phi: 0.6, CetanePower: 1}
}

func TestLightOffLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ch, r := anyCharge(t)
		p := ch.Path()
		warmer := ch
		warmer.AtClosing.K += rapid.Float64Range(0, 40).Draw(t, "warmer")
		soi := timing.Deg(rapid.Float64Range(-60, 60).Draw(t, "start"))
		later := soi + timing.Deg(rapid.Float64Range(0, 30).Draw(t, "later"))
		delta := timing.Deg(rapid.Float64Range(-40, 40).Draw(t, "wheel error"))
		for _, c := range Correlations() {
			table := p.Integral(c, r)
			at, lights := table.Lights(soi)
			if lights && at < soi {
				t.Fatalf("%s: lights at %g before it is injected at %g", c.Name, float64(at), float64(soi))
			}
			if lights != (table.Reached(soi) >= 1) {
				t.Fatalf("%s: lights %v with an integral of %g", c.Name, lights, table.Reached(soi))
			}
			// Warmer air from the same start never lights later, nor not at all.
			if at2, ok := warmer.Path().Integral(c, r).Lights(soi); lights && (!ok || at2 > at+1e-6) {
				t.Fatalf("%s: warmer air lights at %g (%v), colder at %g", c.Name, float64(at2), ok, float64(at))
			}
			// A later start never lights earlier.
			if at2, ok := table.Lights(later); ok && (!lights || at2 < at-1e-6) {
				t.Fatalf("%s: from %g it lights at %g, from %g at %g", c.Name, float64(soi), float64(at), float64(later), float64(at2))
			}
			// An error forth and back changes nothing.
			if back, ok := table.Lights(soi + delta - delta); ok != lights || math.Abs(float64(back-at)) > 1e-6 {
				t.Fatalf("%s: there and back lights at %g, was %g", c.Name, float64(back), float64(at))
			}
			// The latest start that lights divides those that do from those that do not.
			if last, ok := table.Latest(); ok {
				if _, lights := table.Lights(last - 1e-4); !lights {
					t.Fatalf("%s: just before the latest start %g nothing lights", c.Name, float64(last))
				}
				if _, lights := table.Lights(last + 1e-4); lights && last+1e-4 < ch.Opens {
					t.Fatalf("%s: just after the latest start %g it still lights", c.Name, float64(last))
				}
			} else if lights {
				t.Fatalf("%s: there is no latest start, yet %g lights", c.Name, float64(soi))
			}
		}
	})
}

func TestLightsBefore(t *testing.T) {
	p, r := warmPath()
	table := p.Integral(Wolfer(), r)
	soi, ok := table.LightsBefore(-5.049513)
	if !ok {
		t.Fatal("none")
	}
	near(t, "start that lights at -5.049513", float64(soi), -10, 1e-4) // the row above, read backwards
	if _, ok := table.LightsBefore(-30); ok {
		t.Error("nothing lights 30 degrees before top dead centre on this path")
	}
}

// A start outside the closed part of the cycle: before it the integral begins at
// closing, after it there is nothing.
func TestStartsOutsideTheClosedPart(t *testing.T) {
	p, r := warmPath()
	table := p.Integral(Wolfer(), r)
	if table.Reached(-170) != table.Reached(-140) || table.Reached(-139) > table.Reached(-140) {
		t.Error("before closing the integral does not begin at closing")
	}
	if _, lights := table.Lights(120); lights || table.Reached(120) != 0 {
		t.Error("after opening something lights")
	}
	if p.Holds(-141) || !p.Holds(-140) || !p.Holds(100) || p.Holds(101) {
		t.Error("the closed part runs from -140 to 100")
	}
	if p.At(-170) != p.At(-140) || p.At(170) != p.At(100) {
		t.Error("outside the closed part the gas is not that at its end")
	}
}

// How late may fuel be injected on the warm path, and still light?
func ExampleIntegral_Latest() {
	p, r := warmPath()
	last, _ := p.Integral(Wolfer(), r).Latest()
	fmt.Printf("%.1f degrees after top dead centre\n", float64(last))
	// Output: 11.4 degrees after top dead centre
}

func BenchmarkPathAndIntegral(b *testing.B) {
	p, r := warmPath()
	c := p.Charge()
	for b.Loop() {
		p := c.Path()
		for _, k := range Correlations() {
			p.Integral(k, r).Lights(-10)
		}
	}
}
