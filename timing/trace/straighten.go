package trace

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"pinphase.org/pinphase/timing/wheel"
)

// Settings of straightening, by trial.
const (
	besideGap     = 4    // teeth on either side of a gap that tell where those next to it belong
	leastGaps     = 3    // passings
	leastPull     = 0.01 // of a pitch
	mostPull      = 0.3
	pullDoubt     = 0.2 // share of a pull that stays uncertain
	leastStraight = 20  // positions of a wheel whose neighbours are near enough
)

// straighten puts the teeth beside the gaps of an inductive sensor where they belong.
// The flux sinks into the gap, which draws the zero crossing of the tooth before it
// forward and holds that of the tooth after it back, by up to a tenth of a pitch and
// alike in every turn. How far is the part of their times that a cubic through the
// teeth round the gap leaves over with opposite signs. It returns how far they were
// pulled, in pitches.
func straighten(runs []Run, w wheel.Crank) float64 {
	if w.Positions < leastStraight {
		return 0
	}
	type gap struct{ run, before int }
	var gaps []gap
	var pulls []float64
	for r, run := range runs {
		for i := besideGap - 1; i+besideGap < len(run.At); i++ {
			if wide := run.At[i+1] - run.At[i]; wide < 2 {
				continue
			}
			if run.At[i+1]-run.At[i-besideGap+1] != run.At[i+1]-run.At[i]+besideGap-1 || run.At[i+besideGap]-run.At[i+1] != besideGap-1 {
				continue // another gap is near, or a tooth was lost
			}
			gaps = append(gaps, gap{r, i})
			if pull := pullAt(run, i); pull == pull {
				pulls = append(pulls, pull)
			}
		}
	}
	if len(pulls) < leastGaps {
		return 0
	}
	pull := middleOf(pulls)
	same := 0
	for _, p := range pulls {
		if (p > 0) == (pull > 0) {
			same++
		}
	}
	if math.Abs(pull) < leastPull || math.Abs(pull) > mostPull || 5*same < 4*len(pulls) {
		return 0
	}
	times := make([][]float64, len(runs))
	for r := range runs {
		times[r] = slices.Clone(runs[r].Time)
	}
	for _, g := range gaps {
		run := runs[g.run]
		pitch := (run.Time[g.before+besideGap] - run.Time[g.before-besideGap+1]) / float64(run.At[g.before+besideGap]-run.At[g.before-besideGap+1])
		times[g.run][g.before] += pull * pitch
		times[g.run][g.before+1] -= pull * pitch
	}
	for r := range runs {
		runs[r].Time = times[r]
	}
	return math.Abs(pull)
}

// pullAt is how far the teeth beside one gap lie outwards, in pitches: the tooth before
// it is the i-th of the run.
func pullAt(run Run, i int) float64 {
	const rows, columns = 2 * besideGap, 5
	middle := float64(run.At[i]+run.At[i+1]) / 2
	zero := (run.Time[i] + run.Time[i+1]) / 2
	a, b := mat.NewDense(rows, columns, nil), mat.NewVecDense(rows, nil)
	for k := range rows {
		n := i - besideGap + 1 + k
		x := float64(run.At[n]) - middle
		a.SetRow(k, []float64{1, x, x * x, x * x * x, 0})
		switch n {
		case i:
			a.Set(k, columns-1, -1)
		case i + 1:
			a.Set(k, columns-1, 1)
		}
		b.SetVec(k, run.Time[n]-zero)
	}
	var c mat.VecDense
	if err := c.SolveVec(a, b); err != nil {
		return math.NaN()
	}
	return c.AtVec(columns-1) / c.AtVec(1)
}
