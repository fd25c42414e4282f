package trace

import (
	"flag"
	"math"
	"testing"
)

var (
	fluxes   = flag.Int("flux", 30, "how many recordings of the flux maker to try")
	fluxFrom = flag.Uint64("fluxfrom", 1000, "the first of them")
)

// clean tells whether nothing but the sensors themselves is in a recording, sensors whose
// shape says where a tooth is.
func (p flux) clean() bool {
	return p.noise < 0.03 && p.hum == 0 && p.couple == 0 && p.clipLo+p.clipHi == 0 && !p.comparator && !p.stall
}

// Recordings of the third maker, of which the limits were not set by its own: wheel and
// sensors are what they are, no tooth is lost that is there, and the correlation comes
// back within what is stated, whatever stands between sensor and file.
func TestFluxRecordings(t *testing.T) {
	var n, followed, crank, cam, whole, told, held, close int
	var doubts doubted
	for seed := *fluxFrom; seed < *fluxFrom+uint64(*fluxes); seed++ {
		p := anyFlux(seed)
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		n++
		if err != nil || len(a.Runs) == 0 {
			t.Logf("not followed: %v, %+v; %v", err, faultsOf(a), p)
			continue
		}
		followed++
		f := kinds(a)
		if f[CrankSensorKind] == 0 {
			crank++
		} else {
			t.Logf("crank sensor: %+v; %v", a.Channels[0], p)
		}
		if f[CamSensorKind] == 0 || p.comparator {
			cam++ // behind a comparator nothing tells
		} else {
			t.Logf("cam sensor: %+v; %v", a.Channels[1], p)
		}
		if f[Lost] == 0 || p.hum+p.noise > 0.05 {
			whole++
		} else {
			t.Logf("teeth lost: %v; %v", a.Slips[:min(3, len(a.Slips))], p)
		}
		if a.Correlation == nil {
			t.Logf("no correlation: %+v; %v", a.Faults, p)
			continue
		}
		told++
		off := math.Abs(signed(float64(a.Correlation.Value)-(p.delta-p.gamma), float64(a.CorrelationModulo)))
		u := float64(a.Correlation.U)
		if off <= 1.96*u {
			held++
		} else {
			t.Logf("correlation off by %.2f ± %.2f; %v", off, u, p)
		}
		if off <= 0.3 || off <= 1 && !p.clean() || u > 0.5 && p.comparator {
			close++
		} else {
			t.Logf("correlation off by %.2f; %v", off, p)
		}
		if doubts.stated(a); off > 3*u && !doubts.excuse(a) {
			t.Errorf("correlation off by %.2f ± %.2f; %v", off, u, p)
		}
	}
	t.Logf("%d recordings: %d followed, %d crank sensors, %d cam sensors, %d whole; correlation from %d, %d within 1.96 u, %d close", n, followed, crank, cam, whole, told, held, close)
	doubts.hold(t)
	if followed < n || 100*crank < 97*n || 100*cam < 95*n || 100*whole < 95*n || 100*told < 93*n || 100*held < 93*told || 100*close < 93*told {
		t.Errorf("of %d: %d followed, %d crank sensors, %d cam sensors, %d whole; correlation from %d, %d within 1.96 u, %d close", n, followed, crank, cam, whole, told, held, close)
	}
}

// An inductive sensor whose voltage leaves the converter's range, which then goes on at
// its other end, is read as if it did not.
func TestFluxWrapped(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		p := anyFlux(seed)
		p.hall, p.comparator, p.couple, p.clipLo, p.clipHi, p.offset, p.stall = false, false, 0, 0, 0, 0, false
		p.hum, p.noise, p.bits, p.wraps, p.cam = 0, min(p.noise, 0.01), 8, 0.88, nil
		s, k := p.play()
		k.Cam = nil
		a, err := collect(s).Analyse(k)
		if err != nil || len(a.Runs) != 1 || len(a.Slips) > 2 || kinds(a)[CrankSensorKind] > 0 {
			t.Errorf("%v, %+v; %v", err, faultsOf(a), p)
			continue
		}
		if kinds(a)[Wrapped] == 0 {
			t.Errorf("nothing was mended: %v", p)
		}
	}
}
