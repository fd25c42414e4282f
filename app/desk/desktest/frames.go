package desktest

import (
	"slices"
	"testing"
	"time"
)

// The largest usual screen, for the benchmarks.
const Width, Height = 1920, 1080

// Percentiles times a frame again and again.
func Percentiles(b *testing.B, frame func()) {
	frame() // what is made once is not a frame's
	var took []time.Duration
	for b.Loop() {
		start := time.Now()
		frame()
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	ms := func(share float64) float64 {
		return took[int(share*float64(len(took)-1))].Seconds() * 1000
	}
	b.ReportMetric(ms(0.50), "p50-ms")
	b.ReportMetric(ms(0.95), "p95-ms")
}
