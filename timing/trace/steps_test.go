package trace

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

// toChanges writes what a logic analyser would have kept of the signals: a row at each
// change of level, a channel being high above its threshold. Both channels are of Hall
// sensors.
func toChanges(s simulate.Signals, spoil func(row *[2]float64) bool) string {
	var text strings.Builder
	text.WriteString("Time [s],crank,cam\n")
	var before [2]float64
	level := func(v float64) float64 {
		if v > 2.5 {
			return 1
		}
		return 0
	}
	for i := range s.Crank {
		now := [2]float64{level(s.Crank[i]), level(s.Cam[i])}
		if i == 0 || now != before {
			fmt.Fprintf(&text, "%.9f,%g,%g\n", float64(i)/s.Rate, now[0], now[1])
			before = now
			if spoil != nil {
				glitch := now
				if spoil(&glitch) {
					fmt.Fprintf(&text, "%.9f,%g,%g\n%.9f,%g,%g\n", (float64(i)+0.3)/s.Rate, glitch[0], glitch[1], (float64(i)+0.5)/s.Rate, now[0], now[1])
				}
			}
		}
	}
	return text.String()
}

// collected is a recording's text, read.
func collected(t testing.TB, text string) (*Collector, *samples.Reader) {
	t.Helper()
	r, err := samples.NewReader(strings.NewReader(text), samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Collect(context.Background(), r, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c, r
}

// A recording of changes of level comes to what the same signals sampled come to, and its
// glitches are taken out and counted.
func TestLevelChanges(t *testing.T) {
	for _, wheels := range []simulate.Wheels{wheel60(), wheel36()} {
		wheels.CrankHall, wheels.Gamma = true, -14
		try := tryout{cylinders: 4, wheels: wheels, start: 37, seed: 3, seconds: 4, scope: simulate.Scope{Rate: 200000}}
		s, known := try.play()
		text := toChanges(s, nil)
		c, _ := collected(t, text)
		a, err := c.Analyse(known)
		if err != nil || a.Correlation == nil {
			t.Fatalf("%d positions: %v, %+v", wheels.Positions, err, a)
		}
		if k := kinds(a); k[LevelChanges] != 1 || k[Lost]+k[Extra]+k[Glitches]+k[CrankSensorKind] > 0 || a.SampleS != 0 {
			t.Errorf("%d positions: %+v", wheels.Positions, a.Faults)
		}
		if d := float64(a.Correlation.Value) - 14; math.Abs(d) > max(0.3, 2*float64(a.Correlation.U)) {
			t.Errorf("%d positions: correlation %v, want 14", wheels.Positions, a.Correlation)
		}
		turns := a.Revolutions
		dice, spoiled := rand.New(rand.NewPCG(1, 9)), 0
		c, _ = collected(t, toChanges(s, func(row *[2]float64) bool {
			if dice.IntN(20) > 0 {
				return false
			}
			spoiled++
			row[0] = 1 - row[0]
			return true
		}))
		b, err := c.Analyse(known)
		if err != nil || b.Correlation == nil || math.Abs(float64(b.Correlation.Value-a.Correlation.Value)) > 0.05 || math.Abs(b.Revolutions-turns) > 0.1 {
			t.Fatalf("%d positions, glitches: %v, %+v", wheels.Positions, err, b)
		}
		counted := 0
		for _, f := range b.Faults {
			if f.Kind == Glitches {
				counted += f.N
			}
		}
		if counted != spoiled || kinds(b)[Extra] > 0 {
			t.Errorf("%d positions: %d glitches counted of %d, %+v", wheels.Positions, counted, spoiled, b.Faults)
		}
	}
}

// Levels say nothing of a sensor's kind: where the job says inductive its word is taken,
// and the uncertainty holds the tooth's whole width.
func TestLevelsOfAnInductiveSensor(t *testing.T) {
	wheels := wheel60()
	wheels.CrankHall = true
	s, known := tryout{cylinders: 4, wheels: wheels, start: 37, seed: 3, seconds: 4, scope: simulate.Scope{Rate: 200000}}.play()
	known.CrankSensor = wheel.Inductive
	c, _ := collected(t, toChanges(s, nil))
	a, err := c.Analyse(known)
	if err != nil || a.Correlation == nil {
		t.Fatalf("%v, %+v", err, a)
	}
	if k := kinds(a); k[SensorUntold] != 1 || k[CrankSensorKind] != 0 {
		t.Errorf("%+v", a.Faults)
	}
	if u := float64(a.Correlation.U); u < 0.8 || u > 3 || math.Abs(float64(a.Correlation.Value)) > 2*u {
		t.Errorf("correlation %v", a.Correlation)
	}
}

// The thinned copy of a channel of levels holds them.
func TestThinnedHolds(t *testing.T) {
	var s thinned
	s.hold(0, 0.01, 1)
	s.hold(0.01, 0.0203, 3)
	s.hold(0.0203, 0.04, 5)
	s.flush()
	for _, c := range []struct{ at, want float64 }{{0.005, 1}, {0.015, 3}, {0.03, 5}} {
		if got := s.value(c.at); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("at %g s %g, want %g", c.at, got, c.want)
		}
	}
	if got := float64(s.mean[40]); math.Abs(got-(3*0.6+5*0.4)) > 1e-3 {
		t.Errorf("the stretch of the change has %g", got)
	}
	var long thinned
	long.hold(0, 1e9, 2)
	long.hold(1e9, 2e9, 4)
	long.flush()
	if len(long.mean) > thinMost || long.value(5e8) != 2 || long.value(1.5e9) != 4 {
		t.Errorf("%d stretches, %g, %g", len(long.mean), long.value(5e8), long.value(1.5e9))
	}
}

// toWave is a WAV file of 16 bits of the signals, through a capacitor with a time constant
// of tau seconds.
func toWave(s simulate.Signals, tau float64) string {
	var data []byte
	put := func(v float64) { data = append(data, byte(int(math.Round(v))), byte(int(math.Round(v))>>8)) }
	left := math.Exp(-1 / (s.Rate * tau))
	var held [2]float64
	for i := range s.Crank {
		for c, v := range [2][]float64{s.Crank, s.Cam} {
			before := v[max(i-1, 0)]
			held[c] = held[c]*left + v[i] - before
			put(held[c] * 3000)
		}
	}
	var b bytes.Buffer
	u32 := func(v int) { b.Write([]byte{byte(v), byte(v >> 8), byte(v >> 16), byte(v >> 24)}) }
	b.WriteString("RIFF")
	u32(36 + len(data))
	b.WriteString("WAVEfmt ")
	u32(16)
	b.Write([]byte{1, 0, 2, 0})
	u32(int(s.Rate))
	u32(int(s.Rate) * 4)
	b.Write([]byte{4, 0, 16, 0})
	b.WriteString("data")
	u32(len(data))
	b.Write(data)
	return b.String()
}

// A sound card's recording of Hall sensors: the capacitor is told, and the correlation
// found all the same.
func TestSoundCard(t *testing.T) {
	for _, ms := range []float64{1, 3, 10, 50} {
		wheels := wheel36()
		wheels.CrankHall, wheels.Gamma = true, 12
		s, known := tryout{cylinders: 4, wheels: wheels, start: 37, seed: 2, seconds: 4, scope: simulate.Scope{Rate: 48000, Noise: 0.01}}.play()
		c, _ := collected(t, toWave(s, ms/1000))
		a, err := c.Analyse(known)
		if err != nil || a.Correlation == nil {
			t.Errorf("%g ms: %v, %+v", ms, err, a)
			continue
		}
		if d := float64(a.Correlation.Value) + 12; math.Abs(d) > max(0.3, 2*float64(a.Correlation.U)) {
			t.Errorf("%g ms: correlation %v, want -12", ms, a.Correlation)
		}
		k := kinds(a)
		if ms <= 10 && k[Coupled] != 2 || k[Lost]+k[Extra] > 0 || k[CrankSensorKind]+k[CamSensorKind] > 0 {
			t.Errorf("%g ms: %+v", ms, a.Faults)
		}
		for _, f := range a.Faults {
			if f.Kind == Coupled && math.Abs(math.Log(f.Value/ms)) > 0.3 {
				t.Errorf("%g ms: told as %s ms", ms, strconv.FormatFloat(f.Value, 'g', 3, 64))
			}
		}
	}
}

// A recording that is sampled slowly tells the correlation all the same, and says what the
// sampling costs where that is much.
func TestSlowSampling(t *testing.T) {
	for _, c := range []struct {
		rate, seconds float64
		told          bool
	}{{48000, 4, false}, {8000, 4, false}, {1500, 2.2, true}} {
		wheels := wheel36()
		wheels.CrankHall, wheels.Gamma = true, 12
		wheels.Cam = []float64{0, 90, 225}
		s, known := tryout{cylinders: 4, wheels: wheels, rpm: 250, start: 37, seed: 2, seconds: c.seconds, scope: simulate.Scope{Rate: c.rate}}.play()
		n := int(0.9 * c.rate)
		s.Crank, s.Cam = s.Crank[len(s.Crank)-n:], s.Cam[len(s.Cam)-n:]
		a, err := collect(s, "crank", "cam").Analyse(known)
		if err != nil || a.Correlation == nil {
			t.Errorf("%g Hz: %v, %+v", c.rate, err, a)
			continue
		}
		if d := float64(a.Correlation.Value) + 12; math.Abs(d) > 2*float64(a.Correlation.U)+0.1 {
			t.Errorf("%g Hz: %v, want -12", c.rate, a.Correlation)
		}
		if told := kinds(a)[Sampling] > 0; told != c.told {
			t.Errorf("%g Hz: sampling told: %v; %v, %+v", c.rate, told, a.Correlation, a.Faults)
		}
	}
}
