package trace

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
)

// A two-stroke's cycle is one turn, its ports stay where they are, and its cam turns
// with the crank: its recordings are read all the same.
func TestTwoStroke(t *testing.T) {
	for _, c := range twoStrokes() {
		s, k := c.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Errorf("%s, %d cylinders: %v, %+v", c.name, c.cylinders, err, a)
			continue
		}
		corr := signed(float64(a.Correlation.Value)-(c.wheels.Delta-c.wheels.Gamma), float64(a.CorrelationModulo))
		if a.CorrelationModulo != 360 || math.Abs(corr) > 0.3 || math.Abs(corr) > 2*float64(a.Correlation.U) {
			t.Errorf("%s, %d cylinders: correlation off by %.2f ± %.2f, modulo %g", c.name, c.cylinders, corr, a.Correlation.U, float64(a.CorrelationModulo))
		}
		if kinds(a)[TurnUnknown] > 0 || a.HalfTurn != nil {
			t.Errorf("%s, %d cylinders: half a turn out of a cycle of one turn", c.name, c.cylinders)
		}
		if a.TDC == nil {
			t.Errorf("%s, %d cylinders: no TDC at %.0f rpm: %+v", c.name, c.cylinders, a.RPM, a.Faults)
			continue
		}
		off := signed(float64(a.TDC.Value)-c.wheels.Delta, float64(a.Modulo))
		_, most := c.limits()
		t.Logf("%s, %d cylinders, %d positions, %.0f rpm: TDC off by %.2f ± %.2f, modulo %g, explained %.4f, swing %.3f, strange %.2f",
			c.name, c.cylinders, k.Crank.Positions, a.RPM, off, a.TDC.U, float64(a.Modulo), a.Ripple.Explained, a.Ripple.Swing, a.Ripple.Strange)
		if math.Abs(off) > most || math.Abs(off) > 2*float64(a.TDC.U) || math.Abs(float64(a.Modulo)-360/float64(c.cylinders)) > 1e-9 {
			t.Errorf("%s, %d cylinders: TDC off by %.2f ± %.2f, modulo %g", c.name, c.cylinders, off, a.TDC.U, float64(a.Modulo))
		}
	}
}

// Engines that fire unevenly have their own ripple, and true TDC comes from it too.
func TestUnevenFiring(t *testing.T) {
	for _, c := range []tryout{
		{cylinders: 6, intervals: []timing.Deg{90, 150, 90, 150, 90, 150}},
		{cylinders: 4, intervals: []timing.Deg{150, 210, 150, 210}},
		{cylinders: 3, intervals: []timing.Deg{180, 180, 360}},
	} {
		c.wheels, c.start, c.seed, c.seconds = wheel60(), 37, 1, 4
		c.wheels.Delta = -20
		s, k := c.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.TDC == nil {
			t.Errorf("%v: %v, %+v", c.intervals, err, a)
			continue
		}
		off := signed(float64(a.TDC.Value)+20, float64(a.Modulo))
		t.Logf("%v: TDC off by %.2f ± %.2f, modulo %g, strange %.2f", c.intervals, off, a.TDC.U, float64(a.Modulo), a.Ripple.Strange)
		if math.Abs(off) > 2 || math.Abs(off) > 2*float64(a.TDC.U) || kinds(a)[StrangeRipple] > 0 {
			t.Errorf("%v: TDC off by %.2f ± %.2f, strange %.2f", c.intervals, off, a.TDC.U, a.Ripple.Strange)
		}
	}
}

// The starter's current is used where there is one: it moves top dead centre a little,
// which stays as right and as sure, for leak and heat are still not known. The
// pressure of a cylinder makes it surer by far; of a two-stroke too.
func TestOtherChannelsCount(t *testing.T) {
	for _, two := range []bool{false, true} {
		c := fourCylinders()
		c.two, c.scope.Current, c.scope.Pressure = two, true, true
		s, k := c.play()
		var u []timing.Measured
		for _, names := range [][]string{{"A", "B", "unused", "unknown"}, {"A", "B", "unused", "starter current"}, {"A", "B", "cylinder 1 pressure", "unknown"}} {
			a, err := collect(s, names...).Analyse(k)
			if err != nil || a.TDC == nil {
				t.Fatalf("%v: %v, %+v", names, err, a)
			}
			if off := signed(float64(a.TDC.Value)+20, float64(a.Modulo)); math.Abs(off) > 1.96*float64(a.TDC.U) {
				t.Errorf("two-stroke %v, %v: TDC off by %.2f ± %.2f", two, names, off, a.TDC.U)
			}
			u = append(u, *a.TDC)
		}
		t.Logf("two-stroke %v: %.2f ± %.2f, with the current %.2f ± %.2f, with the pressure %.2f ± %.2f", two, u[0].Value, u[0].U, u[1].Value, u[1].U, u[2].Value, u[2].U)
		if u[1] == u[0] || u[1].U > 1.02*u[0].U || u[2].U >= 0.8*u[0].U {
			t.Errorf("two-stroke %v: other channels do not count: %v", two, u)
		}
	}
}
