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
	surePull      = 3.0  // times what would be taken for one elsewhere
	mostPull      = 0.3
	leastStraight = 20 // positions of a wheel whose neighbours are near enough
)

// elsewhere is the root mean square of what would be taken for a pull where no gap is, in
// pitches: teeth between are passed over as if they were missing. A speed that rises and
// falls within a few teeth is no cubic.
func elsewhere(runs []Run, wide int) float64 {
	sum, n := 0.0, 0.0
	for _, run := range runs {
		for i := besideGap - 1; i+wide+besideGap-1 < len(run.At); i += 5 {
			if last := i + wide + besideGap - 1; run.At[last]-run.At[i-besideGap+1] != last-(i-besideGap+1) {
				continue
			}
			if pull := pullAt(run, i, i+wide); pull == pull {
				sum += pull * pull
				n++
			}
		}
	}
	return math.Sqrt(sum / max(n, 1))
}

// straighten puts the teeth beside the gaps of an inductive sensor where they belong.
// The flux sinks into the gap, which draws the zero crossing of the tooth before it
// forward and holds that of the tooth after it back, by up to a tenth of a pitch and
// alike in every turn. How far is the part of their times that a cubic through the
// teeth round the gap leaves over with opposite signs.
func straighten(runs []Run, w wheel.Crank) {
	if w.Positions < leastStraight {
		return
	}
	type gap struct{ run, before int }
	var gaps []gap
	var pulls []float64
	widest := 0
	for r, run := range runs {
		for i := besideGap - 1; i+besideGap < len(run.At); i++ {
			if wide := run.At[i+1] - run.At[i]; wide < 2 {
				continue
			}
			if run.At[i+1]-run.At[i-besideGap+1] != run.At[i+1]-run.At[i]+besideGap-1 || run.At[i+besideGap]-run.At[i+1] != besideGap-1 {
				continue // another gap is near, or a tooth was lost
			}
			gaps, widest = append(gaps, gap{r, i}), max(widest, run.At[i+1]-run.At[i])
			if pull := pullAt(run, i, i+1); pull == pull {
				pulls = append(pulls, pull)
			}
		}
	}
	if len(pulls) < leastGaps {
		return
	}
	pull := middleOf(pulls)
	same := 0
	for _, p := range pulls {
		if (p > 0) == (pull > 0) {
			same++
		}
	}
	if math.Abs(pull) < max(leastPull, surePull*elsewhere(runs, widest)) || math.Abs(pull) > mostPull || 5*same < 4*len(pulls) {
		return
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
}

// pullAt is how far two teeth of a run lie outwards, in pitches: the i-th before a gap and
// the k-th after it.
func pullAt(run Run, i, k int) float64 {
	const rows, columns = 2 * besideGap, 5
	middle := float64(run.At[i]+run.At[k]) / 2
	zero := (run.Time[i] + run.Time[k]) / 2
	a, b := mat.NewDense(rows, columns, nil), mat.NewVecDense(rows, nil)
	for row := range rows {
		n := i - besideGap + 1 + row
		if row >= besideGap {
			n = k + row - besideGap
		}
		x := float64(run.At[n]) - middle
		a.SetRow(row, []float64{1, x, x * x, x * x * x, 0})
		switch n {
		case i:
			a.Set(row, columns-1, -1)
		case k:
			a.Set(row, columns-1, 1)
		}
		b.SetVec(row, run.Time[n]-zero)
	}
	var c mat.VecDense
	if err := c.SolveVec(a, b); err != nil {
		return math.NaN()
	}
	return c.AtVec(columns-1) / c.AtVec(1)
}
