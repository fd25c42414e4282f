package trace

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// realDir holds recordings of real engines that are not part of the project: where it is
// missing the test is left out.
var realDir = filepath.Join("..", "..", "..", "shared", "real")

// Recordings of real engines give the wheel, the sensor, the turns and the gaps that are
// known of them, and no tooth is lost that is there. The README beside them says what is
// known.
func TestReal(t *testing.T) {
	for _, r := range []struct {
		file        string
		positions   int
		missing     []int
		cam         []timing.CamDeg
		turns, rpm  [2]float64
		sensor      string // "": it is not known
		camEdges    int
		camScatter  float64
		camTellsWho bool
	}{
		{"inductive-steady.csv.gz", 60, []int{59, 60}, nil, [2]float64{15.5, 16.5}, [2]float64{158, 164}, "inductive", 0, 0, false},
		{"inductive-clipped.csv.gz", 60, []int{59, 60}, nil, [2]float64{11, 12}, [2]float64{108, 115}, "inductive", 0, 0, false},
		{"changes-three-gaps.csv", 36, []int{11, 12, 23, 24, 35, 36}, []timing.CamDeg{0, 60, 80, 120, 140, 240}, [2]float64{9, 10.5}, [2]float64{120, 231}, "", 6, 0.3, true},
		{"changes-running.csv", 36, []int{35, 36}, []timing.CamDeg{0, 120, 240}, [2]float64{21.5, 22.5}, [2]float64{1550, 1590}, "", 3, 0.3, false},
	} {
		file, err := os.Open(filepath.Join(realDir, r.file))
		if err != nil {
			t.Skip("no recordings of real engines here")
		}
		defer file.Close()
		reader, err := samples.NewReader(file, samples.Options{})
		if err != nil {
			t.Fatal(err)
		}
		c, err := Collect(context.Background(), reader, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		k := Known{Cycle: 720, Crank: wheel.Crank{Positions: r.positions, Missing: r.missing}}
		if r.cam != nil {
			k.Cam = &wheel.Cam{Teeth: r.cam, Cycle: 720}
		}
		// Whichever sensor the job names, and whatever tooth it counts from.
		for _, named := range []wheel.Sensor{wheel.Inductive, wheel.Hall} {
			k.CrankSensor, k.CamSensor = named, named
			a, err := c.Analyse(k)
			if err != nil || len(a.Runs) != 1 {
				t.Errorf("%s: %v, %+v", r.file, err, faultsOf(a))
				continue
			}
			if a.Found.Positions != r.positions || !slices.Equal(a.Found.Missing, r.missing) || len(a.Slips) > 0 {
				t.Errorf("%s: wheel %v, slips %v", r.file, a.Found, a.Slips)
			}
			if a.Revolutions < r.turns[0] || a.Revolutions > r.turns[1] || a.RPM < r.rpm[0] || a.RPM > r.rpm[1] {
				t.Errorf("%s: %.1f turns at %.0f rpm", r.file, a.Revolutions, a.RPM)
			}
			if s := a.Channels[0].Sensor.String(); r.sensor != "" && (s != r.sensor || a.Channels[0].Hall > 0.05) {
				t.Errorf("%s: %s, hall %.3f", r.file, s, a.Channels[0].Hall)
			}
			if r.camTellsWho != (kinds(a)[WheelByCam] > 0) || len(a.CamTeeth) != r.camEdges {
				t.Errorf("%s: cam teeth %+v; %+v", r.file, a.CamTeeth, a.Faults)
			}
			for _, tooth := range a.CamTeeth {
				if tooth.Scatter > r.camScatter {
					t.Errorf("%s: a cam edge scatters by %.2f degrees", r.file, tooth.Scatter)
				}
			}
		}
	}
}

// A job with another wheel than the real one's is told so, with the real one's.
func TestRealWithAnotherJob(t *testing.T) {
	file, err := os.Open(filepath.Join(realDir, "inductive-steady.csv.gz"))
	if err != nil {
		t.Skip("no recordings of real engines here")
	}
	defer file.Close()
	reader, err := samples.NewReader(file, samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Collect(context.Background(), reader, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []wheel.Crank{{Positions: 36, Missing: []int{35, 36}}, {Positions: 36, Missing: []int{11, 12, 23, 24, 35, 36}}, {Positions: 58, Missing: []int{58}}, {Positions: 60, Missing: []int{60}}} {
		a, err := c.Analyse(Known{Cycle: 720, Crank: w})
		if err != nil || kinds(a)[WheelDiffers]+kinds(a)[WheelEither] != 1 || a.Found.Positions != 60 || !slices.Equal(a.Found.Missing, []int{59, 60}) || math.Abs(a.RPM-161) > 2 {
			t.Errorf("%v: %v, %+v", w, err, a.Found)
		}
	}
}
