package trace

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/simulate"
)

// lawful are recordings that the laws are held against.
func lawful() []flux {
	a := steady(60, []int{59, 60}, 0, 110, 240)
	a.delta, a.runout, a.camHall, a.rate = -20, 0.3, true, 20000
	b := steady(36, []int{36}, 0, 90, 180, 300)
	b.delta, b.hall, b.swing, b.rate = 12, true, 0.12, 20000
	return []flux{a, b}
}

// Turn the job's tooth 1 by d and every answer turns by d, over the whole circle.
func TestAnswersTurnWithTheJob(t *testing.T) {
	for _, p := range lawful() {
		s, k := p.play()
		c := collect(s)
		first, err := c.Analyse(k)
		if err != nil || first.Correlation == nil {
			t.Fatalf("%v, %+v", err, faultsOf(first))
		}
		at, _, _ := first.Angle(2)
		for d := timing.Deg(15); d < 360; d += 15 {
			k := k
			k.Crank.FirstToothBTDC += d
			a, err := c.Analyse(k)
			if err != nil || a.Correlation == nil {
				t.Errorf("turned by %g: %v", float64(d), err)
				continue
			}
			turned := signed(float64(first.Correlation.Value-a.Correlation.Value-d), float64(a.CorrelationModulo))
			now, _, _ := a.Angle(2)
			if math.Abs(turned) > 1e-6 || math.Abs(signed(float64(at-now-d), 360)) > 1e-6 || math.Abs(float64(a.Correlation.U-first.Correlation.U)) > 1e-6 {
				t.Errorf("turned by %g: correlation turns by %g more, the angle by %g", float64(d), turned, signed(float64(at-now-d), 360))
			}
		}
	}
}

// Channels that are swapped, voltages turned over, scaled or moved, another rate of
// samples, another beginning and end: the same answer within its uncertainty.
func TestTheSameWhateverTheRecorder(t *testing.T) {
	for _, p := range lawful() {
		s, k := p.play()
		first, err := collect(s).Analyse(k)
		if err != nil || first.Correlation == nil {
			t.Fatalf("%v, %+v", err, faultsOf(first))
		}
		each := func(s simulate.Signals, change func(float64) float64) simulate.Signals {
			s.Crank, s.Cam = slices.Clone(s.Crank), slices.Clone(s.Cam)
			for i := range s.Crank {
				s.Crank[i], s.Cam[i] = change(s.Crank[i]), change(s.Cam[i])
			}
			return s
		}
		for _, l := range []struct {
			name   string
			change func(simulate.Signals) simulate.Signals
		}{
			{"swapped", func(s simulate.Signals) simulate.Signals { s.Crank, s.Cam = s.Cam, s.Crank; return s }},
			{"turned over", func(s simulate.Signals) simulate.Signals { return each(s, func(v float64) float64 { return -v }) }},
			{"in millivolts", func(s simulate.Signals) simulate.Signals {
				return each(s, func(v float64) float64 { return 1000 * v })
			}},
			{"moved", func(s simulate.Signals) simulate.Signals { return each(s, func(v float64) float64 { return v + 7 }) }},
			{"every second sample", func(s simulate.Signals) simulate.Signals {
				half := simulate.Signals{Rate: s.Rate / 2}
				for i := 0; i < len(s.Crank); i += 2 {
					half.Crank, half.Cam = append(half.Crank, s.Crank[i]), append(half.Cam, s.Cam[i])
				}
				return half
			}},
			{"begun later", func(s simulate.Signals) simulate.Signals { return cut(s, 0.77, 4) }},
			{"ended earlier", func(s simulate.Signals) simulate.Signals { return cut(s, 0, 2.9) }},
			{"a part", func(s simulate.Signals) simulate.Signals { return cut(s, 1.313, 3.1) }},
		} {
			a, err := collect(l.change(s)).Analyse(k)
			if err != nil || a.Correlation == nil {
				t.Errorf("%s: %v, %+v", l.name, err, faultsOf(a))
				continue
			}
			off := signed(float64(a.Correlation.Value-first.Correlation.Value), float64(a.CorrelationModulo))
			if math.Abs(off) > float64(first.Correlation.U) || kinds(a)[Lost]+kinds(a)[Extra]+kinds(a)[CrankSensorKind] > 0 {
				t.Errorf("%s: correlation %v, was %v; %+v", l.name, *a.Correlation, *first.Correlation, a.Faults)
			}
		}
	}
}

// Wherever a recording is cut, its teeth keep their places.
func TestCutAnywhere(t *testing.T) {
	p := lawful()[0]
	s, k := p.play()
	whole, err := collect(s).Analyse(k)
	if err != nil {
		t.Fatal(err)
	}
	for from := 1.0; from < 1.4; from += 0.0137 {
		a, err := collect(cut(s, from, from+1.5)).Analyse(k)
		if err != nil || len(a.Runs) != 1 || len(a.Slips) > 0 {
			t.Errorf("from %g s: %v, %+v", from, err, faultsOf(a))
			continue
		}
		was, _, _ := whole.Angle(from + 0.7)
		now, _, _ := a.Angle(0.7)
		if off := signed(float64(now-was), 360); math.Abs(off) > 0.05 {
			t.Errorf("from %g s: the crank is %g degrees elsewhere", from, off)
		}
	}
}

// With more turns the uncertainty does not grow, and what falls with them falls.
func TestMoreTurnsAreSurer(t *testing.T) {
	p := lawful()[1]
	p.noise, p.place, p.camHall, p.seconds = 0.1, 0.05, true, 9
	s, k := p.play()
	last := math.Inf(1)
	for _, seconds := range []float64{1.5, 3, 9} {
		a, err := collect(cut(s, 0, seconds)).Analyse(k)
		if err != nil || a.Correlation == nil {
			t.Fatalf("%g s: %v, %+v", seconds, err, faultsOf(a))
		}
		u := float64(a.Correlation.U)
		if u > 1.02*last {
			t.Errorf("%g s: ± %.3f, of less ± %.3f", seconds, u, last)
		}
		last = u
	}
}

// The crank's angle is what the maker turned it by, also beside a gap into which the flux
// sinks and draws the zero crossings of the teeth next to it.
func TestAngleBesideTheGap(t *testing.T) {
	p := steady(60, []int{59, 60}, 0, 110, 240)
	p.width, p.delta, p.noise = 0.4, 10, 0.003
	s, k := p.play()
	a, err := collect(s).Analyse(k)
	if err != nil || len(a.Runs) != 1 {
		t.Fatalf("%v, %+v", err, faultsOf(a))
	}
	theta, _ := p.turned(len(s.Crank))
	most := 0.0
	for i := int(p.rate); i < len(theta)-int(p.rate/10); i += 7 {
		at, _, ok := a.Angle(float64(i) / p.rate)
		if !ok {
			t.Fatalf("no angle at sample %d", i)
		}
		most = math.Max(most, math.Abs(signed(float64(at)-theta[i]-p.delta, 360)))
	}
	if most > 0.25 {
		t.Errorf("the angle is %.2f degrees off", most)
	}
}
