package finding

import (
	"reflect"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// WithEvidence returns a job's evidence with what a recording has proved: in place
// of earlier evidence of the same kind, else after all of it.
func WithEvidence(list []job.Evidence, found []TraceEvidence) []job.Evidence {
	list = append([]job.Evidence(nil), list...)
	for _, f := range found {
		e := job.Evidence{Kind: f.Kind, Value: f.Value, U: job.Num(f.U)}
		put := false
		kept := list[:0]
		for _, old := range list {
			switch {
			case old.Kind != f.Kind:
				kept = append(kept, old)
			case !put:
				kept, put = append(kept, e), true
			}
		}
		if list = kept; !put {
			list = append(list, e)
		}
	}
	return list
}

// HasEvidence tells whether a job holds just what a recording has proved.
func HasEvidence(j job.Job, found []TraceEvidence) bool {
	return len(found) > 0 && reflect.DeepEqual(WithEvidence(j.Evidence, found), append([]job.Evidence(nil), j.Evidence...))
}

// AsRecorded returns the options under which signals are predicted as a recording
// shows them; ok is false when it does not tell both errors.
func (t Trace) AsRecorded() (o SignalOptions, ok bool) {
	if t.TDCOffsetDeg == nil || t.CorrelationErrorDeg == nil {
		return SignalOptions{}, false
	}
	delta := *t.TDCOffsetDeg
	gamma := delta - *t.CorrelationErrorDeg
	if b := t.Branch(); b != nil && b.CamErrorDeg != nil {
		delta, gamma = b.WheelErrorDeg, *b.CamErrorDeg
	}
	return SignalOptions{WheelErrorDeg: &delta, CamErrorDeg: &gamma, RPM: min(max(round(t.RPMMean), 1), MaxSignalRPM)}, true
}

// The texts that set a recording beside what was predicted.
const (
	besideAgree  phrase.Text = "The job predicts just that: correlation error {{.Predicted}}°, recorded {{.Found}}° ± {{.U}}°."
	besideDiffer phrase.Text = "The job predicts a correlation error of {{.Predicted}}°; recorded: {{.Found}}° ± {{.U}}°."
)

// Beside sets a recording's correlation error beside the predicted; ok is false
// where either is not known.
func (t Trace) Beside(s Signals) (says phrase.Sentence, ok bool) {
	if t.CorrelationErrorDeg == nil || s.Correlation == nil {
		return phrase.Sentence{}, false
	}
	text := besideDiffer
	if d := *t.CorrelationErrorDeg - *s.Correlation; d <= 2**t.CorrelationUDeg+0.5 && d >= -2**t.CorrelationUDeg-0.5 {
		text = besideAgree
	}
	return phrase.Sentence{Text: text, Data: map[string]any{"Predicted": phrase.Num{Value: *s.Correlation, Decimals: 1}, "Found": phrase.Num{Value: *t.CorrelationErrorDeg, Decimals: 1}, "U": phrase.Num{Value: *t.CorrelationUDeg, Decimals: 1}}}, true
}

// IntervalOf is the time between samples, in seconds, of so many samples a second.
func IntervalOf(rateHz float64) float64 { return 1 / rateHz }

// FindsNothing tells whether a recording proves that all is where it belongs.
func (t Trace) FindsNothing() bool {
	says := t.Says
	if inner, ok := says.Data["Says"].(phrase.Sentence); ok && says.Text == traceUnlessHalf {
		says = inner
	}
	return says.Text == traceBothRight
}
