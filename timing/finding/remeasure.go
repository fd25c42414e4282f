package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// DowelRange is how far to either side of the keyway a dowel is looked for when
// it is moved by hand, unless the job's own angles lie further out.
const DowelRange timing.Deg = 45

// CanRemeasure tells whether [Remeasure] can move the job's measured dowel.
func CanRemeasure(j job.Job) bool {
	if j.Dowel == nil || j.Dowel.Measured == nil {
		return false
	}
	_, err := j.Dowel.Measured.As("dowel", false).Measure(ViewOf(j, endOf(*j.Dowel, *j.Dowel.Measured)))
	return err == nil
}

// Remeasure returns the job as it would be had the dowel been measured at another
// signed angle from the keyway, by the same method ([job.Reading.Move]). A job that
// [CanRemeasure] refuses comes back as it is, and so does one whose method cannot read
// such an angle.
func Remeasure(j job.Job, dowel timing.Deg) job.Job {
	if !CanRemeasure(j) {
		return j
	}
	j = j.Clone()
	r := j.Dowel.Measured
	r.Move("dowel", timing.WrapSigned(dowel, timing.Turn), ViewOf(j, endOf(*j.Dowel, *r)))
	return j
}
