package finding

import (
	"math"

	"pinphase/timing"
	"pinphase/timing/job"
	"pinphase/timing/part"
)

// DowelRange is how far to either side of the keyway a dowel is looked for when
// it is moved by hand, unless the job's own angles lie further out.
const DowelRange timing.Deg = 45

// CanRemeasure tells whether [Remeasure] can move the job's measured dowel.
func CanRemeasure(j job.Job) bool {
	if j.Dowel == nil || j.Dowel.Measured == nil || j.Dowel.Measured.Method == "photo" {
		return false
	}
	_, err := readingOf(*j.Dowel.Measured, "dowel", false).Measure(ViewOf(j, endOf(*j.Dowel, *j.Dowel.Measured)))
	return err == nil
}

// Remeasure returns the job as it would be had the dowel been measured at
// another signed angle from the keyway, by the same method: the chord, the arc
// or the point changes to what would have been read, to a thousandth of a
// millimetre or, for a point, whose unit is not known, as finely against its
// distance from the centre. An angle is read to a hundredth of a degree. A job that [CanRemeasure] refuses comes back as it is.
func Remeasure(j job.Job, dowel timing.Deg) job.Job {
	if !CanRemeasure(j) {
		return j
	}
	j = j.Clone()
	r := j.Dowel.Measured
	v := ViewOf(j, endOf(*j.Dowel, *r))
	size, side := v.Seen(timing.WrapSigned(dowel, timing.Turn))
	switch reading := readingOf(*r, "dowel", false).(type) {
	case part.Chord:
		r2 := reading.Radius2
		if r2 == 0 {
			r2 = reading.Radius1
		}
		c := part.ChordFor(size, reading.Radius1, r2)
		c = math.Min(math.Max(thousandth(c), math.Abs(reading.Radius1-r2)), reading.Radius1+r2)
		r.ChordMM = job.Num(math.Max(c, 0.001)) // a length of 0 is no reading
	case part.Arc:
		r.ArcMM = job.Num(math.Max(math.Min(thousandth(part.ArcFor(size, reading.RimRadiusMM)), math.Pi*reading.RimRadiusMM), 0.001))
	case part.Coordinates:
		p := reading.TurnedTo(dowel, v)
		per := pointSteps(math.Hypot(reading.To.X-reading.Centre.X, reading.To.Y-reading.Centre.Y))
		r.Dowel = []job.Point{{X: math.Round(p.X*per) / per, Y: math.Round(p.Y*per) / per}}
		return j
	default:
		r.AngleDeg = job.Num(math.Round(float64(size)*100) / 100)
	}
	r.Side = side.String()
	return j
}

func thousandth(v float64) float64 { return math.Round(v*1000) / 1000 }

// pointSteps returns into how many steps a unit is divided for a point at
// radius r: a thousandth of a millimetre at 10 to 100 mm, a millionth of a metre
// at 0.01 to 0.1 m.
func pointSteps(r float64) float64 {
	return math.Pow(10, 4-math.Floor(math.Log10(r)))
}
