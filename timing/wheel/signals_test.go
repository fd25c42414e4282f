package wheel

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// An engine worked by hand: a 60-2 wheel whose tooth 1 passes 84 degrees before
// top dead centre, a cam wheel of seven teeth whose tooth 1 passes 50 before it.
func sixCylinders() Signals {
	return Signals{
		Crank:     Crank{Positions: 60, Missing: []int{59, 60}, FirstToothBTDC: 84},
		Cam:       &Cam{Teeth: []timing.CamDeg{0, 60, 120, 180, 240, 300, 330}, FirstToothBTDC: 50, Cycle: 720},
		CamSensor: Hall,
	}
}

// Tooth k passes at -B + (k-1)*360/N - delta, cam tooth j at -F + 2*a_j - gamma;
// hand calculation.
func TestWhereTeethPass(t *testing.T) {
	two := &Cam{Teeth: []timing.CamDeg{0, 90, 200}, FirstToothBTDC: 40, Cycle: 360}
	six := sixCylinders()
	for _, c := range []struct {
		name string
		got  timing.Deg
		want timing.Deg
	}{
		{"crank tooth 1: -84", six.Crank.PassesAt(1, 0), 276},
		{"crank tooth 15: -84 + 14*6", six.Crank.PassesAt(15, 0), 0},
		{"crank tooth 1, wheel 28 behind: -84 + 28", six.Crank.PassesAt(1, -28), 304},
		{"cam tooth 1: -50", six.Cam.PassesAt(1, 0), 670},
		{"cam tooth 2: -50 + 2*60", six.Cam.PassesAt(2, 0), 70},
		{"cam tooth 2, cam 10 ahead", six.Cam.PassesAt(2, 10), 60},
		{"cam tooth 7: -50 + 2*330", six.Cam.PassesAt(7, 0), 610},
		{"two-stroke cam tooth 1: -40", two.PassesAt(1, 0), 320},
		{"two-stroke cam tooth 2: -40 + 90", two.PassesAt(2, 0), 50},
		{"two-stroke cam tooth 3, cam 5 behind: -40 + 200 + 5", two.PassesAt(3, -5), 165},
	} {
		if math.Abs(float64(c.got-c.want)) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.name, float64(c.got), float64(c.want))
		}
	}
}

// Cam tooth 1 at -50 comes (84-50)/6 = 5 2/3 pitches after crank tooth 1, so two
// thirds of the way from tooth 6 to tooth 7. With the wheel 28 degrees behind it
// comes 1 pitch after tooth 1: with tooth 2. Hand calculation.
func TestCamAmongCrankTeeth(t *testing.T) {
	six := sixCylinders()
	for _, c := range []struct {
		name          string
		f             Fitting
		after, before int
		part          float64
		late          timing.Deg
	}{
		{"right", Fitting{}, 6, 7, 2.0 / 3, 0},
		{"wheel 28 behind", Fitting{Delta: -28}, 2, 3, 0, -28},
		{"wheel 10 ahead", Fitting{Delta: 10}, 8, 9, 1.0 / 3, 10},
		{"cam 10 ahead", Fitting{Gamma: 10}, 5, 6, 0, -10},
		{"both 10 ahead", Fitting{Delta: 10, Gamma: 10}, 6, 7, 2.0 / 3, 0},
		{"camshaft half a turn out", Fitting{HalfTurn: true}, 6, 7, 2.0 / 3, 360},
		{"wheel 40 behind: in the gap", Fitting{Delta: -40}, 58, 1, 2.0 / 3, -40},
	} {
		for _, p := range six.CamPassings(c.f) {
			if p.Tooth != 1 {
				continue
			}
			if p.After != c.after || p.Before != c.before || math.Abs(p.Part-c.part) > 1e-9 || math.Abs(float64(p.Late-c.late)) > 1e-9 {
				t.Errorf("%s: between %d and %d, %.4f of the way, %g late; want %d, %d, %.4f, %g",
					c.name, p.After, p.Before, p.Part, float64(p.Late), c.after, c.before, c.part, float64(c.late))
			}
			if p.Gap != (c.after == 58) {
				t.Errorf("%s: in the gap: %v", c.name, p.Gap)
			}
		}
	}
}

