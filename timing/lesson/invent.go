package lesson

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// Invent returns a made-up engine for a level, the same for the same seed on
// every machine: engines with few cylinders and common firing orders at first;
// two-strokes and engines that turn anticlockwise from level 2 on, large ones
// from level 3, uneven firing from level 4. Everything about it is invented but
// the firing orders of [timing.CommonOrders].
func Invent(level int, seed uint64) job.Job {
	level = min(max(level, 1), Levels)
	d := newDice(seed, "engine")
	j := job.Job{Format: job.Format, Engine: job.Engine{Strokes: 4}}
	if level >= 2 && d.below(5) == 0 {
		j.Engine.Strokes = 2
	}
	if level >= 2 && d.coin() {
		j.Engine.Rotation = timing.Anticlockwise.String()
	}
	if level >= 4 && j.Engine.Strokes == 4 && d.below(3) == 0 {
		odd := oneOf(d, unevenEngines...)
		j.Engine.FiringOrder, j.Engine.FiringIntervalsDeg = slices.Clone(odd.order), slices.Clone(odd.intervals)
	} else {
		j.Engine.FiringOrder = inventOrder(d, level)
	}
	j.CrankWheel = inventWheel(d, level)
	return j
}

// cylinderCounts are what the levels choose from.
var cylinderCounts = [Levels][]int{{4, 6}, {3, 4, 5, 6, 8}, {4, 5, 6, 8, 10, 12}, {1, 2, 3, 6, 8, 10, 12}, {5, 8, 9, 10, 12, 16}}

func inventOrder(d dice, level int) []int {
	n := oneOf(d, cylinderCounts[level-1]...)
	common := timing.CommonOrders(n)
	if level == 1 && len(common) > 0 {
		return common[0]
	}
	if len(common) > 0 && (level < 5 || d.coin()) {
		return oneOf(d, common...)
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i + 1
	}
	shuffle(d, order[1:])
	return order
}

// unevenEngines fire unevenly: a twin whose cranks stand half a turn apart, a V6
// of 90 degrees with common crankpins, a V8 of 60 degrees and a V twin of 90.
// Common practice, no source.
var unevenEngines = []struct {
	order     []int
	intervals []float64
}{
	{[]int{1, 2}, []float64{180, 540}},
	{[]int{1, 2}, []float64{450, 270}},
	{[]int{1, 6, 5, 4, 3, 2}, []float64{150, 90, 150, 90, 150, 90}},
	{[]int{1, 5, 4, 8, 6, 3, 7, 2}, []float64{60, 120, 60, 120, 60, 120, 60, 120}},
}

// inventWheel makes up a crank wheel whose first tooth after the gap passes the
// sensor at a whole degree.
func inventWheel(d dice, level int) *job.CrankWheel {
	kinds := []struct{ positions, gone int }{{36, 1}, {60, 2}}
	if level >= 2 {
		kinds = append(kinds, []struct{ positions, gone int }{{24, 1}, {30, 1}, {36, 2}, {12, 1}, {45, 1}, {72, 2}}...)
	}
	if level >= 4 {
		kinds = append(kinds, []struct{ positions, gone int }{{48, 3}, {120, 2}, {90, 3}}...)
	}
	k := oneOf(d, kinds...)
	w := &job.CrankWheel{Positions: k.positions, FirstToothBTDCDeg: job.Num(float64(d.step(30, 150, 3)))}
	for p := k.positions - k.gone + 1; p <= k.positions; p++ {
		w.Missing = append(w.Missing, p)
	}
	return w
}
