package trace

import (
	"bufio"
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// realDir holds recordings of real engines that are not part of the project: where it
// is missing, the test is left out.
const realDir = "../../../shared/real"

func TestReal(t *testing.T) {
	for _, name := range []string{"inductive-steady.csv.gz", "inductive-clipped.csv.gz", "changes-three-gaps.csv", "changes-running.csv"} {
		file, err := os.Open(filepath.Join(realDir, name))
		if err != nil {
			t.Skip("no recordings of real engines here")
		}
		defer file.Close()
		c := stepsOf(t, file, name)
		for _, w := range []wheel.Crank{{Positions: 60, Missing: []int{59, 60}}, {Positions: 36, Missing: []int{11, 12, 23, 24, 35, 36}}, {Positions: 36, Missing: []int{35, 36}}} {
			a, err := c.Analyse(Known{Cycle: 720, Crank: w, CrankSensor: wheel.Inductive, Cam: &wheel.Cam{Teeth: []timing.CamDeg{0, 120, 240}, Cycle: 720}})
			if err != nil {
				t.Logf("%s: %v: %v", name, w, err)
				continue
			}
			t.Logf("%s: %v: found %v, %.1f turns, %.1f rpm, %d runs, slips %d, %+v", name, w, a.Found, a.Revolutions, a.RPM, len(a.Runs), len(a.Slips), a.Channels)
			for _, f := range a.Faults {
				t.Logf("      %+v", f)
			}
			for _, tooth := range a.CamTeeth {
				t.Logf("      %+v", tooth)
			}
		}
	}
}

func stepsOf(t *testing.T, file *os.File, name string) *Collector {
	if strings.HasSuffix(name, "csv") {
		sc := bufio.NewScanner(file)
		sc.Scan()
		names := strings.Split(sc.Text(), ",")[1:]
		var chs []samples.Channel
		for _, n := range names {
			chs = append(chs, samples.Channel{Name: n})
		}
		c := NewCollector(chs)
		b := samples.Block{Steps: true, Values: make([][]float64, len(names))}
		for sc.Scan() {
			for i, f := range strings.Split(sc.Text(), ",") {
				v, _ := strconv.ParseFloat(f, 64)
				if i == 0 {
					b.Time = append(b.Time, v)
				} else {
					b.Values[i-1] = append(b.Values[i-1], v)
				}
			}
		}
		c.Add(&b)
		c.finish()
		return c
	}
	r, err := samples.NewReader(file, samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Collect(context.Background(), r, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
