package piston

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

const gasConstant = 8.31446261815324 // J/(mol K)

// McBride, Zehe and Gordon, NASA/TP-2002-211556: the polynomials worked
// apart from this code; they agree with the JANAF tables (nitrogen at 298.15 K:
// cp 29.124, S 191.609 J/(mol K)).
func TestPolynomials(t *testing.T) {
	for _, c := range []struct {
		name          string
		s             species
		k, cp, entr   float64
		dh            float64 // kJ/mol over 298.15 K
		enthalpyGiven bool
	}{
		{"N2", nitrogen, 298.15, 29.124184, 191.60862, 0, true},
		{"N2", nitrogen, 1000, 32.696255, 228.16939, 21.46215, true},
		{"O2", oxygen, 298.15, 29.378186, 205.14830, 0, true},
		{"O2", oxygen, 1000, 34.882346, 243.58593, 22.70708, true},
	} {
		near(t, c.name+" cp", gasConstant*c.s.cp(c.k), c.cp, 1e-5)
		near(t, c.name+" S", gasConstant*c.s.entropy(c.k), c.entr, 1e-5)
		near(t, c.name+" h", gasConstant*(c.s.enthalpy(c.k)-c.s.enthalpy(298.15))/1000, c.dh, 1e-5)
	}
}

// The two ranges of temperature meet at 1000 K without a step worth the name.
func TestPolynomialsMeet(t *testing.T) {
	for name, s := range map[string]species{"N2": nitrogen, "O2": oxygen, "Ar": argon} {
		below := math.Nextafter(seamK, 0)
		near(t, name+" cp", s.cp(seamK), s.cp(below), 2e-6)
		near(t, name+" s", s.entropy(seamK), s.entropy(below), 2e-6)
		near(t, name+" h", s.enthalpy(seamK), s.enthalpy(below), 2e-3) // kelvins
	}
}

// The same polynomials, mixed: air of 79 and 21 parts, and with argon.
func TestAirProperties(t *testing.T) {
	plain := Air{N2: 0.79, O2: 0.21}
	for _, c := range []struct {
		a                Air
		k, cp, cpOverCv_ float64
	}{
		{plain, 300, 3.5095605, 1.3984761}, {plain, 600, 3.6713178, 1.3743471},
		{plain, 800, 3.8390037, 1.3522362}, {plain, 1000, 3.9876701, 1.3347090},
		{DryAir, 300, 3.5002175, 1.3999652}, {DryAir, 600, 3.6607707, 1.3758310},
		{DryAir, 800, 3.8269548, 1.3537375}, {DryAir, 1000, 3.9742168, 1.3362230},
	} {
		near(t, fmt.Sprintf("cp/R at %g K", c.k), c.a.Cp(c.k), c.cp, 1e-6)
		near(t, fmt.Sprintf("cp/cv at %g K", c.k), c.a.Gamma(c.k), c.cpOverCv_, 1e-6)
	}
}

// Isentropic compression by the polynomials, worked apart from this code.
func TestSqueeze(t *testing.T) {
	for _, c := range []struct{ k, ratio, hot, pressure float64 }{
		{295, 8, 662.62146, 17.969396}, {300, 14, 822.90337, 38.402157}, {300, 17, 880.55254, 49.897977},
		{300, 20, 931.16200, 62.077466}, {300, 22, 961.87067, 70.537183}, {260, 17, 776.73206, 50.786327},
	} {
		hot, p := DryAir.Squeeze(c.k, c.ratio)
		near(t, fmt.Sprintf("T2 from %g K, %g:1", c.k, c.ratio), hot, c.hot, 1e-4)
		near(t, fmt.Sprintf("p2/p1 from %g K, %g:1", c.k, c.ratio), p, c.pressure, 1e-5)
	}
	plain := Air{N2: 0.79, O2: 0.21}
	hot, _ := plain.Squeeze(300, 17)
	near(t, "T2 without argon", hot, 877.17356, 1e-4)
	near(t, "mean exponent without argon", plain.Exponent(300, 17), 1.378695, 1e-6)
}

