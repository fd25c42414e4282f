package finding

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
)

// deltas is how two angles may differ for the rounding of results.
const deltas = 3e-9

func TestLawsOfTheShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		s, err := ShiftOf(j)
		if err != nil {
			t.Fatal(err)
		}
		cycle := float64(timing.CycleOf(j.Engine.Strokes))
		if len(s.Injections) != len(j.Engine.FiringOrder) {
			t.Fatalf("%d injections of %d cylinders", len(s.Injections), len(j.Engine.FiringOrder))
		}
		if s.WheelErrorDeg <= -180 || s.WheelErrorDeg > 180 || s.GearErrorDeg <= -180 || s.GearErrorDeg > 180 {
			t.Fatalf("errors of %g and %g are not the short way round", s.WheelErrorDeg, s.GearErrorDeg)
		}
		if (s.WheelErrorUDeg == nil) != s.Assumed || (s.Basis == "assumed") != s.Assumed {
			t.Fatalf("assumed %t, basis %s, uncertainty %v", s.Assumed, s.Basis, s.WheelErrorUDeg)
		}
		for _, u := range []float64{uOf(s.WheelErrorUDeg), s.GearErrorUDeg} {
			if !(u >= 0) || math.IsInf(u, 0) {
				t.Fatalf("uncertainty %g", u)
			}
		}
		want := map[bool]string{s.WheelErrorDeg > 0: "advanced", s.WheelErrorDeg < 0: "retarded"}[true]
		if want == "" {
			want = "none"
		}
		if s.Direction != want {
			t.Fatalf("wheel error %g is %s", s.WheelErrorDeg, s.Direction)
		}
		for i, in := range s.Injections {
			if in.Cylinder != i+1 || in.CommandedBTDCDeg != round(j.Injection.StartBTDCDeg.Value) {
				t.Fatalf("%+v at place %d", in, i+1)
			}
			if !near(in.ActualBTDCDeg, in.CommandedBTDCDeg+s.WheelErrorDeg, deltas) {
				t.Fatalf("%+v with a wheel error of %g", in, s.WheelErrorDeg)
			}
			if in.ActualCrankDeg < 0 || in.ActualCrankDeg >= cycle {
				t.Fatalf("%+v outside a cycle of %g", in, cycle)
			}
			p, err := PhaseAt(j, timing.Deg(in.ActualCrankDeg))
			if err != nil {
				t.Fatal(err)
			}
			// Within rounding of a dead centre either stroke may be named.
			c := p.Cylinders[i]
			if off := math.Mod(c.AngleDeg, 180); c.Stroke != in.Stroke && off > 1e-8 && off < 180-1e-8 {
				t.Fatalf("%+v, but at that crank angle it is on %s", in, c.Stroke)
			}
			after := timing.WrapSigned(timing.Deg(c.AngleDeg+in.ActualBTDCDeg), timing.Deg(cycle))
			if math.Abs(float64(after)) > deltas {
				t.Fatalf("%+v, but at that crank angle it is at %g", in, c.AngleDeg)
			}
			if (in.PistonMM == nil) != (c.PistonMM == nil) || in.PistonMM != nil && !near(*in.PistonMM, *c.PistonMM, 1e-6) {
				t.Fatalf("%+v, but at that crank angle the piston is at %v", in, c.PistonMM)
			}
		}
	})
}

