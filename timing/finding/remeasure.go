package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/part/uncertainty"
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
// millimetre (a chord finer, because near the keyway's line a thousandth is more
// than a tenth of a degree) or, for a point, whose unit is not known, as finely against its
// distance from the centre. An angle is read to a hundredth of a degree.
// Readings taken several times move together. A job that [CanRemeasure] refuses
// comes back as it is, and so does one whose method cannot read such an angle.
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
		lo := math.Max(math.Abs(reading.Radius1-r2), 0.001) // a length of 0 is no reading
		move(&r.ChordMM, &r.ChordAgainMM, c, lengthSteps, lo, reading.Radius1+r2)
	case part.Caliper:
		c, err := reading.For(size)
		if err != nil {
			return j
		}
		move(&r.ChordMM, &r.ChordAgainMM, c, 1000, 0.001, math.Inf(1))
		if caliperOf(*r, reading.Radius1, side, reading.UReading).Check() != nil {
			r.ChordMM, r.ChordAgainMM = job.Num(c), nil // the scatter led out of what can be read
		}
	case part.DegreeWheel:
		r.DowelAgainDeg = nil
		r.DowelDeg = job.Num(hundredth(timing.Wrap(timing.Deg(reading.FromMean())+v.Signed(timing.WrapSigned(dowel, timing.Turn), reading.Counts), timing.Turn)))
		return j
	case part.Arc:
		move(&r.ArcMM, &r.ArcAgainMM, part.ArcFor(size, reading.RimRadiusMM), 1000, 0.001, math.Pi*reading.RimRadiusMM)
	case part.Coordinates:
		p := reading.TurnedTo(dowel, v)
		per := pointSteps(math.Hypot(reading.To.X-reading.Centre.X, reading.To.Y-reading.Centre.Y))
		r.Dowel = []job.Point{{X: math.Round(p.X*per) / per, Y: math.Round(p.Y*per) / per}}
		return j
	default:
		move(&r.AngleDeg, &r.AngleAgainDeg, float64(size), 100, 0, 180)
	}
	r.Side = side.String()
	return j
}

// lengthSteps divides a millimetre of a chord.
const lengthSteps = 100000

// move makes "to" the mean of what was read once or several times, each rounded to
// so many steps of a unit and kept within lo and hi.
func move(first *job.Number, again *[]float64, to, steps, lo, hi float64) {
	by := to - uncertainty.Series(append([]float64{first.Value}, *again...)).Mean()
	moved := func(v float64) float64 {
		return math.Min(math.Max(math.Round((v+by)*steps)/steps, lo), hi)
	}
	first.Value = moved(first.Value)
	for i, v := range *again {
		(*again)[i] = moved(v)
	}
}

func hundredth(d timing.Deg) float64 { return math.Round(float64(d)*100) / 100 }

// pointSteps returns into how many steps a unit is divided for a point at
// radius r: a thousandth of a millimetre at 10 to 100 mm, a millionth of a metre
// at 0.01 to 0.1 m.
func pointSteps(r float64) float64 {
	return math.Pow(10, 4-math.Floor(math.Log10(r)))
}
