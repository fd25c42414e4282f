package edges

import (
	"math/rand/v2"
	"testing"
)

// How fast edges are found: a toothed wheel at 50 kHz, a tooth every 250 samples, with
// noise.
func BenchmarkAdd(b *testing.B) {
	const n, rate = 1 << 18, 50000.0
	r := rand.New(rand.NewPCG(1, 1))
	t, v := make([]float64, n), make([]float64, n)
	for i := range v {
		t[i] = float64(i) / rate
		v[i] = rim(float64(i)*200/rate) + 0.02*r.NormFloat64()
	}
	b.SetBytes(8 * n)
	for b.Loop() {
		var f Finder
		for from := 0; from < n; from += 4096 {
			f.Add(t[from:from+4096], v[from:from+4096], 1/rate)
		}
	}
}
