package edges

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The quantile is that of the sizes put in order.
func TestQuietest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sizes := rapid.SliceOfN(rapid.Float64Range(0, 3), 1, piece).Draw(t, "sizes")
		want := slices.Sorted(slices.Values(sizes))[int(quiet*float64(len(sizes)))]
		if got := quietest(sizes); got != want {
			t.Fatalf("%g of %v, want %g", got, sizes, want)
		}
	})
}
