package trace

import (
	"math"
	"strings"
	"testing"
)

// A channel that the user names is used, by name or number, whatever it shows; one
// that is not there is refused.
func TestNamedChannels(t *testing.T) {
	c := fourCylinders()
	s, known := c.play()
	for _, n := range []struct {
		crank, cam string
		ok         bool
	}{{"A", "B", true}, {" a ", "", true}, {"1", "2", true}, {"", "b", true}, {"B", "", false}, {"C", "", false}, {"", "3", false}} {
		known.CrankName, known.CamName = n.crank, n.cam
		a, err := collect(s, "A", "B").Analyse(known)
		if ok := err == nil && a.Correlation != nil; ok != n.ok {
			t.Errorf("crank %q, cam %q: %v", n.crank, n.cam, err)
		}
		if n.crank == "C" && !strings.Contains(err.Error(), `no channel "C"; the recording has A, B`) {
			t.Errorf("%v", err)
		}
	}
}

// Single teeth lost and edges won are named with their times, and the rest of the
// recording is still read.
func TestSlips(t *testing.T) {
	c := fourCylinders()
	s, known := c.play()
	crank := append([]float64(nil), s.Crank...)
	s.Crank = crank
	a, err := collect(s).Analyse(known)
	if err != nil || len(a.Slips) > 0 {
		t.Fatalf("%v, %+v", err, a.Slips)
	}
	// The signal is 0 for the time of a tooth, then a spike stands between two others.
	teeth := a.Runs[0].Time
	lost, extra := teeth[len(teeth)/2], (teeth[2*len(teeth)/3+5]+teeth[2*len(teeth)/3+6])/2
	pitch := teeth[len(teeth)/2+1] - lost
	for i := int((lost - 0.45*pitch) * s.Rate); i < int((lost+0.45*pitch)*s.Rate); i++ {
		crank[i] = 0
	}
	for i := int((extra - 0.12*pitch) * s.Rate); i < int((extra+0.12*pitch)*s.Rate); i++ {
		crank[i] = math.Copysign(3, extra-float64(i)/s.Rate)
	}
	b, err := collect(s).Analyse(known)
	if err != nil {
		t.Fatal(err)
	}
	found := map[bool]float64{}
	for _, slip := range b.Slips {
		found[slip.Extra] = slip.Time
	}
	if math.Abs(found[false]-lost) > pitch/2 || math.Abs(found[true]-extra) > pitch {
		t.Errorf("lost at %g s, found %g; too many at %g s, found %g", lost, found[false], extra, found[true])
	}
	if kinds(b)[Lost] == 0 || kinds(b)[Extra] == 0 || b.Correlation == nil || math.Abs(float64(b.Correlation.Value)+20) > 0.3 {
		t.Errorf("%v %+v", b.Correlation, b.Faults)
	}
	if math.Abs(b.Revolutions-a.Revolutions) > 0.1 {
		t.Errorf("%g turns, with the slips %g", a.Revolutions, b.Revolutions)
	}
}

// A starter's current and a cylinder's pressure are found, used, and do not spoil
// what the rest says; the pressure of a cylinder known by number tells a half-turned
// cam on an engine whose speed cannot.
func TestOtherChannels(t *testing.T) {
	for _, half := range []bool{false, true} {
		c := fourCylinders()
		c.scope.Pressure = true
		if half {
			c.wheels.Gamma = 360
		}
		s, known := c.play()
		a, err := collect(s, "A", "B", "cylinder 1 pressure").Analyse(known)
		if err != nil || a.Pressure == nil || a.TDC == nil || a.Correlation == nil || a.HalfTurn == nil {
			t.Fatalf("half a turn %v: %v, %+v", half, err, a)
		}
		if *a.HalfTurn != half || a.CorrelationModulo != 720 {
			t.Errorf("half a turn %v found %v", half, *a.HalfTurn)
		}
		if want := map[bool]float64{false: -20, true: 340}[half]; math.Abs(float64(a.Correlation.Value)-want) > 0.3 {
			t.Errorf("correlation %g, want %g", float64(a.Correlation.Value), want)
		}
		if math.Abs(float64(a.TDC.Value)+20) > 2*float64(a.TDC.U) || float64(a.TDC.U) > 1 || math.Abs(float64(a.Pressure.Value)+20) > 2*float64(a.Pressure.U) {
			t.Errorf("TDC %v, by the pressure %v", *a.TDC, *a.Pressure)
		}
		if a.Channels[2].Role != CylinderPressure {
			t.Errorf("channel %+v", a.Channels[2])
		}
	}
	c := fourCylinders()
	c.scope.Current = true
	s, known := c.play()
	a, err := collect(s, "A", "B", "starter current").Analyse(known)
	if err != nil || a.TDC == nil || a.Channels[2].Role != StarterCurrent {
		t.Fatalf("%v, %+v", err, a)
	}
	if math.Abs(float64(a.TDC.Value)+20) > 2*float64(a.TDC.U) {
		t.Errorf("TDC %v", *a.TDC)
	}
}

// A channel's name says what it is by words, not by letters.
func TestNameRole(t *testing.T) {
	for _, c := range []struct {
		name, unit string
		want       Role
	}{
		{"Channel A", "", Unknown}, {"Channel A", "V", Unknown}, {"Channel A", "A", StarterCurrent}, {"CH_A", "", Unknown}, {"Amplitude", "V", Unknown}, {"amps (clamp)", "", StarterCurrent},
		{"Starter amp", "", StarterCurrent}, {"Kurbelwelle", "V", CrankSensor}, {"Nockenwelle", "V", CamSensor}, {"cigüeñal", "", CrankSensor}, {"árbol de levas", "", CamSensor}, {"Sample", "", Unknown},
	} {
		if got, _ := nameRole(c.name, c.unit); got != c.want {
			t.Errorf("%q in %q is %q, want %q", c.name, c.unit, got, c.want)
		}
	}
}