// With the wires exchanged the falling crossings lie half-way between teeth, and
// the gap of three pitches becomes two of two: from 57.5 to 59.5 to 61.5. Hand
// calculation.
func TestWiresReversed(t *testing.T) {
	six := sixCylinders()
	list := six.CrankPassings(360, Fitting{CrankReversed: true})
	if len(list) != 58 {
		t.Fatalf("%d edges", len(list))
	}
	byTooth := map[int]Passing{}
	wide := 0
	for i, p := range list {
		byTooth[p.Tooth] = p
		if way := timing.Wrap(list[(i+1)%len(list)].Edge-p.Edge, 360); math.Abs(float64(way-12)) < 1e-9 {
			wide++
		} else if math.Abs(float64(way-6)) > 1e-9 {
			t.Errorf("from tooth %d's edge to the next are %g degrees", p.Tooth, float64(way))
		}
	}
	if wide != 2 {
		t.Errorf("%d gaps of two pitches, want 2", wide)
	}
	if p := byTooth[1]; p.At != 276 || p.Edge != 279 || p.Believed != 276 {
		t.Errorf("tooth 1: %+v", p)
	}
	if p := byTooth[58]; p.At != 258 || p.Edge != 267 { // -84 + 342, and 9 degrees on
		t.Errorf("tooth 58: %+v", p)
	}
	// The cam, wired right, is then seen half a pitch early.
	for _, p := range six.CamPassings(Fitting{CrankReversed: true}) {
		if p.Late != -3 {
			t.Errorf("cam tooth %d is %g late", p.Tooth, float64(p.Late))
		}
	}
	// A Hall cam sensor of opposite output is counted at the trailing edge, and the
	// tooth is drawn 12 cam degrees wide.
	for _, p := range six.CamPassings(Fitting{CamReversed: true}) {
		if math.Abs(float64(p.Late-24)) > 1e-9 {
			t.Errorf("cam tooth %d is %g late", p.Tooth, float64(p.Late))
		}
	}
}

// A wheel whose gaps come in another order from behind, worked by hand: 12
// positions, 5 and 12 missing, mirrored about the middle of the gap at 12. Tooth 1
// takes the place of tooth 11, 4 that of 8, 6 that of 6.
func TestBackToFront(t *testing.T) {
	s := Signals{Crank: Crank{Positions: 12, Missing: []int{5, 12}}}
	at := map[int]timing.Deg{}
	for _, p := range s.CrankPassings(360, Fitting{BackToFront: true}) {
		at[p.Tooth] = p.At
	}
	for tooth, place := range map[int]int{1: 11, 11: 1, 4: 8, 6: 6} {
		if want := s.Crank.PassesAt(place, 0); at[tooth] != want {
			t.Errorf("tooth %d passes at %g, want %g", tooth, float64(at[tooth]), float64(want))
		}
	}
}

// By hand: 3 and 4 teeth between two equal gaps read the same both ways round; 3 and
// 6 teeth between a short gap and a long one do not, nor 2, 3 and 5 between equal ones.
func TestSameFromBehind(t *testing.T) {
	for _, c := range []struct {
		positions int
		missing   []int
		same      bool
	}{{60, []int{59, 60}, true}, {12, nil, true}, {9, []int{4, 9}, true}, {12, []int{4, 12, 11}, false}, {13, []int{3, 7, 13}, false}} {
		if got := (Crank{Positions: c.positions, Missing: c.missing}).SameFromBehind(); got != c.same {
			t.Errorf("%d with %v missing: %v", c.positions, c.missing, got)
		}
	}
}

func anySignals(t *rapid.T) Signals {
	n := rapid.IntRange(6, 120).Draw(t, "positions")
	w := Crank{Positions: n, FirstToothBTDC: timing.Deg(rapid.Float64Range(0, 360).Draw(t, "B"))}
	for k := range rapid.IntRange(0, min(3, n-3)).Draw(t, "missing") {
		w.Missing = append(w.Missing, n-k)
	}
	s := Signals{Crank: w, CrankSensor: anySensor(t, "crank"), CamSensor: anySensor(t, "cam")}
	cycle := rapid.SampledFrom([]timing.Deg{360, 720}).Draw(t, "cycle")
	cam := Cam{Teeth: []timing.CamDeg{0}, FirstToothBTDC: timing.Deg(rapid.Float64Range(0, 360).Draw(t, "F")), Cycle: cycle}
	for last := 0.0; len(cam.Teeth) < rapid.IntRange(1, 7).Draw(t, "cam teeth"); {
		if last += rapid.Float64Range(8, 60).Draw(t, "on"); last > 352 {
			break
		}
		cam.Teeth = append(cam.Teeth, timing.CamDeg(last))
	}
	s.Cam = &cam
	return s
}

