package trace

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
)

// steady is a plain recording of the flux maker.
func steady(positions int, missing []int, cam ...float64) flux {
	return flux{seed: 7, positions: positions, missing: missing, first: 100, cam: cam, camFirst: 250, delta: 0, width: 0.3, duty: 0.5, camWidth: 16,
		rpm: 180, swing: 0.08, firings: 2, seconds: 4, rate: 25000, noise: 0.01, fromRest: true}
}

// Wheels as they are built, few teeth and many, with several gaps alike, without any:
// each is followed whole, and the correlation comes back.
func TestWheels(t *testing.T) {
	for _, w := range []struct {
		name     string
		make     flux
		modulo   float64 // up to which the correlation can be known
		off, u   float64 // most
		teeth    int
		repeated bool
	}{
		{"60-2, three cam teeth", steady(60, []int{59, 60}, 0, 110, 240), 360, 0.3, 0.3, 3, false},
		{"120-2", steady(120, []int{119, 120}, 0, 110, 240), 360, 0.3, 0.3, 3, false},
		{"36-1", steady(36, []int{36}, 0, 110, 240), 360, 0.3, 0.3, 3, false},
		{"36-2-2-2", steady(36, []int{11, 12, 23, 24, 35, 36}, 0, 60, 120, 140, 180, 300), 120, 0.3, 0.3, 6, true},
		{"24 even, a tooth on the cam", steady(24, nil, 0), 15, 3.8, 3.8, 1, true}, // at which slope a tooth passes, nothing tells,
		{"15-1", steady(15, []int{15}, 0, 110, 240), 360, 0.5, 0.6, 3, false},
		{"12-1", steady(12, []int{12}, 0, 110, 240), 360, 0.5, 0.6, 3, false},
		{"12-3", steady(12, []int{10, 11, 12}, 0, 110, 240), 360, 1, 1, 3, false},
		{"8-1", steady(8, []int{8}, 0, 110, 240), 360, 1, 1, 3, false},
		{"6-1", steady(6, []int{6}, 0, 110, 240), 360, 2, 2, 3, false},
		{"4-1", steady(4, []int{4}, 0, 110, 240), 360, 4, 3, 3, false},
	} {
		for _, hall := range []bool{false, true} {
			for _, delta := range []float64{0, -6, 4} {
				p := w.make
				p.hall, p.camHall, p.delta = hall, !hall, delta
				s, k := p.play()
				a, err := collect(s).Analyse(k)
				if err != nil || a.Correlation == nil {
					t.Errorf("%s, hall %v, delta %g: %v, %+v", w.name, hall, delta, err, faultsOf(a))
					continue
				}
				off := signed(float64(a.Correlation.Value)-delta, w.modulo)
				u := float64(a.Correlation.U)
				if float64(a.CorrelationModulo) != w.modulo || math.Abs(off) > w.off || math.Abs(off) > 2.5*u || u > w.u {
					t.Errorf("%s, hall %v, delta %g: correlation off by %.2f ± %.2f, modulo %g; %+v", w.name, hall, delta, off, u, float64(a.CorrelationModulo), a.Faults)
				}
				if len(a.Slips) > 0 || len(a.Runs) != 1 || a.CamTeethSeen() != w.teeth || a.Channels[0].Sensor != k.CrankSensor {
					t.Errorf("%s, hall %v, delta %g: %d runs, slips %v, %d cam teeth, %v", w.name, hall, delta, len(a.Runs), a.Slips, a.CamTeethSeen(), a.Channels[0].Sensor)
				}
				if said := kinds(a)[WheelByCam] > 0; said != w.repeated {
					t.Errorf("%s: says that the cam tells the place: %v", w.name, said)
				}
			}
		}
	}
}

func faultsOf(a *Analysis) []Fault {
	if a == nil {
		return nil
	}
	return a.Faults
}

// The common part of two angles, by hand.
func TestCommonPart(t *testing.T) {
	for _, c := range [][3]timing.Deg{{120, 120, 120}, {180, 15, 15}, {120, 180, 60}, {720. / 7, 120, 720. / 42}, {90, 120, 30}} {
		if got := commonPart(c[0], c[1]); math.Abs(float64(got-c[2])) > 1e-3 {
			t.Errorf("%g and %g: %g, want %g", float64(c[0]), float64(c[1]), float64(got), float64(c[2]))
		}
	}
}
