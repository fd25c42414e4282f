package trace

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// Beside samples that a channel holds the levels of another still hold until they change.
func TestLevelsBesideSamples(t *testing.T) {
	p := steady(36, []int{36}, 0, 110, 240)
	p.hall, p.camHall, p.rate, p.delta = true, true, 100000, 7
	s, k := p.play()
	k.CrankSensor = wheel.Hall
	middle := func(v []float64) float64 { return (slices.Min(v) + slices.Max(v)) / 2 }
	crank, cam := middle(s.Crank), middle(s.Cam)
	level := func(v, threshold float64) float64 {
		if v > threshold {
			return 1
		}
		return 0
	}
	run := func(held []bool) *Analysis {
		c := NewCollector([]samples.Channel{{Name: "crank"}, {Name: "cam"}, {Name: "volts"}})
		b := samples.Block{Values: make([][]float64, 3), Held: held}
		last := [3]float64{-1, -1, -1}
		for i := range s.Crank {
			now := [3]float64{level(s.Crank[i], crank), level(s.Cam[i], cam), math.Floor(float64(i)/777) / 10}
			if now == last {
				continue
			}
			last = now
			b.Time = append(b.Time, float64(i)/s.Rate)
			for c, v := range now {
				b.Values[c] = append(b.Values[c], v)
			}
		}
		c.Add(&b)
		c.finish()
		a, err := c.Analyse(k)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	a := run([]bool{true, true, false})
	if a.Correlation == nil || math.Abs(float64(a.Correlation.Value)-p.delta) > 0.2 {
		t.Errorf("correlation %v, want %g", a.Correlation, p.delta)
	}
	if n := kinds(a); n[Lost]+n[Extra]+n[SensorUntold] > 0 || a.Channels[0].Sensor != wheel.Hall {
		t.Errorf("%+v", a.Faults)
	}
}
