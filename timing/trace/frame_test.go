package trace

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// Where a tooth's middle may pass at two places the angle is their mean by probability and
// the uncertainty the standard deviation of the two; where one is all but certain the angle
// is that one's. Against the two places themselves, by hand: no source.
func TestEitherSlope(t *testing.T) {
	for _, c := range []struct{ right, move, u float64 }{
		{0.98, 0, 5 * math.Sqrt(0.02)}, {0.5, 2.5, 2.5}, {0.9, 0.5, 5 * math.Sqrt(0.1*0.9)}, {0.96, 0, 5 * math.Sqrt(0.04)}, {0.99, 0, 0},
	} {
		known := Known{Crank: wheel.Crank{Positions: 36, Missing: []int{36}, FirstToothBTDC: 90}}
		r := reading{sensor: wheel.Inductive, sure: true, right: c.right, shape: shape{width: 0.5, inGap: 0.5, longest: 2, gaps: 9}}
		var a Analysis
		f := a.countFrom(&known, r)
		if move := float64(known.Crank.FirstToothBTDC) - 90; math.Abs(move-c.move) > 1e-9 || math.Abs(f.u-c.u) > 1e-9 {
			t.Errorf("probability %g: moved by %g, want %g; u %g, want %g", c.right, move, c.move, f.u, c.u)
		}
		if said := kinds(&a)[CrankSlope] == 1; said != (c.right < 0.985) {
			t.Errorf("probability %g: %+v", c.right, a.Faults)
		}
		for _, f := range a.Faults {
			if f.Likely() != (c.move == 0) {
				t.Errorf("probability %g, moved by %g: %+v", c.right, c.move, f)
			}
		}
	}
}

// Of a wheel without two teeth side by side the slope of an inductive sensor is not told,
// and the uncertainty holds the one and the other.
func TestNoNeighbours(t *testing.T) {
	known := Known{Crank: wheel.Crank{Positions: 12, Missing: []int{2, 4, 6, 8, 9, 11, 12}, FirstToothBTDC: 90}}
	r := reading{sensor: wheel.Inductive, right: 1, shape: shape{width: math.NaN(), inGap: 1, longest: 3, gaps: 9}}
	var a Analysis
	f := a.countFrom(&known, r)
	if move := float64(known.Crank.FirstToothBTDC) - 90; math.Abs(move-15) > 1e-9 || math.Abs(f.u-15) > 1e-9 || kinds(&a)[CrankSlope] != 1 {
		t.Errorf("moved by %g ± %g: %+v", move, f.u, a.Faults)
	}
	c := fourCylinders()
	c.wheels.Positions, c.wheels.Missing = 12, known.Crank.Missing
	s, k := c.play()
	k.Engine = nil
	b, err := collect(s).Analyse(k)
	if err != nil || kinds(b)[CrankSlope] == 0 {
		t.Errorf("%v, %+v", err, faultsOf(b))
	}
}

