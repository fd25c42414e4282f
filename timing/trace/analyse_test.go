package trace

import (
	"bytes"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

// four is a usual recording of a four-cylinder engine whose wheel is 20 degrees
// behind.
func fourCylinders() tryout {
	w := wheel60()
	w.Delta = -20
	return tryout{cylinders: 4, wheels: w, start: 37, seed: 1, seconds: 3}
}

// Recordings that prove nothing are refused with the reason.
func TestAnalyseRefuses(t *testing.T) {
	c := fourCylinders()
	for _, k := range []struct {
		name string
		make func(*simulate.Signals)
		want error
	}{
		{"flat", func(s *simulate.Signals) { clear(s.Crank); clear(s.Cam) }, ErrFlat},
		{"flat but for noise in the cam channel", func(s *simulate.Signals) {
			clear(s.Crank)
			r := rand.New(rand.NewPCG(1, 1))
			for i := range s.Cam {
				s.Cam[i] = r.NormFloat64()
			}
		}, ErrTooShort},
		{"one turn", func(s *simulate.Signals) { *s = cut(*s, 1.0, 1.3) }, ErrTooShort},
		{"a hundredth of a second", func(s *simulate.Signals) { *s = cut(*s, 1.0, 1.01) }, ErrTooShort},
		{"no gap", func(s *simulate.Signals) {
			for i := range s.Crank {
				s.Crank[i] = math.Sin(float64(i) / s.Rate * 2 * math.Pi * 200)
				s.Cam[i] = math.Sin(float64(i) / s.Rate * 2 * math.Pi * 130)
			}
		}, ErrNoGap},
		{"all out of range", func(s *simulate.Signals) {
			for i := range s.Crank {
				s.Crank[i], s.Cam[i] = math.NaN(), math.NaN()
			}
		}, ErrFlat},
	} {
		s, known := c.play()
		s.Crank, s.Cam = append([]float64(nil), s.Crank...), append([]float64(nil), s.Cam...)
		k.make(&s)
		if a, err := collect(s).Analyse(known); !errors.Is(err, k.want) {
			t.Errorf("%s: %v, %+v", k.name, err, a)
		}
	}
}

// cut is the part of a recording between two times.
func cut(s simulate.Signals, from, to float64) simulate.Signals {
	i, k := int(from*s.Rate), int(to*s.Rate)
	s.Crank, s.Cam = s.Crank[i:k], s.Cam[i:k]
	return s
}

// What can be used is used, and what is odd about it is said.
func TestAnalyseSays(t *testing.T) {
	has := func(a *Analysis, k Kind) bool { return kinds(a)[k] > 0 }
	for _, k := range []struct {
		name        string
		change      func(*tryout)
		known       func(*Known)
		names       []string
		says        []Kind
		correlation bool
		tdc         bool
		u           float64 // that the correlation may have at most, and must have to hold the truth; 0: it is known as usual
	}{
		{name: "sound", says: []Kind{TurnUnknown}, correlation: true, tdc: true},
		{name: "swapped", change: func(c *tryout) { c.scope.Swapped = true }, names: []string{"crank", "cam"}, says: []Kind{Swapped}, correlation: true, tdc: true},
		{name: "wrong wheel", known: func(k *Known) { k.Crank.Positions, k.Crank.Missing = 36, []int{36} }, says: []Kind{WheelDiffers}},
		{name: "two teeth missing instead of one", known: func(k *Known) { k.Crank.Missing = []int{60} }, says: []Kind{WheelEither}},
		{name: "back to front", change: func(c *tryout) { c.wheels = wheelUneven() }, known: func(k *Known) { k.Crank.Missing = []int{11, 17, 35, 36} }, says: []Kind{WheelMirrored}},
		{name: "hall in the job, inductive recorded", known: func(k *Known) { k.CrankSensor = wheel.Hall }, says: []Kind{CrankSensorKind}, correlation: true, tdc: true, u: 0.8},
		{name: "inductive in the job, hall recorded", change: func(c *tryout) { c.wheels.CrankHall = true }, known: func(k *Known) { k.CrankSensor = wheel.Inductive }, says: []Kind{CrankSensorKind}, correlation: true, tdc: true, u: 1.25}, // a comparator behind an inductive sensor makes the same
		{name: "cam inductive in the job, hall recorded", known: func(k *Known) { k.CamSensor = wheel.Inductive }, says: []Kind{CamSensorKind}, correlation: true, tdc: true, u: 5.7},
		{name: "cam hall in the job, inductive recorded", change: func(c *tryout) { c.wheels.CamHall = false }, known: func(k *Known) { k.CamSensor = wheel.Hall }, says: []Kind{CamSensorKind}, correlation: true, tdc: true, u: 4.1},
		{name: "another cam wheel", known: func(k *Known) { k.Cam.Teeth = []timing.CamDeg{0, 20, 200} }, says: []Kind{CamDiffers}, tdc: true},
		{name: "another cam wheel, one of its spaces the same", change: func(c *tryout) { c.wheels.Cam = []float64{0, 90, 200} }, known: func(k *Known) { k.Cam.Teeth = []timing.CamDeg{0, 90, 240} }, says: []Kind{CamDiffers}, tdc: true},
		{name: "a cam wheel that repeats", change: func(c *tryout) { c.wheels.Cam = []float64{0, 90, 180, 270} }, says: []Kind{CamAmbiguous}, tdc: true},
		{name: "no cam wheel in the job", known: func(k *Known) { k.Cam = nil }, says: []Kind{NoCamWheel}, tdc: true},
		{name: "no cam channel", change: func(c *tryout) { c.wheels.Cam = nil }, known: func(k *Known) {
			k.Cam = &wheel.Cam{Teeth: []timing.CamDeg{0, 60}, FirstToothBTDC: 50, Cycle: 720}
		}, says: []Kind{NoCamChannel}, tdc: true},
		{name: "no measures of the engine", known: func(k *Known) { k.Engine = nil }, says: []Kind{NoGeometry}, correlation: true},
		{name: "two turns", change: func(c *tryout) { c.seconds = 0.8 }, says: []Kind{FewCycles}, correlation: true},
		{name: "dropouts", change: func(c *tryout) { c.scope.Dropouts, c.scope.DropS, c.seconds = 2, 0.02, 6 }, says: []Kind{Thread}, correlation: true, tdc: true},
		{name: "a gap like the wheel's own", change: func(c *tryout) {
			c.wheels = wheel36()
			c.wheels.Delta, c.wheels.Missing = -20, []int{20, 36}
		}, known: func(k *Known) { k.Crank.Missing = []int{36} }, says: []Kind{BrokenSomewhere}},
		{name: "a gap like the wheel's own, no cam wheel", change: func(c *tryout) {
			c.wheels = wheel36()
			c.wheels.Delta, c.wheels.Missing = -20, []int{20, 36}
		}, known: func(k *Known) { k.Crank.Missing, k.Cam = []int{36}, nil }, says: []Kind{BrokenSomewhere}},
		{name: "a lost tooth", change: func(c *tryout) { c.wheels.Missing = []int{20, 59, 60} }, known: func(k *Known) { k.Crank.Missing = []int{59, 60} }, says: []Kind{Broken}, correlation: true, tdc: true},
	} {
		c := fourCylinders()
		if k.change != nil {
			k.change(&c)
		}
		s, known := c.play()
		if k.known != nil {
			k.known(&known)
		}
		a, err := collect(s, k.names...).Analyse(known)
		if err != nil {
			t.Errorf("%s: %v", k.name, err)
			continue
		}
		for _, kind := range k.says {
			if !has(a, kind) {
				t.Errorf("%s: does not say %q but %+v", k.name, kind, a.Faults)
			}
		}
		if (a.Correlation != nil) != k.correlation || (a.TDC != nil) != k.tdc {
			t.Errorf("%s: correlation %v, TDC %v; %+v", k.name, a.Correlation, a.TDC, a.Faults)
		}
		if k.u > 0 && a.Correlation != nil {
			if u := float64(a.Correlation.U); u > k.u || math.Abs(float64(a.Correlation.Value)+20) > 2*u {
				t.Errorf("%s: correlation %v, should be -20, known to %g", k.name, a.Correlation, k.u)
			}
			continue
		}
		if a.Correlation != nil && math.Abs(float64(a.Correlation.Value)+20) > 0.3 || a.TDC != nil && math.Abs(float64(a.TDC.Value)+20) > 3 {
			t.Errorf("%s: correlation %v, TDC %v, both should be -20", k.name, a.Correlation, a.TDC)
		}
	}
}

// A cylinder that leaks is named, and only that one. On engines that fire evenly in
// pairs it may be its companion; the pressure in a cylinder settles which.
func TestWeakCylinder(t *testing.T) {
	for _, n := range []int{3, 4, 5, 6} {
		for _, weak := range []int{1, n} {
			c := fourCylinders()
			c.cylinders, c.seconds = n, 4
			c.change = func(e *simulate.Engine) {
				for i := range n {
					e.Strength = append(e.Strength, 1)
					if i == weak-1 {
						e.Strength[i] = 0.5
					}
				}
			}
			s, known := c.play()
			a, err := collect(s).Analyse(known)
			if err != nil || a.Ripple == nil {
				t.Fatalf("%d cylinders: %v, %+v", n, err, a)
			}
			named := 0
			for _, f := range a.Faults {
				if f.Kind == WeakCylinder {
					named++
					if f.N != weak && f.Of != weak || f.Of == 0 && n%2 == 0 {
						t.Errorf("%d cylinders, %d weak: named %d or %d", n, weak, f.N, f.Of)
					}
				}
			}
			if named != 1 {
				t.Errorf("%d cylinders, %d weak: %d named, %.2f ± %.2f", n, weak, named, a.Ripple.Strength, a.Ripple.StrengthU)
			}
			if off := float64(a.TDC.Value) + 20; math.Abs(off) > 2*float64(a.TDC.U) {
				t.Errorf("%d cylinders, %d weak: TDC off by %.2f ± %.2f", n, weak, off, a.TDC.U)
			}
		}
	}
}

// The half turn of a cam is told where the firing order can show it, and the
// correlation then says so; where it cannot, the correlation is known up to a turn.
func TestHalfTurn(t *testing.T) {
	for _, n := range []int{3, 4, 5, 6} {
		c := fourCylinders()
		c.cylinders, c.wheels.Gamma = n, 360
		s, known := c.play()
		a, err := collect(s).Analyse(known)
		if err != nil || a.Correlation == nil {
			t.Fatalf("%d cylinders: %v", n, err)
		}
		want, modulo := 340.0, timing.Deg(720)
		if n%2 == 0 {
			want, modulo = -20, 360
		}
		if math.Abs(float64(a.Correlation.Value)-want) > 0.3 || a.CorrelationModulo != modulo {
			t.Errorf("%d cylinders: correlation %g modulo %g, want %g modulo %g", n, float64(a.Correlation.Value), float64(a.CorrelationModulo), want, float64(modulo))
		}
		if gamma := a.CamError(); n%2 == 1 && (gamma == nil || math.Abs(math.Abs(float64(gamma.Value))-360) > 3) {
			t.Errorf("%d cylinders: cam error %v", n, gamma)
		}
		if kinds(a)[HalfTurned] != n%2 || kinds(a)[TurnUnknown] != 1-n%2 {
			t.Errorf("%d cylinders: %+v", n, a.Faults)
		}
	}
}

// The edges of a cam tooth that is half the wheel wide lie a turn apart: while nothing tells
// which of them begins it, top dead centre is known only as if there were no cam sensor.
func TestHalfMoonOnTheCam(t *testing.T) {
	for _, flip := range []bool{false, true} {
		c := fourCylinders()
		c.cylinders = 3
		c.wheels.Cam, c.wheels.CamWidth, c.wheels.CamHall, c.wheels.CamFlip = []float64{0}, 180, true, flip
		s, known := c.play()
		a, err := collect(s).Analyse(known)
		if err != nil || a.TDC == nil {
			t.Fatalf("flip %v: %v, %+v", flip, err, faultsOf(a))
		}
		if off := signed(float64(a.TDC.Value)+20, float64(a.Modulo)); a.Modulo != 120 || math.Abs(off) > 3*float64(a.TDC.U) {
			t.Errorf("flip %v: TDC off by %.2f ± %.2f, modulo %g; %+v", flip, off, a.TDC.U, float64(a.Modulo), a.Faults)
		}
		if a.Correlation != nil || kinds(a)[CamPolarity] != 1 {
			t.Errorf("flip %v: correlation %v; %+v", flip, a.Correlation, a.Faults)
		}
	}
}

// A speed that hardly ripples, or ripples without compression's shape, gives no top
// dead centre, with the reason.
func TestNoCompression(t *testing.T) {
	p := crude{cylinders: 4, rpm: 180, seconds: 4, rate: 20000, noise: 0.02, wheels: wheel60(), camHall: true, seed: 3}
	for _, c := range []struct {
		name string
		make func(*crude)
		want Kind
	}{
		{"constant speed", func(p *crude) {}, NoRipple},
		{"constant speed, noisy", func(p *crude) { p.noise = 0.2 }, NoRipple},
		{"gaining speed", func(p *crude) { p.drift = 0.2 }, NoRipple},
		{"running", func(p *crude) { p.rpm, p.ripple = 750, 0.05 }, Running},
	} {
		q := p
		c.make(&q)
		s, k := q.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.TDC != nil || kinds(a)[c.want] == 0 || a.Correlation == nil {
			t.Errorf("%s: %v, %+v", c.name, err, a)
		}
	}
}

// The picture of a recording has the extents of the samples, whatever the stretch,
// also when samples had to be put together.
func TestPicture(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	const n, dt = 3 * mostBins / 2, 1e-5
	values := make([]float64, n)
	for i := range values {
		values[i] = r.NormFloat64()
	}
	values[n/3] = 50
	values[n/2] = math.NaN()
	var p Picture
	for from := 0; from < n; from += 5000 {
		b := samples.Block{Values: [][]float64{values[from:min(from+5000, n)]}}
		for i := range b.Values[0] {
			b.Time = append(b.Time, float64(from+i)*dt)
		}
		p.Add(&b)
	}
	p.Finish()
	if e := p.Whole(0); e.Hi != 50 || p.per < 2 || len(p.time) > mostBins {
		t.Errorf("whole %v, %d bins of %d", e, len(p.time), p.per)
	}
	if e := p.At(0, n/3*dt+1e-9); e.Hi != 50 {
		t.Errorf("the spike's bin is %v", e)
	}
	if !p.At(0, n*dt+1).Empty() || !p.At(0, -1).Empty() {
		t.Error("values outside the recording")
	}
	for range 200 {
		from := r.Float64() * n * dt
		to := from + (n*dt-from)*r.Float64()
		columns := p.Columns(0, from, to, 37)
		all := nothing
		for _, e := range columns {
			all = all.with(e)
		}
		lo, hi := int(from/dt)+2*p.per, int(to/dt)-2*p.per
		for i := lo; i < hi; i++ {
			if v := float32(values[i]); v < all.Lo || v > all.Hi {
				t.Fatalf("sample %d, %g, is not within %v", i, v, all)
			}
		}
	}
}

// From the text of a file to the result, with every channel name wrong.
func TestRecordingFromText(t *testing.T) {
	c := fourCylinders()
	c.scope = simulate.Scope{Rate: 20000, Noise: 0.05, Bits: 10}
	s, known := c.play()
	var text bytes.Buffer
	if err := s.WriteCSV(&text, 5, "CAM SENSOR", "crank"); err != nil {
		t.Fatal(err)
	}
	r, err := samples.NewReader(&text, samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	collected, err := Collect(context.Background(), r, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := collected.Analyse(known)
	if err != nil || a.Correlation == nil || math.Abs(float64(a.Correlation.Value)+20) > 0.3 || kinds(a)[Swapped] != 2 {
		t.Errorf("%v, %+v", err, a)
	}
}
