//go:build e2e

package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/finding"
)

// BenchmarkTable is how soon the real window shows its first picture and what
// memory it then has, on its own and with a long recording, against a window of the
// same toolkit and size that holds nothing.
func BenchmarkTable(b *testing.B) {
	own, empty := build(b), filepath.Join(b.TempDir(), "empty")
	if out, err := exec.Command("go", "build", "-buildvcs=false", "-o", empty, "./testdata/empty").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	homes := newHomes(b)
	for _, way := range []struct {
		name, binary string
		args         []string
	}{{"pinphase", own, []string{"demo"}}, {"an empty window", empty, nil}} {
		b.Run("start to the first picture/"+way.name, func(b *testing.B) {
			for b.Loop() {
				w := start(b, way.binary, homes, way.args...)
				b.StopTimer()
				w.kill()
				b.StartTimer()
			}
		})
	}
	resident := func(row, way, binary string, args ...string) {
		b.Run(row+"/"+way, func(b *testing.B) {
			sum, n := 0.0, 0
			for b.Loop() {
				w := start(b, binary, homes, args...)
				w.idle()
				sum, n = sum+w.resident(), n+1
				w.kill()
			}
			b.ReportMetric(sum/float64(n), "MB")
		})
	}
	resident("memory at rest", "pinphase", own, "demo")
	resident("memory at rest", "an empty window", empty)
	const samples = 10_000_000
	long := longRecording(b, samples)
	resident("memory with ten million samples", "pinphase", own, "demo", long)
	b.Run("memory with ten million samples/the numbers alone", func(b *testing.B) {
		for b.Loop() {
			b.ReportMetric(4*8*samples/1e6, "MB") // time and three channels, eight bytes each
		}
	})
}

// longRecording writes what the demo job's sensors show and returns the file's path.
func longRecording(b *testing.B, samples int) string {
	const rate = 50_000
	b.Helper()
	s, err := finding.SignalsOf(jobIn(b, "../../assets/jobs/demo.toml"), finding.SignalOptions{})
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "long.csv")
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	cycles := float64(samples) / rate * 6 * s.RPM / s.CycleDeg
	if err := errors.Join(s.WriteCSV(f, finding.Sampling{Cycles: cycles, RateHz: rate}), f.Close()); err != nil {
		b.Fatal(err)
	}
	return path
}

// idle waits until the program works less than a tenth of a second in one: asking
// for the mouse once a frame takes a hundredth.
func (w *win) idle() {
	w.t.Helper()
	w.until("the program to be done", func() bool {
		before := w.worked()
		time.Sleep(time.Second)
		return w.worked() < before+10
	})
}

// worked is how long the program has worked, in the kernel's ticks of 10 ms.
func (w *win) worked() int {
	w.t.Helper()
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", w.cmd.Process.Pid))
	if err != nil {
		w.t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(stat), ") ")
	fields := strings.Fields(after) // the third of the file on
	user, _ := strconv.Atoi(fields[11])
	system, _ := strconv.Atoi(fields[12])
	return user + system
}

// resident is the memory that the program has, in MB.
func (w *win) resident() float64 {
	kib, err := strconv.ParseFloat(strings.TrimSuffix(w.memory(), " kB"), 64)
	if err != nil {
		w.t.Fatal(err)
	}
	return kib * 1024 / 1e6
}
