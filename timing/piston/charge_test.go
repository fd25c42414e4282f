package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Polytropic compression by hand: 7.5:1 with n = 1.3 makes 13.7 bar of one
// (published worked number); and on an engine of bore 104, stroke 85, rod 136.5
// mm, 21.5:1, closing 45 degrees after bottom dead centre, worked apart from
// this code.
func TestCompressionPressures(t *testing.T) {
	near(t, "7.5^1.3", Path{charge: Charge{AtClosing: Gas{300, 1}, Exponent: 1.3}}.gas(math.Log(7.5)).Bar, 13.7271267, 1e-7)
	cyl := Cylinder{SliderCrank{ThrowMM: 42.5, RodMM: 136.5}, 104, 21.5}
	for n, rows := range map[float64][]float64{
		1.35: {3.6866777, 13.719864, 42.353487, 52.907073, 54.409224},
		1.30: {3.5127616, 12.451617, 36.866679, 45.675141, 46.923280},
	} {
		p := Charge{Cylinder: cyl, Closes: -135, Opens: 130, AtClosing: Gas{300, 1}, Exponent: n}.Path()
		for i, at := range []timing.Deg{-60, -30, -10, -3.2, 0} {
			nearRel(t, fmt.Sprintf("p at %g with n = %g", float64(at), n), p.At(at).Bar, rows[i], 1e-7)
		}
	}
}

// Volume, mass and state stay consistent: p V = m R T all along, and the leak
// takes what it is said to take by top dead centre.
func TestChargeIsConsistent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := anyCharge(t)
		p := c.Path()
		mass := func(at timing.Deg) float64 {
			g := p.At(at)
			return g.Bar * c.VolumeRatio(at) / g.K / (c.AtClosing.Bar * c.ClosedRatio() / c.AtClosing.K)
		}
		if m := mass(0); math.Abs(m-math.Exp(-c.LogLeak)) > 1e-4 {
			t.Fatalf("%g of the charge is left at top dead centre, want %g", m, math.Exp(-c.LogLeak))
		}
		at := timing.Deg(rapid.Float64Range(float64(c.Closes), float64(c.Opens)-1).Draw(t, "at"))
		if before, after := mass(at), mass(at+1); after > before+1e-9 || after <= 0 || before > 1+1e-9 {
			t.Fatalf("at %g the mass goes from %g to %g", float64(at), before, after)
		}
		hot, g := p.Hottest()
		if hot > 1e-3 || c.LogLeak == 0 && math.Abs(float64(hot)) > 1e-3 || g.K < p.At(at).K-1e-6 {
			t.Fatalf("hottest at %g with %g K, at %g it is %g K", float64(hot), g.K, float64(at), p.At(at).K)
		}
	})
}

func TestFirstAtLeast(t *testing.T) {
	p, _ := warmPath()
	at, ok := p.FirstAtLeast(558.450068) // the state at 30 degrees before top dead centre
	if !ok {
		t.Fatal("never that warm")
	}
	near(t, "angle", float64(at), -30, 1e-3)
	if at, ok := p.FirstAtLeast(100); !ok || at != -140 {
		t.Errorf("100 K is reached at %g, %v", float64(at), ok)
	}
	if _, ok := p.FirstAtLeast(2000); ok {
		t.Error("2000 K is reached")
	}
}

func TestChargesThatCannotBe(t *testing.T) {
	p, _ := warmPath()
	for name, change := range map[string]func(*Charge){
		"closes after top":  func(c *Charge) { c.Closes = 0 },
		"closes too early":  func(c *Charge) { c.Closes = -271 },
		"opens before top":  func(c *Charge) { c.Opens = 0 },
		"no temperature":    func(c *Charge) { c.AtClosing.K = 0 },
		"no pressure":       func(c *Charge) { c.AtClosing.Bar = math.NaN() },
		"exponent below 1":  func(c *Charge) { c.Exponent = 0.9 },
		"negative leak":     func(c *Charge) { c.LogLeak = -0.1 },
		"cylinder":          func(c *Charge) { c.Ratio = 1 },
		"endless leak":      func(c *Charge) { c.LogLeak = math.Inf(1) },
		"angle is no angle": func(c *Charge) { c.Opens = timing.Deg(math.NaN()) },
	} {
		c := p.Charge()
		change(&c)
		if c.Check() == nil {
			t.Errorf("%s: must be refused", name)
		}
	}
	if err := p.Charge().Check(); err != nil {
		t.Error(err)
	}
}
