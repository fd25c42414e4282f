package samples

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// pulses are the changes of a wheel of 36 positions with two missing and of a cam, after a
// rest: at each change a time in seconds and both levels.
func pulses() (list [][3]float64) {
	crank, cam := 0.0, 1.0
	list = append(list, [3]float64{0, crank, cam})
	at := 0.7
	for i := range 360 {
		if p := i % 36; p < 34 {
			list = append(list, [3]float64{at, 1, cam}, [3]float64{at + 0.004, 0, cam})
		}
		if i%24 == 7 {
			cam = 1 - cam
			list = append(list, [3]float64{at + 0.0061, 0, cam})
		}
		at += 0.01 + 0.001*float64(i%5)
	}
	return list
}

// Files of changes are told from sampled ones.
func TestChangesAreTold(t *testing.T) {
	changes := func(format string, scale float64, head string) string {
		s := strings.Builder{}
		s.WriteString(head)
		for _, p := range pulses() {
			fmt.Fprintf(&s, format, p[0]*scale, p[1], p[2])
		}
		return s.String()
	}
	var twice strings.Builder
	twice.WriteString("Time (s),a,b\n")
	before := pulses()[0]
	for _, p := range pulses() {
		fmt.Fprintf(&twice, "%.9f,%g,%g\n%.9f,%g,%g\n", p[0]-1e-7+1, before[1], before[2], p[0]+1, p[1], p[2])
		before = p
	}
	sampled := func(rate float64, decimals int, jitter float64, noise float64) string {
		dice := rand.New(rand.NewPCG(3, 4))
		list := pulses()
		var s strings.Builder
		s.WriteString("Time (s),a,b\n")
		for i, k := 0, 0; k < len(list); i++ {
			at := float64(i)/rate + jitter*dice.Float64()
			for k < len(list) && list[k][0] <= at {
				k++
			}
			now := list[max(k-1, 0)]
			fmt.Fprintf(&s, "%.*f,%.3g,%.3g\n", decimals, at, now[1]+noise*dice.NormFloat64(), now[2])
		}
		return s.String()
	}
	for _, c := range []struct {
		name, text string
		steps      bool
		unit       float64
	}{
		{"seconds", changes("%.9f,%g,%g\n", 1, "Time [s],a,b\n"), true, 1},
		{"no heading", changes("%.9f,%g,%g\n", 1, ""), true, 1},
		{"a unit that is not said", changes("%.4f,%g,%g\n", 1e3, "t,a,b\n"), true, 1e-3},
		{"whole microseconds", changes("%.0f;%g;%g\n", 1e6, "t;a;b\n"), true, 1e-6},
		{"whole nanoseconds", changes("%.0f;%g;%g\n", 1e9, "t;a;b\n"), true, 1e-9},
		{"counts of samples", changes("%.0f,%g,%g\n", 24e6, "; samplerate: 24 MHz\nsample,a,b\n"), true, 1 / 24e6},
		{"volts", strings.NewReplacer(",1", ",3.3").Replace(changes("%.9f,%g,%g\n", 1, "Time [s],a,b\n")), true, 1},
		{"each change twice", twice.String(), true, 1},
		{"sampled, two levels", sampled(20000, 7, 0, 0), false, 1},
		{"sampled slowly, two levels", sampled(500, 7, 0, 0), false, 1},
		{"sampled, uneven times", sampled(2000, 7, 0.4/2000, 0), false, 1},
		{"sampled, coarse times", sampled(20000, 4, 0, 0), false, 1},
		{"sampled, noise", sampled(20000, 6, 0, 0.1), false, 1},
	} {
		r, b, err := readAll(strings.NewReader(c.text), Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if r.format.Steps != c.steps || r.format.TimeUnit != c.unit {
			t.Errorf("%s: steps %v, unit %g; want %v, %g", c.name, r.format.Steps, r.format.TimeUnit, c.steps, c.unit)
		}
		if list := pulses(); c.steps && c.name != "each change twice" {
			for i, p := range list {
				if d := b.Time[i] - p[0]; len(b.Time) != len(list) || d > 6e-7 || d < -6e-7 {
					t.Errorf("%s: row %d at %.9f s, want %.9f", c.name, i, b.Time[i], p[0])
					break
				}
			}
		}
	}
}
