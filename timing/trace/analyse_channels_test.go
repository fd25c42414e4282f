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
// cam on an engine whose speed cannot, and on one whose speed can it moves both.
func TestOtherChannels(t *testing.T) {
	for _, o := range []struct {
		cylinders    int
		delta, gamma float64
		corr         float64 // delta - gamma as the cam's edges tell it within a turn, a turn less where the cam is half a turn out
		half         bool
	}{
		{4, -20, 0, -20, false}, {4, -20, 360, 340, true}, {4, 170, -15, -175, false},
		{3, -20, 0, -20, false}, {3, -20, 360, 340, true}, {3, -20, 10, -30, false}, {1, -20, 0, -20, false}, {1, -20, 360, 340, true}, {1, 170, -15, -175, false},
	} {
		c := fourCylinders()
		c.cylinders, c.scope.Pressure = o.cylinders, true
		if o.cylinders < 4 {
			c.seconds = 5
		}
		c.wheels.Delta, c.wheels.Gamma = o.delta, o.gamma
		s, known := c.play()
		a, err := collect(s, "A", "B", "cylinder 1 pressure").Analyse(known)
		if err != nil || a.Pressure == nil || a.TDC == nil || a.Correlation == nil || a.HalfTurn == nil {
			t.Errorf("%+v: %v, %+v", o, err, a)
			continue
		}
		if *a.HalfTurn != o.half || a.CorrelationModulo != 720 {
			t.Errorf("%+v: half a turn found %v", o, *a.HalfTurn)
		}
		if off := signed(float64(a.Correlation.Value)-o.corr, 720); math.Abs(off) > 0.3 {
			t.Errorf("%+v: correlation %g", o, float64(a.Correlation.Value))
		}
		tdc := o.corr + o.gamma // the turn is that from which the cam's edges count
		off, by := signed(float64(a.TDC.Value)-tdc, float64(a.Modulo)), signed(float64(a.Pressure.Value)-tdc, float64(a.Modulo))
		if math.Abs(off) > 2*float64(a.TDC.U) || float64(a.TDC.U) > 1 || math.Abs(by) > 2*float64(a.Pressure.U) || kinds(a)[PressureDiffers] > 0 {
			t.Errorf("%+v: TDC %v up to %g, by the pressure %v", o, *a.TDC, float64(a.Modulo), *a.Pressure)
		}
		if a.Channels[2].Role != CylinderPressure {
			t.Errorf("%+v: channel %+v", o, a.Channels[2])
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

// Where the firings do not repeat within the cycle the speed tells a cam half a turn out
// however far the cam is off besides: half a turn is more than 180 degrees.
func TestSingleTellsHalf(t *testing.T) {
	for _, o := range []struct {
		delta, gamma float64
		half         bool
	}{{-20, 0, false}, {-20, 360, true}, {100, -101, false}, {170, -15, false}, {-20, 150, false}, {-20, 300, true}} {
		c := fourCylinders()
		c.cylinders, c.seconds = 1, 5
		c.wheels.Delta, c.wheels.Gamma = o.delta, o.gamma
		s, known := c.play()
		a, err := collect(s).Analyse(known)
		if err != nil || a.TDC == nil || a.Correlation == nil || a.HalfTurn == nil || a.CamError() == nil {
			t.Errorf("%+v: %v, %+v", o, err, faultsOf(a))
			continue
		}
		if off := signed(float64(a.CamError().Value)-o.gamma, 720); *a.HalfTurn != o.half || math.Abs(off) > 2*float64(a.CamError().U) {
			t.Errorf("%+v: half a turn %v, cam error %v", o, *a.HalfTurn, *a.CamError())
		}
		if off := signed(float64(a.TDC.Value)-o.delta, 360); math.Abs(off) > 2*float64(a.TDC.U) {
			t.Errorf("%+v: TDC %v", o, *a.TDC)
		}
	}
}
