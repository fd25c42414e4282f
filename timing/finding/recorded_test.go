package finding

import (
	"slices"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

// Evidence of a recording stands where evidence of its kind stood, once, and all
// other evidence is left alone.
func TestWithEvidence(t *testing.T) {
	found := []TraceEvidence{{"correlation_error_deg", -28.1, 0.2}, {"tdc_offset_deg", -27.5, 1}}
	other := job.Evidence{Kind: "starts", Value: "no"}
	old := job.Evidence{Kind: "correlation_error_deg", Value: -3.0}
	corr := job.Evidence{Kind: "correlation_error_deg", Value: -28.1, U: job.Num(0.2)}
	tdc := job.Evidence{Kind: "tdc_offset_deg", Value: -27.5, U: job.Num(1)}
	for _, c := range []struct {
		name       string
		list, want []job.Evidence
	}{
		{"none yet", nil, []job.Evidence{corr, tdc}},
		{"other kinds", []job.Evidence{other}, []job.Evidence{other, corr, tdc}},
		{"in its place", []job.Evidence{old, other}, []job.Evidence{corr, other, tdc}},
		{"twice before", []job.Evidence{old, other, old}, []job.Evidence{corr, other, tdc}},
	} {
		before := slices.Clone(c.list)
		got := WithEvidence(c.list, found)
		if !slices.Equal(got, c.want) || !slices.Equal(before, c.list) {
			t.Errorf("%s: %v", c.name, got)
		}
		if HasEvidence(job.Job{Evidence: c.list}, found) || !HasEvidence(job.Job{Evidence: got}, found) {
			t.Errorf("%s: whether it is there is told wrongly", c.name)
		}
	}
	if HasEvidence(job.Job{}, nil) {
		t.Error("nothing proved is there")
	}
}

// By hand: TDC offset -28 and correlation -38 are a wheel 28 behind and a cam 10
// ahead; predicted so, the signals show just that.
func TestAsRecorded(t *testing.T) {
	tdc, corr, u := -28.0, -38.0, 0.2
	r := Trace{TDCOffsetDeg: &tdc, CorrelationErrorDeg: &corr, CorrelationUDeg: &u, RPMMean: 195}
	o, ok := r.AsRecorded()
	if !ok || *o.WheelErrorDeg != -28 || *o.CamErrorDeg != 10 || o.RPM != 195 {
		t.Fatalf("%+v", o)
	}
	s := signals(t, signalled, o)
	if *s.Correlation != -38 || s.TDCOffsetDeg != -28 {
		t.Errorf("predicted %g and %g", *s.Correlation, s.TDCOffsetDeg)
	}
	says, ok := r.Beside(s)
	if want := "The job predicts just that: correlation error −38°, recorded −38° ± 0.2°."; !ok || says.String() != want {
		t.Errorf("%q", says)
	}
	says, _ = r.Beside(signals(t, signalled, SignalOptions{}))
	if want := "The job predicts a correlation error of 0°; recorded: −38° ± 0.2°."; says.String() != want {
		t.Errorf("%q", says)
	}
	if _, ok := (Trace{CorrelationErrorDeg: &corr}).AsRecorded(); ok {
		t.Error("half of it is taken for all")
	}
	if _, ok := (Trace{}).Beside(s); ok {
		t.Error("nothing is set beside the predicted")
	}
	if says.Text == "" || IntervalOf(50000) != 2e-5 {
		t.Error("text or interval")
	}
}
