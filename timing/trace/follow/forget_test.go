package follow

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/wheel"
)

// What is let go of on the way changes no answer, with lost teeth, edges too many and
// stretches where nothing is followed.
func TestForgettingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{12, 24, 36, 60}).Draw(t, "positions")
		w := wheel.Crank{Positions: n, Missing: []int{n}}
		var list []edges.Edge
		at := 1.0
		for part := range rapid.IntRange(1, 3).Draw(t, "parts") {
			for _, p := range turning(w, rapid.IntRange(2, 6).Draw(t, "turns"), func(place int) float64 { return 0.001 * (1 + 0.1*math.Sin(float64(place)/7)) }) {
				e := p.edge
				e.At += at
				switch rapid.IntRange(0, 25).Draw(t, "slip") {
				case 0:
					continue
				case 1:
					extra := e
					extra.At += 0.0003
					list = append(list, e, extra)
					continue
				}
				list = append(list, e)
			}
			at = list[len(list)-1].At + 0.02
			for range rapid.IntRange(0, 30).Draw(t, "noise") * part {
				at += 0.0001 + 0.004*rapid.Float64Range(0, 1).Draw(t, "wait")
				list = append(list, edges.Edge{At: at, From: 1, To: -1})
			}
		}
		all := follow(list, w, math.MaxInt)
		for _, room := range []int{0, 40, 400} {
			if some := follow(list, w, room); !reflect.DeepEqual(all, some) {
				t.Fatalf("with room for %d nodes: %d runs, %d slips, cost %g, not %d, %d, %g", room, len(some.Runs), len(some.Slips), some.Cost, len(all.Runs), len(all.Slips), all.Cost)
			}
		}
	})
}

// A long recording is followed in memory that does not grow with its turns.
func TestFollowsInBoundedMemory(t *testing.T) {
	w := wheel.Crank{Positions: 60, Missing: []int{59, 60}}
	list := edgesOf(turning(w, 400, func(place int) float64 { return 0.001 * (1 + 0.1*math.Sin(float64(place)/9)) }))
	f := &follower{list: list, wheel: stepsOf(w), room: 5000}
	f.prepare()
	for i := range list {
		f.step(i)
		if len(f.nodes) > f.room {
			f.forget(i)
			if most := i + 6000; len(f.nodes) > most {
				t.Fatalf("%d nodes still count after %d edges", len(f.nodes), i+1)
			}
			f.room = 5000 + 2*len(f.nodes)
		}
	}
}
