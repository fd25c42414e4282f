package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What the gauge read comes back as the highest pressure on the path.
func TestGaugeComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := anyCharge(t)
		isentropic := DryAir.Exponent(c.AtClosing.K, c.ClosedRatio())
		most := c.AtClosing.Bar*math.Pow(c.ClosedRatio(), isentropic) - c.AtClosing.Bar - 1e-6
		g := Gauge{Bar: rapid.Float64Range(1, most).Draw(t, "gauge"), AmbientBar: c.AtClosing.Bar, RPM: 180}
		k, reading := g.Explain(c, DefaultExponent, isentropic)
		if reading == BeyondAirtight {
			t.Fatalf("%g bar of at most %g is beyond airtight", g.Bar, most)
		}
		if reading == LeakReading != (k.LogLeak > 0) || k.LogLeak < 0 || k.Exponent > isentropic {
			t.Fatalf("%v read as %v", k, reading)
		}
		c.Exponent, c.LogLeak = k.Exponent, k.LogLeak
		_, highest := c.Path().Hottest() // and of highest pressure
		// The lead is a parabola's: sharp while the leak is not most of the charge.
		tol := 1e-3 + 0.3*math.Pow(k.LogLeak, 3)
		if got := highest.Bar - c.AtClosing.Bar; math.Abs(got-g.Bar) > tol*(g.Bar+1) {
			t.Fatalf("the gauge read %g bar, the path has %g (leak %g)", g.Bar, got, k.LogLeak)
		}
	})
}

func TestGaugeReadings(t *testing.T) {
	const closed, isentropic = 15.0, 1.38
	at := func(n float64) float64 { return math.Pow(closed, n) - 1 }
	for _, c := range []struct {
		name    string
		bar     float64
		want    Compression
		reading Reading
	}{
		{"as thought", at(1.30), Compression{1.30, 0}, TightReading},
		{"better", at(1.35), Compression{1.35, 0}, TightReading},
		// By hand: ln p = 1.2 ln 15 = 1.3 (ln 15 - leak).
		{"leaks", at(1.20), Compression{1.30, math.Log(closed) * (1 - 1.2/1.3)}, LeakReading},
		{"too good", at(1.45), Compression{1.38, 0}, BeyondAirtight},
		{"nothing", 0, Compression{1.30, math.Log(closed)}, LeakReading},
	} {
		got, reading := Gauge{Bar: c.bar, AmbientBar: 1}.explain(1, closed, 0, 1.30, isentropic)
		if reading != c.reading || math.Abs(got.Exponent-c.want.Exponent) > 1e-9 || math.Abs(got.LogLeak-c.want.LogLeak) > 1e-9 {
			t.Errorf("%s: %v (%v), want %v (%v)", c.name, got, reading, c.want, c.reading)
		}
	}
}

func TestCarried(t *testing.T) {
	k := Compression{Exponent: 1.30, LogLeak: 0.1}
	if got := k.Carried(180, 180, 1.38, HeatPower); math.Abs(got.Exponent-1.30) > 1e-12 || got.LogLeak != 0.1 {
		t.Errorf("at the same speed %v", got)
	}
	fast, slow := k.Carried(180, 360, 1.38, HeatPower), k.Carried(180, 90, 1.38, HeatPower)
	near(t, "leak at twice the speed", fast.LogLeak, 0.05, 1e-12)
	near(t, "what the exponent lacks at twice the speed", 1.38-fast.Exponent, 0.08/math.Sqrt2, 1e-12)
	if !(slow.Exponent < k.Exponent && slow.LogLeak > k.LogLeak) {
		t.Errorf("at half the speed %v", slow)
	}
	if got := k.Carried(1000, 1, 1.38, HeatPowerHigh); got.Exponent < 1 {
		t.Errorf("the exponent fell to %g", got.Exponent)
	}
}

// A gauge shows 24 bar on a 17:1 engine. What does that say?
func ExampleGauge_Explain() {
	c := Charge{Cylinder: testCylinder, Closes: -140, Opens: 130, AtClosing: Gas{300, 1}, Exponent: DefaultExponent}
	k, _ := Gauge{Bar: 24, AmbientBar: 1, RPM: 180}.Explain(c, DefaultExponent, 1.38)
	fmt.Printf("with n = %.2f, %.0f %% of the charge is gone at top dead centre\n", k.Exponent, 100*(1-math.Exp(-k.LogLeak)))
	// Output: with n = 1.30, 25 % of the charge is gone at top dead centre
}
