package finding

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// A part whose dowel is put where the remedy has it has no wheel error, whatever was wrong
// with dowel and keyway; and where it turns the dowel is the whole way there.
func TestRemedyPutsTheWheelRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]string{"clockwise", "anticlockwise"})
		reading := func(name string) *job.Reading {
			return &job.Reading{Side: side.Draw(t, name+" side"), AngleDeg: job.Num(rapid.Float64Range(0, 179).Draw(t, name)), UDeg: job.Num(0.1)}
		}
		j := job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}, Rotation: side.Draw(t, "rotation")},
			Dowel: &job.Feature{SeenFrom: rapid.SampledFrom([]string{"nose", "flywheel"}).Draw(t, "seen from"), Drawing: reading("drawn"), Measured: reading("measured")}}
		if rapid.Bool().Draw(t, "keyway") {
			j.Keyway = &job.Feature{Drawing: reading("keyway drawn"), Measured: reading("keyway")}
		}
		r, err := RemedyOf(j)
		if err != nil {
			t.Fatal(err)
		}
		if r == nil {
			if off, _ := OffMark(j); off {
				t.Fatal("no remedy for an error that is told from 0")
			}
			return
		}
		view := ViewOf(j, j.Dowel.SeenFrom)
		mended := j.Clone()
		size, way := view.Seen(short(timing.Deg(r.IsDeg + r.TurnDeg)))
		mended.Dowel.Measured.AngleDeg, mended.Dowel.Measured.Side = job.Num(float64(size)), way.String()
		e, err := WheelErrorOf(mended)
		if err != nil || math.Abs(float64(short(e.Value))) > 1e-6 {
			t.Errorf("mended the wheel error is %v, %v", e.Value, err)
		}
		if d := float64(short(timing.Deg(r.IsDeg + r.TurnDeg - r.ShouldDeg))); math.Abs(d) > 1e-6 {
			t.Errorf("%v and %v do not lead to %v", r.IsDeg, r.TurnDeg, r.ShouldDeg)
		}
	})
}

// The demo's dowel lies mirrored, 28 degrees from its place on a circle of 27 mm: the chord
// is 2 * 27 * sin(14 degrees) = 13.064 mm by hand, and from the keyway's middle at 41 mm to
// the new place it is the 16.18 mm that were measured to the wrong one, but for the 0.003
// degrees that the two angles differ by. Nothing is said of shifting the timing but not to.
func TestRemedyOfTheDemo(t *testing.T) {
	r, err := RemedyOf(sample.Demo(t))
	if err != nil || r == nil {
		t.Fatal(err)
	}
	near := func(what string, got *float64, want, within float64) {
		if got == nil || math.Abs(*got-want) > within {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	near("the chord", r.ChordMM, 2*27*math.Sin(14*math.Pi/180), 0.005)
	near("the chord from the keyway", r.KeyChordMM, 16.18, 0.005)
	if r.KeyTurnDeg != nil {
		t.Error("the demo's keyway is right")
	}
	said := ""
	for _, s := range r.Says {
		said += s.String() + "\n"
	}
	for _, want := range []string{"14° clockwise of the keyway", "28° ± 0.4°", "13.07 mm straight", "Do not make up for it in the engine control unit"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q lacks %q", said, want)
		}
	}
	j := sample.Demo(t)
	j.Dowel.Measured = j.Dowel.Drawing
	if r, err := RemedyOf(j); r != nil || err != nil {
		t.Errorf("a part that is right is to be put right: %+v, %v", r, err)
	}
}
