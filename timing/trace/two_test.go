package trace

import (
	"math"
	"testing"
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
