package trace

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing/wheel"
)

// A wheel of 18 positions looks as one of 36 does that has lost the tooth opposite its gap, and
// one of 36 with two teeth missing as one with one missing whose next is broken: both readings
// are told. Of a wheel that the job's cannot be, one.
func TestBothReadings(t *testing.T) {
	for _, c := range []struct {
		name     string
		recorded flux
		missing  []int // in the job, of 36
		broken   []int // nil: it is certain that the wheel is another
	}{
		{"18-1", steady(18, []int{18}), []int{36}, []int{18}},
		{"36-2", steady(36, []int{35, 36}), []int{36}, []int{35}},
		{"60-2", steady(60, []int{59, 60}), []int{36}, nil},
	} {
		p := c.recorded
		p.seconds, p.rate, p.hall = 2.5, 12000, true
		s, k := p.play()
		k.Crank.Positions, k.Crank.Missing, k.Cam = 36, c.missing, nil
		a, err := collect(s).Analyse(k)
		if err != nil || a.Found == nil || a.Found.Positions != p.positions {
			t.Errorf("%s: %v, %+v", c.name, err, faultsOf(a))
			continue
		}
		if c.broken == nil {
			if len(a.Readings) > 0 || kinds(a)[WheelDiffers] != 1 {
				t.Errorf("%s: %+v, %+v", c.name, a.Readings, a.Faults)
			}
			continue
		}
		if len(a.Readings) != 2 || kinds(a)[WheelEither] != 1 || kinds(a)[WheelDiffers] != 0 {
			t.Errorf("%s: %+v, %+v", c.name, a.Readings, a.Faults)
			continue
		}
		own := a.Readings[1]
		if sum := a.Readings[0].Probability + own.Probability; math.Abs(sum-1) > 1e-9 || own.Probability < 0.05 || own.Probability > 0.5 || len(own.Broken) != 1 {
			t.Errorf("%s: %+v", c.name, a.Readings)
		}
	}
}

// A wheel of gaps of many lengths is none that is made: rather a coarse wheel whose speed rises
// and falls.
func TestUnlikelyPattern(t *testing.T) {
	strange := Pattern{63, []int{12, 13, 14, 15, 16, 28, 29, 30, 31, 32, 44, 46, 47, 59, 60, 61, 62, 63}}
	if strange.likely() {
		t.Errorf("%v is likely", strange)
	}
	for _, p := range []Pattern{{60, []int{59, 60}}, {36, []int{17, 18, 20, 21, 35, 36}}, {36, []int{18, 24, 35, 36}}, {12, []int{10, 11, 12}}, {4, []int{4}}, {36, []int{36}}, {24, nil}} {
		if !p.likely() {
			t.Errorf("%v is not likely", p)
		}
	}
	if n := strange.gaps(); n != 5 {
		t.Errorf("%d gaps", n)
	}
}

// A wheel that looks the same three times in a turn is found as one of the three, and is the
// job's all the same.
func TestRepeatedWheelIsTheJobs(t *testing.T) {
	job := wheel.Crank{Positions: 36, Missing: []int{11, 12, 23, 24, 35, 36}}
	for _, c := range []struct {
		p    Pattern
		same bool
	}{{Pattern{12, []int{11, 12}}, true}, {Pattern{12, []int{12}}, false}, {Pattern{18, []int{17, 18}}, false}, {Pattern{36, []int{3, 4, 15, 16, 27, 28}}, true}} {
		if c.p.turned(job, false) != c.same {
			t.Errorf("%v is the job's: %v", c.p, !c.same)
		}
	}
	if (Pattern{18, []int{18}}).turned(wheel.Crank{Positions: 36, Missing: []int{36}}, false) {
		t.Error("a wheel of half the positions is not the job's")
	}
}

// A broken tooth of a wheel that looks the same three times in a turn has the name that the cam
// gives it.
func TestBrokenToothOfRepeatedWheel(t *testing.T) {
	for _, broken := range []int{5, 17, 29} {
		p := steady(36, []int{11, 12, 23, 24, 35, 36}, 0, 60, 140, 240)
		p.seconds, p.rate, p.hall, p.camHall, p.broken = 3, 15000, true, true, broken
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Errorf("tooth %d: %v, %+v", broken, err, faultsOf(a))
			continue
		}
		for _, f := range a.Faults {
			if f.Kind == Broken && f.N != broken {
				t.Errorf("tooth %d is called %d", broken, f.N)
			}
		}
		if kinds(a)[Broken] != 1 || !slices.Contains(a.Found.Missing, broken) {
			t.Errorf("tooth %d: %+v, %+v", broken, a.Found, a.Faults)
		}
	}
}
