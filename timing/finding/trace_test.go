package finding

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/trace"
)

func recordingFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "recordings", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The demo's recording was simulated with the crank wheel 28 degrees behind.
func TestReadTrace(t *testing.T) {
	j := sample.Demo(t)
	var p trace.Picture
	last := int64(0)
	got, err := ReadTrace(context.Background(), j, bytes.NewReader(recordingFile(t, "gravel-barge.csv.gz")), TraceOptions{},
		TraceWork{Picture: &p, Progress: func(n int64) { last = n }})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(*got.CorrelationErrorDeg+28) > 2**got.CorrelationUDeg || math.Abs(*got.TDCOffsetDeg+28) > 2**got.TDCOffsetUDeg {
		t.Errorf("correlation %v, TDC %v; both are -28", *got.CorrelationErrorDeg, *got.TDCOffsetDeg)
	}
	if want := "The crank sensor wheel is 2"; !strings.HasPrefix(got.Says.String(), want) || !strings.Contains(got.Says.String(), "° behind") {
		t.Errorf("says %q", got.Says)
	}
	if s, p := got.Sensors, got.SensorProbability; *s.Crank != "inductive" || *s.Cam != "hall" || *p.Crank < 0.9 || *p.Cam < 0.9 {
		t.Errorf("sensors %s (%g) and %s (%g)", *s.Crank, *p.Crank, *s.Cam, *p.Cam)
	}
	if last < 100000 {
		t.Errorf("progress came to %d bytes", last)
	}
	if from, to := p.Seconds(); math.Abs(from) > 1e-9 || math.Abs(to-3.2) > 0.01 || p.Channels() != 2 {
		t.Errorf("picture of %d channels from %g to %g s", p.Channels(), from, to)
	}
	// As evidence it leads to the wheel, not to the cam gear.
	for _, e := range got.Evidence {
		j.Evidence = append(j.Evidence, job.Evidence{Kind: e.Kind, Value: e.Value, U: job.Num(e.U)})
	}
	if faults := CheckEvidence(j); faults != nil {
		t.Fatal(faults)
	}
	j.Dowel, j.Keyway = nil, nil
	c, err := CausesOf(j, CauseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if best := c.Causes[0].Cause; strings.Contains(best, "cam") {
		t.Errorf("with the recording as evidence the most probable cause is %q", best)
	}
}

// The ECU's angle can be had at any time, and the time of any angle.
func TestTraceAngles(t *testing.T) {
	got, err := ReadTrace(context.Background(), sample.Demo(t), bytes.NewReader(recordingFile(t, "gravel-barge.csv.gz")), TraceOptions{}, TraceWork{})
	if err != nil {
		t.Fatal(err)
	}
	a := got.Analysis
	from, to := a.Span(0)
	if !a.Told(0) || to-from < 4000 {
		t.Fatalf("the run goes from %g to %g", float64(from), float64(to))
	}
	for at := from + 1; at < to; at += 7.3 {
		s, ok := a.TimeOf(0, at)
		back, run, ok2 := a.Angle(s)
		if !ok || !ok2 || run != 0 || math.Abs(float64(back-at)) > 1e-6 {
			t.Fatalf("%g is at %g s and back %g", float64(at), s, float64(back))
		}
	}
	// Tooth 1 passes at -84 degrees in the ECU's angle, whatever is wrong.
	teeth := a.Teeth(1, 3)
	seen := 0
	for _, k := range teeth {
		if k.State != trace.ToothSeen {
			t.Errorf("tooth %+v", k)
		}
		if k.Position == 1 {
			seen++
			at, _, _ := a.Angle(k.Seconds)
			if d := timing.WrapSigned(at+84, 360); math.Abs(float64(d)) > 1e-6 {
				t.Errorf("tooth 1 passes at %g", float64(at))
			}
		}
	}
	if seen < 5 || len(teeth) < 300 {
		t.Errorf("%d teeth, tooth 1 %d times", len(teeth), seen)
	}
	if _, _, ok := a.Angle(-1); ok {
		t.Error("an angle before the recording")
	}
	if _, ok := a.TimeOf(0, to+1); ok {
		t.Error("a time after the run")
	}
}

// The reading ends at once when it is called off.
func TestReadTraceStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	_, err := ReadTrace(ctx, sample.Demo(t), bytes.NewReader(recordingFile(t, "gravel-barge.csv.gz")), TraceOptions{},
		TraceWork{Progress: func(int64) {
			calls++
			cancel()
		}})
	if !Stopped(err) || calls != 1 {
		t.Errorf("%v after %d blocks", err, calls)
	}
}

