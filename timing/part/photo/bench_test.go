package photo

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func BenchmarkMeasure(b *testing.B) {
	for _, basis := range []Basis{RimOnly, RimAndCentre, BoltCircle} {
		for _, edge := range []int{0, 8} {
			for _, draws := range []int{1, 200, DefaultDraws} {
				b.Run(fmt.Sprintf("%s/edge=%d/draws=%d", basis, edge, draws), func(b *testing.B) {
					r := rand.New(rand.NewPCG(3, 1))
					s := anyScene(r, 20)
					m := s.marks(r, 1, 12, edge, basis)
					o := Options{Picture: Info{Width: s.Width, Height: s.Height}, Draws: draws}
					for b.Loop() {
						if _, err := Measure(m, o); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		}
	}
}
