package finding

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// JCGM 100:2008, annex H.2, table H.2: five readings of a voltage have the mean
// 4.9990 V and its standard uncertainty 0.0032 V; the standard deviation of one is
// that times √5. Written down here as lengths.
func TestRepeatsHaveMeanAndScatter(t *testing.T) {
	j := job.Job{Dowel: &job.Feature{Measured: &job.Reading{
		Method: "chord", ChordMM: job.Num(5.007), ChordAgainMM: []float64{4.994, 5.005, 4.990, 4.999}}}}
	got := RepeatsOf(j, "dowel")
	if len(got) != 1 || got[0].Key != "chord_mm" {
		t.Fatalf("%+v", got)
	}
	want := "mean of 5 readings 4.999 mm; they scatter by 0.007 mm (standard deviation), which leaves ± 0.003 mm for the mean."
	if s := got[0].Says.String(); s != want {
		t.Errorf("%q, want %q", s, want)
	}
	if u := got[0].Says.Data["U"].(quantity.Amount).Value; math.Abs(u-0.0032) > 0.00005 {
		t.Errorf("the mean is good to %g, the book has 0.0032", u)
	}
}

func TestRepeatsOfADegreeWheelGoRound(t *testing.T) {
	j := job.Job{Keyway: &job.Feature{Measured: &job.Reading{
		Method: "degree_wheel", ThrowDeg: job.Num(359.9), ThrowAgainDeg: []float64{0.1, 0.3}, KeywayDeg: job.Num(90), KeywayAgainDeg: []float64{90, 90}}}}
	got := RepeatsOf(j, "keyway")
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	if s, want := got[0].Says.String(), "mean of 3 readings 0.1°; they scatter by 0.2° (standard deviation), which leaves ± 0.115° for the mean."; s != want {
		t.Errorf("%q, want %q", s, want)
	}
	if s, want := got[1].Says.String(), "mean of 3 readings 90°; all read alike, so their scatter adds nothing: the instrument's own ± applies."; s != want {
		t.Errorf("%q, want %q", s, want)
	}
}

func TestOneReadingHasNoRepeats(t *testing.T) {
	j := job.Job{Dowel: &job.Feature{Measured: &job.Reading{Method: "arc", ArcMM: job.Num(10)}}}
	if got := RepeatsOf(j, "dowel"); got != nil {
		t.Errorf("%+v", got)
	}
	if got := RepeatsOf(j, "keyway"); got != nil {
		t.Errorf("without a keyway %+v", got)
	}
}