// What the job must say.
func TestTraceKnown(t *testing.T) {
	for _, c := range []struct{ name, job, want string }{
		{"no wheel", four, "crank_wheel: is missing"},
		{"no first tooth", four + "[crank_wheel]\npositions = 60\nmissing = [60]\n", "first_tooth_btdc_deg"},
		{"no gap", four + "[crank_wheel]\npositions = 60\nfirst_tooth_btdc_deg = 84\n", "is empty"},
	} {
		doc, err := job.Read("a.toml", []byte(c.job))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		_, err = TraceKnown(doc.Job())
		var faults job.Faults
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	even, err := job.Read("b.toml", []byte(four+"[crank_wheel]\npositions = 24\nfirst_tooth_btdc_deg = 84\n[cam_wheel]\nteeth_cam_deg = [0]\nfirst_tooth_btdc_deg = 40\n"))
	if err != nil {
		t.Fatal(err)
	}
	if k, err := TraceKnown(even.Job()); err != nil || k.Crank.Repeats() != 24 || k.Cam == nil {
		t.Errorf("a wheel without a gap and a cam: %v, %+v", err, k.Crank)
	}
	k, err := TraceKnown(sample.Demo(t))
	if err != nil || k.Cam == nil || k.Engine == nil || k.CrankTeeth != 36 {
		t.Errorf("%+v, %v", k, err)
	}
}

// Every kind of fault has a sentence that is among the texts and is filled whole.
func TestTraceFaults(t *testing.T) {
	for _, kind := range trace.Kinds() {
		for _, f := range []trace.Fault{{Kind: kind}, {Kind: kind, Name: "hall", Other: "cam", N: 3, Of: 4, Time: 1.5, Value: 2.25, Found: trace.Pattern{Positions: 60, Missing: []int{59, 60}}}} {
			s := traceFault(f)
			if s.Text == "" || spoilt.MatchString(s.String()) {
				t.Errorf("%s: %q", kind, s)
			}
		}
	}
}

// The headline says which of the two is off, and only what is known.
func TestTraceHeadline(t *testing.T) {
	m := func(v, u float64) *timing.Measured { return &timing.Measured{Value: timing.Deg(v), U: timing.Deg(u)} }
	yes, no := true, false
	strange := []trace.Fault{{Kind: trace.StrangeRipple}}
	for _, c := range []struct {
		name string
		a    trace.Analysis
		want string
	}{
		{"right", trace.Analysis{Correlation: m(0.1, 0.13), TDC: m(0.6, 0.9), Modulo: 120, CorrelationModulo: 360}, "no fault"},
		{"wheel", trace.Analysis{Correlation: m(20, 0.13), TDC: m(20.5, 0.9), Modulo: 120, CorrelationModulo: 360}, "The crank sensor wheel is 20.5° ahead"},
		{"gear", trace.Analysis{Correlation: m(-10, 0.13), TDC: m(0.5, 0.9), Modulo: 120, CorrelationModulo: 360}, "10.5 crank degrees ahead"},
		{"both", trace.Analysis{Correlation: m(-10, 0.13), TDC: m(20, 0.9), Modulo: 120, CorrelationModulo: 360}, "There are two faults"},
		{"half", trace.Analysis{Correlation: m(360, 0.13), TDC: m(0.2, 0.9), Modulo: 240, CorrelationModulo: 720, HalfTurn: &yes}, "The cam sensor wheel is half a turn out"},
		{"no TDC", trace.Analysis{Correlation: m(-28, 0.13), CorrelationModulo: 360}, "28° early among"},
		{"no TDC, agree", trace.Analysis{Correlation: m(0.1, 0.13), CorrelationModulo: 360}, "agree to 0.2°"},
		{"no cam", trace.Analysis{TDC: m(-28, 0.9), Modulo: 120}, "28° behind"},
		{"neither", trace.Analysis{}, "neither"},
		{"roughly", trace.Analysis{Correlation: m(20, 0.13), TDC: m(20.5, 4), Modulo: 120, CorrelationModulo: 360, Faults: strange},
			"come 20° late among the crank sensor wheel's teeth (± 0.1°): the crank sensor wheel is ahead or the camshaft is behind. Which of the two, this recording does not tell. True TDC is only roughly known (± 4°). What agrees with that: the crank sensor wheel out by 20.5° and the camshaft by 0.5 crank degrees ("},
		{"roughly, agree", trace.Analysis{Correlation: m(0.1, 0.13), TDC: m(1, 4), Modulo: 240, CorrelationModulo: 720, HalfTurn: &no, Faults: strange}, "agree to 0.2°"},
		{"roughly, no cam", trace.Analysis{TDC: m(-28, 4), Modulo: 120, Faults: strange}, "True TDC is only roughly known (± 4°): the crank sensor wheel is out by −28° ("},
	} {
		tr := newTrace(&c.a, trace.Known{Cycle: 720})
		if got := tr.Says.String(); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", c.name, got)
		}
		if c.a.Faults != nil && (tr.Branch() != nil || tr.CamErrorDeg != nil) {
			t.Errorf("%s: a branch is a fact: %+v", c.name, tr.Branches)
		}
	}
}

// A recording is seen while it is being read: the file goes on only once it was.
func TestTraceGlimpse(t *testing.T) {
	signals, err := SignalsOf(sample.Demo(t), SignalOptions{Fault: Right})
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := signals.WriteCSV(&text, Sampling{Cycles: 6, RateHz: 20000}); err != nil {
		t.Fatal(err)
	}
	in, out := io.Pipe()
	seen := make(chan struct{})
	go func() {
		all := text.Bytes()
		half := bytes.LastIndexByte(all[:len(all)/2], '\n') + 1
		out.Write(all[:half/2])
		time.Sleep(firstGlimpse)
		out.Write(all[half/2 : half])
		select {
		case <-seen:
		case <-time.After(10 * time.Second):
		}
		out.Write(all[half:])
		out.Close()
	}()
	glimpses := 0
	var whole trace.Picture
	var last *trace.Picture
	_, err = ReadTrace(context.Background(), sample.Demo(t), in, TraceOptions{}, TraceWork{Picture: &whole, Glimpse: func(p *trace.Picture) {
		if glimpses++; glimpses == 1 {
			close(seen)
		}
		last = p
		if _, to := p.Seconds(); !(to > 0.1) || p.Channels() != 3 || p.Whole(1).Empty() {
			t.Errorf("a glimpse of %d channels up to %g s", p.Channels(), to)
		}
	}})
	if err != nil || glimpses < 2 {
		t.Errorf("%d glimpses, %v", glimpses, err)
	}
	_, end := whole.Seconds()
	if _, to := last.Seconds(); to != end {
		t.Errorf("the last glimpse ends at %g s of %g", to, end)
	}
}
