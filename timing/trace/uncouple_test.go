package trace

import (
	"math"
	"testing"
)

// pulsed is a recording of the maker of poles whose cam has few teeth, recorded through a
// capacitor of a time constant, seconds; 0: none.
func pulsed(width, couple float64) pole {
	return pole{seed: 3, positions: 60, missing: []int{59, 60}, cam: []float64{0, 120, 250}, first: 80, camFirst: 300, duty: 0.45, flank: 0.15,
		camWidth: width, camFlank: 2.5, rpm: 190, swing: 0.05, firings: 2, seconds: 2.5, rate: 24000, noise: 0.01, gain: 4, bits: 16, couple: couple}
}

// A cam's pulse behind a capacitor passes its middle where it does without one. The
// capacitor, a high pass of one pole, moves it by one degree and more.
func TestUncoupled(t *testing.T) {
	for _, c := range []struct {
		width, couple float64
		flip          bool
		u             float64 // most
	}{{8, 0, false, 0.2}, {5, 0.008, true, 0.25}, {8, 0.008, false, 0.35}, {8, 0.05, true, 0.25}, {12, 0.02, false, 0.5}} {
		p := pulsed(c.width, c.couple)
		p.camFlip = c.flip
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Errorf("%+v: %v, %+v", c, err, faultsOf(a))
			continue
		}
		if off, u := signed(float64(a.Correlation.Value), 360), float64(a.Correlation.U); math.Abs(off) > 0.2 || u > c.u {
			t.Errorf("%+v: off by %.2f ± %.2f", c, off, u)
		}
	}
}

// Where the pulse is cut off as well, what was taken away cannot be given back: the uncertainty
// says so.
func TestTakenAwayAndCutOff(t *testing.T) {
	for _, flip := range []bool{false, true} {
		p := pulsed(12, 0.01)
		p.clipLo, p.camFlip = 0.15, flip
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Logf("flip %v: %v, %+v", flip, err, faultsOf(a))
			continue
		}
		off, u := signed(float64(a.Correlation.Value), 360), float64(a.Correlation.U)
		if math.Abs(off) > 2.5*u {
			t.Errorf("flip %v: off by %.2f ± %.2f", flip, off, u)
		}
	}
}
