package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The formulas as the sources named at each constructor have them (constants from
// memory), worked apart from this code.
func TestCorrelationsAtThreeStates(t *testing.T) {
	r := Running{RPM: 2000, MeanPistonMS: 7, Cetane: 50, Phi: 1, CetanePower: 1}
	for _, c := range []struct {
		g                         Gas
		wolfer, watson, stringer_ float64
	}{
		{Gas{700, 30}, 5.9901452, 2.1579375, 7.7475455},
		{Gas{800, 40}, 1.8541324, 1.1059638, 2.3449858},
		{Gas{900, 50}, 0.74530831, 0.65799635, 0.92609429},
	} {
		near(t, fmt.Sprintf("Wolfer at %v", c.g), Wolfer().DelayMS(c.g, r), c.wolfer, 1e-7)
		near(t, fmt.Sprintf("Watson at %v", c.g), Watson().DelayMS(c.g, r), c.watson, 1e-7)
		near(t, fmt.Sprintf("Stringer at %v", c.g), Stringer().DelayMS(c.g, r), c.stringer_, 1e-7)
		// Hand calculation: Assanis has Watson's exponents, and 2.4 for 3.45.
		near(t, fmt.Sprintf("Assanis at %v", c.g), Assanis().DelayMS(c.g, r), 2.4/3.45*c.watson, 1e-7)
	}
	lean := r
	lean.Phi = 0.5
	near(t, "Assanis at half the fuel", Assanis().DelayMS(Gas{700, 30}, lean)/Assanis().DelayMS(Gas{700, 30}, r), math.Pow(2, 0.2), 1e-12)
}

// Hardenberg and Hase 1979 as a product of the two brackets (Heywood 1988, eq.
// 10.37, from memory), worked apart from this code: a running and a cranking
// state. The sum of the brackets would give 7.94 and 2.60 degrees.
func TestHardenbergHase(t *testing.T) {
	for _, c := range []struct {
		g       Gas
		r       Running
		deg, ms float64
	}{
		{Gas{900, 45}, Running{RPM: 2000, MeanPistonMS: 7, Cetane: 45}, 3.1600532, 0.26333777},
		{Gas{800, 40}, Running{RPM: 200, MeanPistonMS: 0.7333333, Cetane: 50}, 0.99272005, 0.82726671},
	} {
		ms := HardenbergHase().DelayMS(c.g, c.r)
		near(t, "delay in ms", ms, c.ms, 1e-7)
		near(t, "delay in degrees", ms*0.006*c.r.RPM, c.deg, 1e-7)
	}
}

// Where a formula has no value the delay is +Inf, never NaN.
func TestUndefinedDelays(t *testing.T) {
	r := Running{RPM: 200, MeanPistonMS: 0.7, Cetane: 50, Phi: 0.6, CetanePower: 1}
	for _, c := range []struct {
		name string
		ms   float64
	}{
		{"Hardenberg at 12.4 bar", HardenbergHase().DelayMS(Gas{700, 12.4}, r)},
		{"Hardenberg below it", HardenbergHase().DelayMS(Gas{700, 3}, r)},
		{"Hardenberg just above it", HardenbergHase().DelayMS(Gas{300, math.Nextafter(12.4, 13)}, r)},
		{"Assanis without fuel", Assanis().DelayMS(Gas{700, 30}, Running{RPM: 200, Cetane: 50})},
	} {
		if !math.IsInf(c.ms, 1) {
			t.Errorf("%s: %g ms, want +Inf", c.name, c.ms)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		g := Gas{rapid.Float64Range(1, 4000).Draw(t, "K"), rapid.Float64Range(1e-3, 1000).Draw(t, "bar")}
		for _, c := range Correlations() {
			if ms := c.DelayMS(g, r); math.IsNaN(ms) || ms < 0 {
				t.Fatalf("%s at %v: %g ms", c.Name, g, ms)
			}
			if v := math.Exp(c.logPerDeg(r) - c.state(1/g.K, math.Log(g.Bar), r)); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s at %v: rate %g", c.Name, g, v)
			}
		}
	})
}

