package finding

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/trace"
)

// BenchmarkGlimpse is how soon a long recording is seen after its file is opened, and how
// soon the reading ends once it is called off then.
func BenchmarkGlimpse(b *testing.B) {
	j := sample.Demo(b)
	s, err := SignalsOf(j, SignalOptions{Fault: Right})
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "long.csv")
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	if err := errors.Join(s.WriteCSV(f, Sampling{Cycles: 200, RateHz: 20000}), f.Close()); err != nil {
		b.Fatal(err)
	}
	var seen, ended time.Duration
	n := 0
	for b.Loop() {
		ctx, cancel := context.WithCancel(context.Background())
		f, err := os.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		begun := time.Now()
		var off time.Time
		_, err = ReadTrace(ctx, j, f, TraceOptions{}, TraceWork{Picture: new(trace.Picture), Glimpse: func(*trace.Picture) {
			if off.IsZero() {
				seen += time.Since(begun)
				off = time.Now()
				cancel()
			}
		}})
		if !Stopped(err) {
			b.Fatalf("the reading was over before it was seen: %v", err)
		}
		ended += time.Since(off)
		n++
		cancel()
		f.Close()
	}
	b.ReportMetric(seen.Seconds()*1e3/float64(n), "ms-till-seen")
	b.ReportMetric(ended.Seconds()*1e3/float64(n), "ms-till-ended")
}
