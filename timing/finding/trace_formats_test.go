package finding

import (
	"bytes"
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/simulate"
)

// However a recording is written it proves the same: what the same recording as CSV proves.
func TestTraceFormats(t *testing.T) {
	packed := recordingFile(t, "three-cylinder.csv.gz")
	j := sample.Read(t, string(recordingFile(t, "three-cylinder.toml")))
	want, err := ReadTrace(context.Background(), j, bytes.NewReader(packed), TraceOptions{}, TraceWork{})
	if err != nil || want.CorrelationErrorDeg == nil {
		t.Fatalf("%+v, %v", want, err)
	}
	says := map[string]trace.Kind{"changes.csv": trace.LevelChanges, "analyser.vcd": trace.LevelChanges, "sound.wav": trace.Coupled}
	files, err := simulate.Formats(packed)
	if err != nil {
		t.Fatal(err)
	}
	for name, file := range files {
		got, err := ReadTrace(context.Background(), j, bytes.NewReader(file), TraceOptions{}, TraceWork{})
		if err != nil || got.CorrelationErrorDeg == nil {
			t.Errorf("%s: %v, %v", name, err, got.Faults)
			continue
		}
		if d := *got.CorrelationErrorDeg - *want.CorrelationErrorDeg; math.Abs(d) > 0.15 || math.Abs(got.Revolutions-want.Revolutions) > 0.5 {
			t.Errorf("%s: correlation %g, as CSV %g; %g turns, %g", name, *got.CorrelationErrorDeg, *want.CorrelationErrorDeg, got.Revolutions, want.Revolutions)
		}
		if got.Channels[0].Role != string(trace.CrankSensor) || got.Channels[0].Sensor != "hall" || got.Channels[1].Sensor != "hall" {
			t.Errorf("%s: %+v", name, got.Channels)
		}
		if kind := says[strings.TrimSuffix(name, ".gz")]; kind != "" && !slices.ContainsFunc(got.Analysis.Faults, func(f trace.Fault) bool { return f.Kind == kind }) {
			t.Errorf("%s: does not say %q: %q", name, kind, got.Faults)
		}
		if levels := strings.HasPrefix(name, "analyser") || strings.HasPrefix(name, "changes"); levels != (got.SampleRateHz == 0) {
			t.Errorf("%s: %g samples a second", name, got.SampleRateHz)
		}
	}
}
