package cause

import "testing"

// BenchmarkTable is a ranking with all pairs of faults, against one that takes every
// fault to be alone.
func BenchmarkTable(b *testing.B) {
	evidence := []Evidence{
		{Kind: "starts", Value: false}, {Kind: "kicks_back", Value: true},
		{Kind: "correlation_error_deg", Value: -25.0, U: 1},
	}
	alone := 0.0
	for _, way := range []struct {
		name string
		o    Options
	}{{"pinphase", Options{}}, {"every fault alone", Options{PairShare: &alone}}} {
		b.Run("ranking causes with pairs/"+way.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Rank(Engine{}, evidence, way.o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