// A sensor that only the job's word makes a Hall sensor may be an inductive one: the angle
// and the uncertainty allow for the tooth's centre by its probability. By hand, no source.
func TestDoubtfulHall(t *testing.T) {
	known := Known{CrankSensor: wheel.Hall, Crank: wheel.Crank{Positions: 36, Missing: []int{36}, FirstToothBTDC: 90}}
	for _, c := range []struct {
		hall    float64
		levels  bool
		move, u float64
	}{{0.7, false, -0.3 * 1.25, 1.25 * math.Sqrt(2*0.3-0.09)}, {0.97, false, 0, 1.25 * math.Sqrt(0.06)}, {0.99, true, 0, 0}, {0.99, false, 0, 0}} {
		k := known
		r := reading{sensor: wheel.Hall, hall: c.hall, levels: c.levels, sure: true, right: 1, shape: shape{width: 0.4, inGap: 0.4, longest: 2, gaps: 9}}
		var a Analysis
		f := a.countFrom(&k, r)
		if move := float64(k.Crank.FirstToothBTDC) - 90; math.Abs(move-c.move) > 1e-9 || math.Abs(f.u-c.u) > 1e-9 {
			t.Errorf("%+v: moved by %g ± %g", c, move, f.u)
		}
		// The same of a cam of wide teeth: eight degrees of the cam at most.
		k.Cam, k.CamSensor = &wheel.Cam{Teeth: []timing.CamDeg{0, 180}, Cycle: 720}, wheel.Hall
		a = Analysis{}
		a.correlate(k, camReading{sensor: wheel.Hall, hall: c.hall, levels: c.levels, sure: true, match: camMatch{late: 3}}, frame{fold: 360})
		const of = 16. / 5 // a quarter of the cam's tooth over that of the crank's
		if late := float64(a.Correlation.Value) - 3; math.Abs(late-of*c.move) > 1e-9 || math.Abs(float64(a.Correlation.U)-of*c.u) > 1e-9 {
			t.Errorf("%+v: cam later by %g ± %g", c, late, float64(a.Correlation.U))
		}
	}
}

// Levels that a comparator may have made of an inductive signal: it switches from where a
// tooth begins to its middle or its end, later than its leading edge, by its probability. By
// hand: of the places at 0, 1/2 and 1 of a tooth's width the mean is 1/2 and the mean square 5/12.
func TestDoubtfulLevels(t *testing.T) {
	known := Known{CrankSensor: wheel.Hall, CamSensor: wheel.Hall, Crank: wheel.Crank{Positions: 36, Missing: []int{36}, FirstToothBTDC: 90}, Cam: &wheel.Cam{Teeth: []timing.CamDeg{0, 180}, Cycle: 720}}
	var a Analysis
	r := reading{sensor: wheel.Hall, hall: 0.97, levels: true, sure: true, right: 1, shape: shape{width: 0.4, inGap: 0.4, longest: 2, gaps: 9}}
	if f := a.countFrom(&known, r); known.Crank.FirstToothBTDC != 90 || math.Abs(f.u-4*math.Sqrt(0.03*5/12)) > 1e-9 {
		t.Errorf("crank: %g ± %g", float64(known.Crank.FirstToothBTDC), f.u)
	}
	a.correlate(known, camReading{sensor: wheel.Hall, hall: 0.96, levels: true, sure: true, begun: 10, match: camMatch{late: 3}}, frame{fold: 360})
	if c := a.Correlation; math.Abs(float64(c.Value)-3) > 1e-9 || math.Abs(float64(c.U)-10*math.Sqrt(0.04/2)) > 1e-9 {
		t.Errorf("cam: %v", *c)
	}
	a.correlate(known, camReading{sensor: wheel.Hall, hall: 0.7, levels: true, sure: true, begun: 350, match: camMatch{late: 3}}, frame{fold: 360})
	if c := a.Correlation; math.Abs(float64(c.Value)-3-0.3*16) > 1e-9 {
		t.Errorf("cam, half a wheel: %v", *c)
	}
}

// How far another kind of cam sensor may move the tooth has an end: a level that is half the
// cam long is no tooth's width.
func TestOtherSensorEnds(t *testing.T) {
	known := Known{Cam: &wheel.Cam{Teeth: []timing.CamDeg{0}, Cycle: 720}, CamSensor: wheel.Inductive}
	for _, c := range []struct{ begun, ended, shift, u float64 }{
		{350, 370, 16, 16 / math.Sqrt2}, {10, 700, 5, 5 / math.Sqrt2}, {370, 350, -4, 4}, {700, 10, -2.5, 2.5},
	} {
		if shift, u := (camReading{sensor: wheel.Hall, begun: c.begun, ended: c.ended}).otherSensor(known); math.Abs(shift-c.shift) > 1e-9 || math.Abs(u-c.u) > 1e-9 {
			t.Errorf("levels of %g and %g: moved by %g ± %g", c.begun, c.ended, shift, u)
		}
	}
}