// The gas tables. Cengel and Boles, Thermodynamics, table A-17 (tolerance: that
// of reading it): example 7-10, 295 K and 8:1, and two ratios from its rows at
// 300 K. A course exercise of 22:1 from 325 K and 101.3 kPa ends above 1000 K,
// where the polynomials change over.
func TestSqueezeAgainstGasTables(t *testing.T) {
	hot, _ := DryAir.Squeeze(295, 8)
	near(t, "295 K, 8:1", hot, 662.7, 0.3)
	for ratio, want := range map[float64][2]float64{17: {880.60, 49.90}, 20: {931.43, 62.10}} {
		hot, p := DryAir.Squeeze(300, ratio)
		near(t, fmt.Sprintf("300 K, %g:1", ratio), hot, want[0], 0.003*want[0])
		near(t, fmt.Sprintf("pressure ratio, %g:1", ratio), p, want[1], 0.003*want[1])
	}
	hot, p := Air{N2: 0.7905, O2: 0.2095}.Squeeze(325, 22)
	near(t, "325 K, 22:1", hot, 1024.7489, 0.5)
	near(t, "kPa at 325 K, 22:1", 101.3*p, 7026.94, 5)
}

// Table A-17's enthalpies and its variable part of the entropy, in kJ/kg and
// kJ/(kg K), as differences between rows (tolerance 0.1 %).
func TestAirAgainstGasTableRows(t *testing.T) {
	const perKG = 8.314 / 28.97
	rows := []struct{ k, h, s0 float64 }{{300, 300.19, 1.70203}, {500, 503.02, 2.21952}, {800, 821.95, 2.71787}, {900, 932.93, 2.84856}, {1000, 1046.04, 2.96770}}
	for _, r := range rows[1:] {
		near(t, fmt.Sprintf("h at %g K", r.k), perKG*(DryAir.EnthalpyK(r.k)-DryAir.EnthalpyK(300)), r.h-300.19, 1e-3*(r.h-300.19))
		near(t, fmt.Sprintf("s at %g K", r.k), perKG*(DryAir.Entropy(r.k)-DryAir.Entropy(300)), r.s0-1.70203, 1e-3*(r.s0-1.70203))
	}
	// Moran and Shapiro, Fundamentals of Engineering Thermodynamics, sec. 6.5.1:
	// 300 K, 1 bar to 1000 K, 3 bar.
	near(t, "entropy to 1000 K, 3 bar", perKG*(DryAir.Entropy(1000)-DryAir.Entropy(300)-math.Log(3)), 0.9504, 1e-3)
}

// Energy: what an isentropic compression takes in work is what the air gains in
// internal energy.
func TestWorkBecomesEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(230, 400).Draw(t, "K")
		ratio := rapid.Float64Range(2, 24).Draw(t, "ratio")
		hot, _ := DryAir.Squeeze(k, ratio)
		gain := DryAir.EnthalpyK(hot) - hot - (DryAir.EnthalpyK(k) - k) // of u/R
		// p dV over R T1: from volume 1 to 1/ratio, with x = ln(1/volume).
		work := quad.Fixed(func(x float64) float64 {
			_, p := DryAir.Squeeze(k, math.Exp(x))
			return k * p * math.Exp(-x)
		}, 0, math.Log(ratio), 40, nil, 0)
		// The seam of the polynomials costs a little of the quadrature's sharpness.
		if math.Abs(gain-work) > 1e-5*gain {
			t.Fatalf("from %g K at %g:1 the air gains %g K of energy for %g K of work", k, ratio, gain, work)
		}
	})
}

// Outside the range of the polynomials the nearest end stands in.
func TestAirOutsideItsRange(t *testing.T) {
	if DryAir.Cp(150) != DryAir.Cp(200) || DryAir.Cp(9000) != DryAir.Cp(6000) {
		t.Error("cp outside 200 to 6000 K is not that at the end of the range")
	}
	if n := DryAir.Exponent(170, 17); !(n > 1.37 && n < 1.41) {
		t.Errorf("exponent from 170 K is %g", n)
	}
}

// How hot does air of 27 °C get when it is compressed to a seventeenth without
// losing heat?
func ExampleAir_Squeeze() {
	hot, pressure := DryAir.Squeeze(300, 17)
	fmt.Printf("%.0f K, %.1f times the pressure\n", hot, pressure)
	// Output: 881 K, 49.9 times the pressure
}