// Warmer, tighter and with better fuel nothing lights later.
func TestDelayLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Gas{rapid.Float64Range(300, 1200).Draw(t, "K"), rapid.Float64Range(1, 120).Draw(t, "bar")}
		warm := Gas{g.K + rapid.Float64Range(0, 200).Draw(t, "warmer"), g.Bar}
		high := Gas{g.K, g.Bar + rapid.Float64Range(0, 50).Draw(t, "higher")}
		r := Running{RPM: 180, MeanPistonMS: 0.7, Cetane: rapid.Float64Range(30, 60).Draw(t, "cetane"), Phi: 0.6, CetanePower: 1}
		better := r
		better.Cetane += rapid.Float64Range(0, 20).Draw(t, "better")
		for _, c := range Correlations() {
			ms := c.DelayMS(g, r)
			if c.DelayMS(warm, r) > ms*(1+1e-12) || c.DelayMS(high, r) > ms*(1+1e-12) || c.DelayMS(g, better) > ms*(1+1e-12) {
				t.Fatalf("%s at %v: longer when warmer, higher or with more cetane", c.Name, g)
			}
		}
	})
}

// Cetane changes nothing at 50, and at 40 lengthens a delay by 75/65 where the
// formula has no cetane of its own.
func TestCetane(t *testing.T) {
	g := Gas{700, 30}
	at := func(c Correlation, cn, power float64) float64 {
		return c.DelayMS(g, Running{RPM: 180, MeanPistonMS: 0.7, Cetane: cn, Phi: 1, CetanePower: power})
	}
	near(t, "Wolfer at 40", at(Wolfer(), 40, 1)/at(Wolfer(), 50, 1), 75.0/65, 1e-12)
	near(t, "Wolfer at 50", at(Wolfer(), 50, 1), at(Wolfer(), 50, 0), 0)
	// Hardenberg and Hase's own cetane at a cranking state is of that size.
	own := at(HardenbergHase(), 40, 0) / at(HardenbergHase(), 50, 0)
	if own < 1.1 || own > 1.3 {
		t.Errorf("at cetane 40 Hardenberg and Hase's delay is %.3f of that at 50", own)
	}
	if at(HardenbergHase(), 40, 0) != at(HardenbergHase(), 40, 2) {
		t.Error("the power of cetane works on a formula that has cetane in it")
	}
}

func TestRanges(t *testing.T) {
	for _, c := range []struct {
		g    Gas
		want Place
	}{
		{Gas{600, 20}, Inside}, {Gas{589, 20}, Colder}, {Gas{800, 20}, Hotter},
		{Gas{700, 8}, LowerPressure}, {Gas{700, 50}, HigherPressure}, {Gas{500, 2}, Colder},
	} {
		if got := Wolfer().InRange(c.g); got != c.want {
			t.Errorf("%v is %v, want %v", c.g, got, c.want)
		}
	}
	names := map[string]bool{}
	for _, c := range Correlations() {
		if c.Source == "" || c.Title == "" || names[c.Name] {
			t.Errorf("%q: no source, no title or a name given twice", c.Name)
		}
		names[c.Name] = true
		if got, ok := CorrelationNamed(c.Name); !ok || got.Title != c.Title {
			t.Errorf("%s is not found by its name", c.Name)
		}
	}
	if _, ok := CorrelationNamed("none"); ok {
		t.Error("a correlation that is not there was found")
	}
	if Correlations()[0].Data.ColdK > 600 {
		t.Error("the default's data do not reach down to cranking")
	}
}

// How long does fuel wait at 700 K and 30 bar?
func ExampleWolfer() {
	ms := Wolfer().DelayMS(Gas{K: 700, Bar: 30}, Running{})
	fmt.Printf("%.1f ms\n", ms)
	// Output: 6.0 ms
}
