package part

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
)

// DegreeWheel is a degree wheel fixed to the crankshaft and read at both
// features. Only the difference counts, so that the wheel need not be set to
// anything.
type DegreeWheel struct {
	FromDeg, ToDeg     float64      // what the wheel says at either feature, 0 to 360
	FromAgain, ToAgain []float64    // further readings
	Counts             timing.Sense // in which its numbers grow, as seen
	U                  Given        // degrees, of one reading; [DefaultAngleU]
}

// Measure implements [Reading].
func (d DegreeWheel) Measure(v timing.View) (Result, error) {
	u, byDefault := d.U.or(float64(DefaultAngleU))
	var in inputs
	from := in.repeated(ReadFrom, d.FromDeg, beside(d.FromDeg, d.FromAgain), u)
	to := in.repeated(ReadTo, d.ToDeg, beside(d.ToDeg, d.ToAgain), u)
	apart := func(x []float64) float64 { return to(x) - from(x) }
	return evaluate(uncertainty.Quantity{Inputs: in, Model: signed(v, d.Counts, apart)}, byDefault), nil
}

// FromMean returns the mean reading at the first feature, in the wheel's numbers;
// it may lie a little below 0 or above 360.
func (d DegreeWheel) FromMean() float64 {
	return uncertainty.Series(append([]float64{d.FromDeg}, beside(d.FromDeg, d.FromAgain)...)).Mean()
}

// beside brings repeated readings next to the first, so that 359.8 and 0.1 do not
// have a mean of half a turn.
func beside(first float64, again []float64) []float64 {
	var list []float64
	for _, v := range again {
		list = append(list, first+float64(timing.Difference(timing.Deg(first), timing.Deg(v), timing.Turn)))
	}
	return list
}
