package timing

import (
	"fmt"
	"math"
	"testing"
)

// BenchmarkTable is every cylinder's angle and stroke at a crank degree, against a
// straightforward version: a map of firing angles, math.Mod, and a map of answers.
func BenchmarkTable(b *testing.B) {
	for _, n := range []int{1, 6, 12, 16, 24} {
		order := make([]int, n)
		for i := range order {
			order[i] = i + 1
		}
		e, err := NewScheme(4, order, nil)
		if err != nil {
			b.Fatal(err)
		}
		row := fmt.Sprintf("all strokes at a degree, cylinders: %d", n)
		theta := Deg(0)
		b.Run(row+"/pinphase", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				theta += 0.1
				for c := 1; c <= n; c++ {
					e.StrokeAt(e.Angle(c, theta))
				}
			}
		})
		firesAt := map[int]float64{}
		for c := 1; c <= n; c++ {
			firesAt[c] = float64(e.FiresAt(c))
		}
		b.Run(row+"/map and mod", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				theta += 0.1
				strokes := map[int]string{}
				for c, at := range firesAt {
					alpha := math.Mod(math.Mod(float64(theta)-at, 720)+720, 720)
					strokes[c] = []string{"power", "exhaust", "intake", "compression"}[int(alpha/180)]
				}
			}
		})
	}
}
