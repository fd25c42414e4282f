package main

import (
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// BenchmarkPhaseDemo is the program from start to finish, as a script would run
// it: the median of runs of pincalc phase demo --json, in milliseconds. It is
// meant to stay under 50.
func BenchmarkPhaseDemo(b *testing.B) {
	program := filepath.Join(b.TempDir(), "pincalc.exe") // the ending harms nowhere and one system wants it
	build := exec.Command("go", "build", "-buildvcs=false", "-o", program, ".")
	build.Env = append(build.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	const runs = 20
	var times []time.Duration
	for b.Loop() {
		for range runs {
			start := time.Now()
			if err := exec.Command(program, "phase", "demo", "--json").Run(); err != nil {
				b.Fatal(err)
			}
			times = append(times, time.Since(start))
		}
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "ms/run")
}