// Every result is fit for JSON: no number is infinite or none, no angle leaves
// its range, no list is null.
func TestResultsAreFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		at := rapid.OneOf(rapid.Float64Range(-2000, 2000), rapid.Float64Range(-1e300, 1e300), rapid.SampledFrom([]float64{0, 720, -360, 1e-12, -1e-12})).Draw(t, "at")
		p, err := PhaseAt(j, timing.Deg(at))
		if err != nil {
			t.Fatal(err)
		}
		if p.CrankDeg < 0 || p.CrankDeg >= p.CycleDeg || math.Signbit(p.CrankDeg) {
			t.Fatalf("crank at %g of %g", p.CrankDeg, p.CycleDeg)
		}
		for _, c := range p.Cylinders {
			if c.AngleDeg < 0 || c.AngleDeg >= p.CycleDeg || c.FiresAtDeg < 0 || c.FiresAtDeg >= p.CycleDeg || c.Companion == nil {
				t.Fatalf("%+v in a cycle of %g", c, p.CycleDeg)
			}
			if c.PistonMM != nil && *c.PistonMM < 0 {
				t.Fatalf("cylinder %d: the piston is at %g", c.Cylinder, *c.PistonMM)
			}
		}
		results := []any{p}
		if part, err := PartOf(j); err == nil {
			for _, f := range []*FeatureAngle{part.Dowel, part.Keyway} {
				if f == nil || f.MeasuredDeg == nil {
					continue
				}
				if m := *f.MeasuredDeg; m <= -180 || m > 180 || !(*f.UDeg >= 0 && *f.UDeg <= 180) || f.Interval95Deg[0] > f.Interval95Deg[1] {
					t.Fatalf("measured %g ± %g, interval %v", m, *f.UDeg, *f.Interval95Deg)
				}
			}
			results = append(results, part)
		}
		if s, err := ShiftOf(j); err == nil {
			results = append(results, s)
		}
		for _, r := range results {
			if _, err := json.Marshal(r); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// turnedRound is the reading as it is taken from the other end: the other side,
// and points seen in a mirror.
func turnedRound(r *job.Reading, section string) {
	if r == nil {
		return
	}
	if r.SeenFrom == "" {
		r.SeenFrom = section
	}
	if r.SeenFrom == "flywheel" {
		r.SeenFrom = "nose"
	} else {
		r.SeenFrom = "flywheel"
	}
	if r.Side == "clockwise" {
		r.Side = "anticlockwise"
	} else if r.Side == "anticlockwise" {
		r.Side = "clockwise"
	}
	for _, points := range [][]job.Point{r.Centre, r.Keyway, r.Dowel, r.Throw} {
		for i := range points {
			points[i].X = -points[i].X
		}
	}
}

func TestTheOtherEndAndTheOtherSideChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		other := j.Clone()
		for _, f := range []*job.Feature{other.Dowel, other.Keyway} {
			if f != nil {
				turnedRound(f.Drawing, f.SeenFrom)
				turnedRound(f.Measured, f.SeenFrom)
			}
		}
		a, errA := ShiftOf(j)
		b, errB := ShiftOf(other)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		// Half a turn is the same angle either way round.
		if d := timing.Difference(timing.Deg(a.WheelErrorDeg), timing.Deg(b.WheelErrorDeg), timing.Turn); math.Abs(float64(d)) > deltas {
			t.Fatalf("wheel error %g became %g", a.WheelErrorDeg, b.WheelErrorDeg)
		}
		// Where an uncertainty is drawn and not worked out, points seen in a mirror
		// are drawn anew: some hundredths of it.
		if !near(uOf(a.WheelErrorUDeg), uOf(b.WheelErrorUDeg), 1e-6+uOf(a.WheelErrorUDeg)/20) || !near(a.GearErrorUDeg, b.GearErrorUDeg, 1e-6+a.GearErrorUDeg/20) {
			t.Fatalf("uncertainties of %g and %g became %g and %g", uOf(a.WheelErrorUDeg), a.GearErrorUDeg, uOf(b.WheelErrorUDeg), b.GearErrorUDeg)
		}
	})
}

// Drawing and measurement exchanged turn the error round; a shift by delta and
// then by −delta is nothing.
func TestShiftAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		if j.Dowel == nil || j.Dowel.Measured == nil {
			return
		}
		there, err := ShiftOf(j)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []*job.Feature{j.Dowel, j.Keyway} {
			if f != nil && f.Measured != nil {
				f.Drawing, f.Measured = f.Measured, f.Drawing
			}
		}
		j.Injection.StartBTDCDeg = job.Num(there.Injections[0].ActualBTDCDeg)
		back, err := ShiftOf(j)
		if err != nil {
			t.Fatal(err)
		}
		d := timing.Difference(timing.Deg(there.Injections[0].CommandedBTDCDeg), timing.Deg(back.Injections[0].ActualBTDCDeg), timing.Turn)
		if math.Abs(float64(d)) > deltas {
			t.Fatalf("%g there and %g back is off by %g", there.WheelErrorDeg, back.WheelErrorDeg, float64(d))
		}
	})
}

// A dowel moved by hand is measured where it was put, to what the reading is
// rounded to, and the job stays sound.
func TestRemeasure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		to := timing.Deg(value(t, "to", -180, 180))
		if !CanRemeasure(j) {
			if !Remeasure(j, to).Equal(j) {
				t.Fatal("a job without a measured dowel was changed")
			}
			return
		}
		before := j.Clone()
		moved := Remeasure(j, to)
		if !j.Equal(before) {
			t.Fatal("the job itself was changed")
		}
		if faults := job.Check(moved); faults != nil {
			t.Fatalf("moved to %g: %v", float64(to), faults)
		}
		p, err := PartOf(moved)
		if err != nil {
			t.Fatal(err)
		}
		got := timing.Deg(*p.Dowel.MeasuredDeg)
		off := math.Abs(float64(timing.Difference(to, got, timing.Turn)))
		switch r := j.Dowel.Measured.As("dowel", false).(type) {
		case part.Chord: // compared as lengths: near the line through the centre a chord hardly changes
			r2 := r.Radius2
			if r2 == 0 {
				r2 = r.Radius1
			}
			if d := part.ChordFor(to, r.Radius1, r2) - part.ChordFor(got, r.Radius1, r2); math.Abs(d) > 0.00101 {
				t.Fatalf("moved to %g, measured %g: chords differ by %g mm", float64(to), float64(got), d)
			}
			if to*got < 0 && size(to) > 0.1 && size(to) < 180 && got < 180 {
				t.Fatalf("moved to %g, measured %g", float64(to), float64(got))
			}
		case part.Arc:
			if mm := part.ArcFor(timing.Deg(off), r.RimRadiusMM); mm > 0.00101 {
				t.Fatalf("moved to %g, measured %g: %g mm along the rim", float64(to), float64(got), mm)
			}
		case part.Coordinates: // a ten-thousandth of the leading digit of the radius, in each of two directions
			if off > 180/math.Pi*1e-4*0.71 {
				t.Fatalf("moved to %g, measured %g", float64(to), float64(got))
			}
		default:
			if off > 0.00501 {
				t.Fatalf("moved to %g, measured %g", float64(to), float64(got))
			}
		}
	})
}