func anySensor(t *rapid.T, of string) Sensor {
	return rapid.SampledFrom([]Sensor{Inductive, Hall}).Draw(t, of+" sensor")
}

func anyFitting(t *rapid.T) Fitting {
	return Fitting{Delta: timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "delta")), Gamma: timing.Deg(rapid.Float64Range(-90, 90).Draw(t, "gamma")),
		HalfTurn: rapid.Bool().Draw(t, "half turn"), BackToFront: rapid.Bool().Draw(t, "back to front")}
}

// The traces cross where the teeth pass: downwards through zero, or up at the
// leading edge.
func TestTracesCrossWhereTeethPass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := anySignals(t), anyFitting(t)
		rpm := rapid.Float64Range(60, 3000).Draw(t, "rpm")
		crosses := func(what string, sensor Sensor, volts func(timing.Deg) float64, p Passing, pitch timing.Deg) {
			step := pitch / 100
			before, after := volts(p.At-step), volts(p.At+step)
			if sensor == Hall && (before != 0 || after != hallVolts) || sensor == Inductive && !(before > 0 && after < 0) {
				t.Fatalf("%s tooth %d at %g: %g V before, %g V after", what, p.Tooth, float64(p.At), before, after)
			}
		}
		for _, p := range s.CrankPassings(s.Cam.Cycle, f) {
			crosses("crank", s.CrankSensor, func(d timing.Deg) float64 { return s.CrankVolts(d, rpm, f) }, p, s.Crank.Pitch())
		}
		for _, p := range s.CamPassings(f) {
			crosses("cam", s.CamSensor, func(d timing.Deg) float64 { return s.CamVolts(d, rpm, f) }, p.Passing, s.CamToothWidth())
		}
	})
}

// What a recording can show: delta - gamma for every cam tooth, and the
// ECU's angle at the truth's 0 is delta.
func TestWhatARecordingShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := anySignals(t), anyFitting(t)
		f.BackToFront = false
		cycle := s.Cam.Cycle
		for _, p := range s.CamPassings(f) {
			if off := timing.Difference(f.Delta-f.CamError(cycle), p.Late, cycle); math.Abs(float64(off)) > 1e-6 {
				t.Fatalf("cam tooth %d is %g late with delta %g, gamma %g", p.Tooth, float64(p.Late), float64(f.Delta), float64(f.CamError(cycle)))
			}
			if !(p.Part >= 0 && p.Part < 1+1e-9) || s.Crank.IsMissing(p.After) || s.Crank.IsMissing(p.Before) {
				t.Fatalf("%+v", p)
			}
		}
		if got := s.Believes(0, f); got != f.Delta {
			t.Fatalf("the controller believes %g at 0, delta being %g", float64(got), float64(f.Delta))
		}
		f.CrankReversed = rapid.Bool().Draw(t, "wires")
		if back := s.True(s.Believes(100, f), f); math.Abs(float64(back-100)) > 1e-9 {
			t.Fatalf("100 is believed and taken back as %g", float64(back))
		}
	})
}

