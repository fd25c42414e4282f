package chart

import (
	"math"

	"pinphase.org/pinphase/timing/trace"
)

// grid is a trace that repeats every cycle: kept finely, and worked out anew where a
// window is finer still.
type grid struct {
	cycle  float64
	volts  func(at float64) float64
	points []float64 // every gridStep from 0 to the cycle, both included
	kept   *trace.Folded
}

// gridStep is how finely a trace is kept, in degrees.
const gridStep = 0.05

func newGrid(cycle float64, volts func(float64) float64) grid {
	g := grid{cycle: cycle, volts: volts}
	n := int(math.Round(cycle / gridStep))
	for i := range n + 1 {
		g.points = append(g.points, volts(float64(i)*gridStep))
	}
	g.kept = trace.NewFolded(cycle, g.points)
	return g
}

// range_ is the least and the most of the trace.
func (g grid) range_() (lo, hi float64) {
	e := g.kept.Whole(0)
	return float64(e.Lo), float64(e.Hi)
}

// columns returns the range of the trace between each angle and the next; NaN
// where either is not known.
func (g grid) columns(angles []float64) (lo, hi []float64) {
	n := max(len(angles)-1, 0)
	lo, hi = make([]float64, n), make([]float64, n)
	last := math.NaN() // at the left end of the column
	for i := range n {
		a, b := angles[i], angles[i+1]
		if !(b >= a) {
			lo[i], hi[i], last = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		if b-a > 4*gridStep {
			lo[i], hi[i] = g.kept.Over(0, a, b)
			last = math.NaN()
			continue
		}
		at := g.between
		if b-a < gridStep/5 {
			at = g.volts
		}
		if math.IsNaN(last) {
			last = at(a)
		}
		middle, next := at((a+b)/2), at(b)
		lo[i], hi[i] = min(last, middle, next), max(last, middle, next)
		last = next
	}
	return lo, hi
}

// between reads the trace off what is kept.
func (g grid) between(at float64) float64 {
	x := math.Mod(math.Mod(at, g.cycle)+g.cycle, g.cycle) / gridStep
	i := min(int(x), len(g.points)-2)
	return g.points[i] + (x-float64(i))*(g.points[i+1]-g.points[i])
}
