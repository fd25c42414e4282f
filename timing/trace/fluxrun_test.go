package trace

import (
	"flag"
	"math"
	"testing"
)

var fluxes = flag.Int("flux", 24, "how many recordings of the flux maker to try")
var fluxFrom = flag.Int("fluxfrom", 0, "")

func TestFlux(t *testing.T) {
	n, followed, sensor, lost, told, held, out := 0, 0, 0, 0, 0, 0, 0
	for seed := uint64(*fluxFrom); seed < uint64(*fluxFrom+*fluxes); seed++ {
		p := anyFlux(seed)
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		n++
		if err != nil {
			t.Errorf("seed %d: %v; %v", seed, err, p)
			continue
		}
		f := kinds(a)
		if f[WheelDiffers]+f[WheelMirrored] > 0 || len(a.Runs) == 0 {
			t.Errorf("seed %d: wheel %v; %v", seed, a.Found, p)
			continue
		}
		followed++
		if f[CrankSensorKind] == 0 {
			sensor++
		} else {
			t.Errorf("seed %d: crank sensor hall %v shape; %v", seed, a.Channels[0].Hall, p)
		}
		if f[CamSensorKind] > 0 {
			t.Errorf("seed %d: cam sensor hall %v; %v", seed, a.Channels[1].Hall, p)
		}
		if len(a.Slips) > 0 {
			lost++
			t.Errorf("seed %d: slips %v; %v", seed, a.Slips[:min(3, len(a.Slips))], p)
		}
		if a.Correlation == nil {
			t.Errorf("seed %d: no correlation %v; %v", seed, a.Faults[max(len(a.Faults)-5, 0):], p)
			continue
		}
		told++
		off := signed(float64(a.Correlation.Value)-(p.delta-p.gamma), float64(a.CorrelationModulo))
		if math.Abs(off) <= 1.96*float64(a.Correlation.U) {
			held++
		}
		if lim := 0.3; math.Abs(off) > lim {
			out++
			t.Errorf("seed %d: off %.2f ± %.2f; %v", seed, off, a.Correlation.U, p)
		}
	}
	t.Logf("%d: followed %d, sensor %d, with slips %d, told %d, held %d, beyond 0.3 %d", n, followed, sensor, lost, told, held, out)
}