// A displaced part shows now what the right one shows later; a faster crank shows
// more in proportion on an inductive sensor and nothing else on a Hall sensor;
// exchanged wires turn the trace over.
func TestTraceLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := anySignals(t), anyFitting(t)
		rpm := rapid.Float64Range(60, 3000).Draw(t, "rpm")
		theta := timing.Deg(rapid.Float64Range(-720, 720).Draw(t, "theta"))
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("%s: %g V, want %g", what, got, want)
			}
		}
		crank, cam := s.CrankVolts(theta, rpm, f), s.CamVolts(theta, rpm, f)
		// A Hall edge within rounding of theta may fall on either side.
		clear := func(sensor Sensor, volts func(timing.Deg) float64) bool {
			return sensor == Inductive || volts(theta-1e-7) == volts(theta+1e-7)
		}
		if clear(s.CrankSensor, func(d timing.Deg) float64 { return s.CrankVolts(d, rpm, f) }) {
			same("crank displaced", crank, s.CrankVolts(theta+f.Delta, rpm, Fitting{BackToFront: f.BackToFront}))
			same("a turn later", s.CrankVolts(theta+360, rpm, f), crank)
			if len(s.Crank.Gaps()) == 1 {
				same("one gap, back to front", s.CrankVolts(theta, rpm, Fitting{Delta: f.Delta, BackToFront: true}), s.CrankVolts(theta, rpm, Fitting{Delta: f.Delta}))
			}
		}
		if clear(s.CamSensor, func(d timing.Deg) float64 { return s.CamVolts(d, rpm, f) }) {
			same("cam displaced", cam, s.CamVolts(theta+f.CamError(s.Cam.Cycle), rpm, Fitting{}))
			same("a cycle later", s.CamVolts(theta+s.Cam.Cycle, rpm, f), cam)
		}
		fast := 1.0
		if s.CrankSensor == Inductive {
			fast = 3
		}
		same("three times as fast", s.CrankVolts(theta, 3*rpm, f), fast*crank)
		r := f
		r.CrankReversed, r.CamReversed = true, true
		turned := func(sensor Sensor, v float64) float64 {
			if sensor == Hall {
				return hallVolts - v
			}
			return -v
		}
		same("crank wires", s.CrankVolts(theta, rpm, r), turned(s.CrankSensor, crank))
		same("cam wires", s.CamVolts(theta, rpm, r), turned(s.CamSensor, cam))
	})
}

// Round the gap: the last tooth's dip and the first tooth's rise stand alone, so
// they are a little larger than the others, and between them there is nothing.
func TestShapeRoundTheGap(t *testing.T) {
	s := sixCylinders()
	at := func(teeth float64) float64 { // so many pitches after tooth 1
		return s.CrankVolts(-84+timing.Deg(6*teeth), 200, Fitting{})
	}
	peak := voltsPerRPM * 200
	if rise := at(-0.25); math.Abs(rise-peak) > 0.001*peak {
		t.Errorf("the rise before tooth 1 reaches %g V, want %g", rise, peak)
	}
	if dip := at(57.25); math.Abs(dip+peak) > 0.001*peak {
		t.Errorf("the dip after tooth 58 reaches %g V, want %g", dip, -peak)
	}
	if rise := at(19.75); !(rise > 0.9*peak && rise < 0.96*peak) {
		t.Errorf("a rise between teeth reaches %g V, the one after the gap %g", rise, peak)
	}
	if v := math.Abs(at(58.5)); v > 1e-3*peak {
		t.Errorf("%g V in the middle of the gap", v)
	}
}

func TestNoCamWheel(t *testing.T) {
	s := Signals{Crank: Crank{Positions: 36, Missing: []int{36}}}
	if s.CamPassings(Fitting{}) != nil || s.CamVolts(10, 200, Fitting{}) != 0 {
		t.Error("without a cam wheel there is a cam signal")
	}
	for _, name := range []string{"inductive", "hall"} {
		if got := ParseSensor(name, 7).String(); got != name {
			t.Errorf("%s reads as %s", name, got)
		}
	}
	if ParseSensor("", Hall) != Hall {
		t.Error("no name is not the fallback")
	}
}

// Where does the cam's first edge fall on this engine, and where with a dowel that
// was drilled 28 degrees behind?
func ExampleSignals_CamPassings() {
	s := Signals{
		Crank:     Crank{Positions: 36, Missing: []int{36}, FirstToothBTDC: 90},
		Cam:       &Cam{Teeth: []timing.CamDeg{0, 120, 240}, FirstToothBTDC: 45, Cycle: 720},
		CamSensor: Hall,
	}
	for _, delta := range []timing.Deg{0, -28} {
		for _, p := range s.CamPassings(Fitting{Delta: delta}) {
			if p.Tooth == 1 {
				fmt.Printf("between crank teeth %d and %d\n", p.After, p.Before)
			}
		}
	}
	// Output:
	// between crank teeth 5 and 6
	// between crank teeth 2 and 3
}
