package follow

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/wheel"
)

// passing is a tooth as it really passes.
type passing struct {
	edge  edges.Edge
	place int // -1: an edge that is no tooth
}

// turning lets a wheel turn: pitch is the time of a position at a place.
func turning(w wheel.Crank, turns int, pitch func(place int) float64) []passing {
	var list []passing
	t := 1.0
	for place := range turns * w.Positions {
		if !w.IsMissing(place%w.Positions + 1) {
			list = append(list, passing{edges.Edge{At: t, From: 1, To: -1}, place})
		}
		t += pitch(place)
	}
	return list
}

func edgesOf(list []passing) []edges.Edge {
	var of []edges.Edge
	for _, p := range list {
		of = append(of, p.edge)
	}
	return of
}

// wrong counts teeth of a path that stand at another place than they have, and teeth
// that are not in it.
func wrong(p Path, list []passing, positions int) (misplaced, left int) {
	seen := 0
	for _, r := range p.Runs {
		for i, e := range r.Edge {
			seen++
			if was := list[e].place; was < 0 || (was-r.At[i])%positions != 0 {
				misplaced++
			}
		}
	}
	for _, x := range list {
		if x.place >= 0 {
			left++
		}
	}
	return misplaced, left - seen
}

var wheels = []wheel.Crank{
	{Positions: 60, Missing: []int{59, 60}}, {Positions: 36, Missing: []int{36}}, {Positions: 36, Missing: []int{18, 24, 35, 36}}, {Positions: 120, Missing: []int{119, 120}},
	{Positions: 24, Missing: []int{24}}, {Positions: 12, Missing: []int{12}}, {Positions: 12, Missing: []int{10, 11, 12}}, {Positions: 8, Missing: []int{8}},
}

// Whatever the wheel, the place at which the recording begins, and a speed that changes
// by a third within a turn: every tooth is followed to its place.
func TestFollowsAnyWheel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(wheels).Draw(t, "wheel")
		swing := rapid.Float64Range(0, 0.16).Draw(t, "swing")
		each := rapid.SampledFrom([]float64{1, 1.5, 2, 3}).Draw(t, "firings")
		phase := rapid.Float64Range(0, 6.3).Draw(t, "phase")
		drift := rapid.Float64Range(-0.02, 0.05).Draw(t, "drift")
		list := turning(w, 6, func(place int) float64 {
			turned := float64(place) / float64(w.Positions)
			return 0.3 / float64(w.Positions) / (1 + swing*math.Sin(2*math.Pi*each*turned+phase)) / (1 + drift*turned)
		})
		list = list[rapid.IntRange(0, w.Teeth()).Draw(t, "begin"):]
		p := Follow(edgesOf(list), w)
		misplaced, left := wrong(p, list, w.Positions)
		if len(p.Runs) != 1 || len(p.Slips) > 0 || misplaced > 0 || left > 0 {
			t.Fatalf("%d runs, %d slips, %d teeth misplaced, %d left", len(p.Runs), len(p.Slips), misplaced, left)
		}
	})
}

// A tooth that is lost costs itself, an edge too many costs nothing but to be named, twice
// in a turn and again and again, once the first gap was seen and until the last.
func TestSlipsCostOneTooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(wheels[:5]).Draw(t, "wheel")
		swing := rapid.Float64Range(0, 0.1).Draw(t, "swing")
		all := turning(w, 7, func(place int) float64 {
			return 0.3 / float64(w.Positions) / (1 + swing*math.Sin(4*math.Pi*float64(place)/float64(w.Positions)))
		})
		var list []passing
		lost, extra := 0, 0
		next := rapid.IntRange(w.Teeth(), w.Teeth()*3/2).Draw(t, "first")
		for i, p := range all {
			if i != next || i+w.Teeth() > len(all) {
				list = append(list, p)
				continue
			}
			next += rapid.IntRange(w.Teeth()/2, w.Teeth()*3/2).Draw(t, "next")
			// Beside a gap a lost tooth may as well be a gap that was misread.
			beside := all[i].place-all[i-1].place > 1 || all[i+1].place-all[i].place > 1
			if rapid.Bool().Draw(t, "lose") && !beside {
				lost++
				continue
			}
			share := rapid.Float64Range(0.25, 0.75).Draw(t, "where")
			list = append(list, p, passing{edges.Edge{At: p.edge.At + share*(all[i+1].edge.At-p.edge.At), From: 1, To: -1}, -1})
			extra++
		}
		p := Follow(edgesOf(list), w)
		misplaced, left := wrong(p, list, w.Positions)
		counted := map[bool]int{}
		for _, s := range p.Slips {
			counted[s.Extra]++
		}
		if len(p.Runs) != 1 || misplaced > 0 || left > 0 || counted[false] != lost || counted[true] != extra {
			t.Fatalf("%d runs, %d misplaced, %d left; lost %d, found %d; too many %d, found %d", len(p.Runs), misplaced, left, lost, counted[false], extra, counted[true])
		}
	})
}

// An engine that stops between two teeth and goes on is followed on both sides.
func TestStallAndGo(t *testing.T) {
	for _, w := range wheels[:5] {
		list := turning(w, 8, func(place int) float64 {
			if place == 4*w.Positions+w.Positions/3 {
				return 2
			}
			return 0.3 / float64(w.Positions)
		})
		p := Follow(edgesOf(list), w)
		misplaced, left := wrong(p, list, w.Positions)
		if misplaced > 0 || left > 2 || p.Turns(w.Positions) < 7.5 {
			t.Errorf("%d positions: %d misplaced, %d left, %.1f turns in %d runs", w.Positions, misplaced, left, p.Turns(w.Positions), len(p.Runs))
		}
	}
}

// Edges at random, and edges that come evenly, show no wheel with a gap: what is followed
// is awry in every turn, or nothing is.
func TestNoWheel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(wheels[:5]).Draw(t, "wheel")
		even := rapid.Bool().Draw(t, "even")
		var list []edges.Edge
		at := 0.0
		for range 12 * w.Teeth() {
			if even {
				at += 0.01
			} else {
				at += 0.01 * rapid.Float64Range(0.05, 2).Draw(t, "interval")
			}
			list = append(list, edges.Edge{At: at, From: 1, To: -1})
		}
		p := Follow(list, w)
		if turns := p.Turns(w.Positions); turns > 2 && p.Awry(w.Positions) < 0.7 && p.Sound() > 0.7 {
			t.Fatalf("%.1f turns followed, awry %.2f, sound %.2f", turns, p.Awry(w.Positions), p.Sound())
		}
	})
}

// Time has no unit and no beginning for the way.
func TestTimeIsScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(wheels).Draw(t, "wheel")
		list := edgesOf(turning(w, 5, func(place int) float64 { return 0.3 / float64(w.Positions) * (1 + 0.1*math.Sin(float64(place))) }))
		by, from := rapid.Float64Range(1e-3, 1e3).Draw(t, "by"), rapid.Float64Range(0, 100).Draw(t, "from")
		moved := slices.Clone(list)
		for i := range moved {
			moved[i].At = from + by*list[i].At
		}
		a, b := Follow(list, w), Follow(moved, w)
		if len(a.Runs) != len(b.Runs) || len(a.Slips) != len(b.Slips) || math.Abs(a.Cost-b.Cost) > 1e-3*(1+a.Cost) {
			t.Fatalf("%d runs at a cost of %g, scaled %d at %g", len(a.Runs), a.Cost, len(b.Runs), b.Cost)
		}
	})
}
