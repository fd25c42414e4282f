package desk

import (
	"errors"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// What is supposed is a what-if: it lies over the job while it is looked at, and nothing
// of the job, its readings or its file changes. It is no step for undo. It is let go of
// when another job is opened, and as far as the job itself has become another in it.

// Supposed is what is supposed now.
func (u *Desk) Supposed() finding.WhatIf { return u.supposed }

// Supposes tells whether anything is.
func (u *Desk) Supposes() bool { return !u.supposed.Empty() }

// Suppose changes what is supposed, and shows the job so.
func (u *Desk) Suppose(change func(*finding.WhatIf)) {
	next := u.supposed
	change(&next)
	if sameWhatIf(next, u.supposed) {
		return
	}
	u.supposed, u.supposedOf = next, u.Session.Sound()
	u.Reload()
}

// AsMeasured takes back all that is supposed.
func (u *Desk) AsMeasured() { u.Suppose(func(w *finding.WhatIf) { *w = finding.WhatIf{} }) }

// Shown is the newest sound job as the figures show it: every photograph replaced by
// the angle it shows, with what is supposed laid over it.
func (u *Desk) Shown() job.Job { return finding.Suppose(u.Known(), u.supposed) }

// OnPaper is the job as it is drawn on paper: as it is shown, with a title that says what
// is supposed.
func (u *Desk) OnPaper() job.Job {
	j := u.Shown()
	if what, ok := finding.Supposing(j); ok {
		j.Title = strings.TrimPrefix(j.Title+" – "+with("what if: {{.What}}", map[string]any{"What": what}), " – ")
	}
	return j
}

// AsIs does something as if nothing were supposed.
func (u *Desk) AsIs(do func()) {
	w := u.supposed
	u.supposed = finding.WhatIf{}
	defer func() { u.supposed = w }()
	do()
}

// Alike tells whether two jobs as they are shown are the same, with what is supposed.
func Alike(a, b job.Job) bool {
	wheel := func(j job.Job) (n job.Number) {
		if j.Supposed != nil {
			n = j.Supposed.WheelErrorDeg
		}
		return n
	}
	return wheel(a) == wheel(b) && (a.Supposed == nil) == (b.Supposed == nil) && a.Equal(b)
}

// dropSupposed lets go of what is supposed of a value that the job itself has changed.
func (u *Desk) dropSupposed() {
	w, was, now := &u.supposed, u.supposedOf, u.Session.Sound()
	if w.Empty() {
		return
	}
	if !sameFeatures(was, now) {
		w.WheelErrorDeg = nil
	}
	if gears(was).CamTeethOut != gears(now).CamTeethOut || now.Gears == nil {
		w.CamTeethOut = nil
	}
	for _, v := range []struct {
		of **float64
		at func(job.Job) job.Number
	}{
		{&w.AirC, func(j job.Job) job.Number { return injection(j).AirC }},
		{&w.AirKPa, func(j job.Job) job.Number { return injection(j).AirKPa }},
		{&w.CrankingRPM, func(j job.Job) job.Number { return injection(j).CrankingRPM }},
		{&w.CompressionRatio, func(j job.Job) job.Number { return j.Engine.CompressionRatio }},
	} {
		if v.at(was) != v.at(now) {
			*v.of = nil
		}
	}
	u.supposedOf = now
}

func injection(j job.Job) job.Injection {
	if j.Injection == nil {
		return job.Injection{}
	}
	return *j.Injection
}

func gears(j job.Job) job.Gears {
	if j.Gears == nil {
		return job.Gears{}
	}
	return *j.Gears
}

// KeepSupposed puts what is supposed into the job, as one edit that can be undone. What
// has no place there stays supposed, and why is told.
func (u *Desk) KeepSupposed() {
	w := u.supposed
	var left finding.WhatIf
	next := u.Session.Job().Clone()
	if v := w.WheelErrorDeg; v != nil {
		if at, ok := DowelAt(u.Known(), *v); !ok || !putDowel(&next, at) {
			left.WheelErrorDeg = v
		}
	}
	put(&next, w)
	u.supposed = finding.WhatIf{} // or the edit would be taken for a change beneath it
	u.Session.Seal()
	u.Edit("supposed", func(j *job.Job) { *j = next })
	u.Session.Seal()
	if !left.Empty() {
		u.Suppose(func(w *finding.WhatIf) { *w = left })
		u.Tell(errors.New(tr("The wheel error stays a what-if: the job has no place for it. First give the dowel's angle on the drawing, and how it was measured if not on a photograph.")))
	}
}

// put puts all but the wheel error into a job.
func put(j *job.Job, w finding.WhatIf) {
	in := func() *job.Injection {
		if j.Injection == nil {
			j.Injection = &job.Injection{}
		}
		return j.Injection
	}
	if w.AirC != nil {
		in().AirC = job.Num(*w.AirC)
	}
	if w.AirKPa != nil {
		in().AirKPa = job.Num(*w.AirKPa)
	}
	if w.CrankingRPM != nil {
		in().CrankingRPM = job.Num(*w.CrankingRPM)
	}
	if w.CompressionRatio != nil {
		j.Engine.CompressionRatio = job.Num(*w.CompressionRatio)
	}
	if w.CamTeethOut != nil && j.Gears != nil {
		g := *j.Gears
		g.CamTeethOut = *w.CamTeethOut
		j.Gears = &g
	}
}

// putDowel puts where the dowel lies into a job as what would have been measured, by the
// method there is or as an angle; it tells whether it could.
func putDowel(j *job.Job, at timing.Deg) bool {
	next := j.Clone()
	if next.Dowel.Measured == nil {
		next.Dowel.Measured = &job.Reading{Method: "angle", Side: "clockwise", AngleDeg: job.Num(0)}
	}
	if !finding.CanRemeasure(next) {
		return false
	}
	j.Dowel = finding.Remeasure(next, at).Dowel
	return true
}

// DowelAt is where the dowel of a job would lie from the keyway with a wheel error; ok
// is false where the job does not say where the drawing has it.
func DowelAt(j job.Job, wheelError float64) (at timing.Deg, ok bool) {
	none, ok := finding.DowelError(j, 0)
	if !ok {
		return 0, false
	}
	return timing.WrapSigned(timing.Deg(wheelError-none), timing.Turn), true
}

func sameWhatIf(a, b finding.WhatIf) bool {
	same := func(a, b *float64) bool { return a == b || a != nil && b != nil && *a == *b }
	teeth := a.CamTeethOut == b.CamTeethOut || a.CamTeethOut != nil && b.CamTeethOut != nil && *a.CamTeethOut == *b.CamTeethOut
	return teeth && same(a.WheelErrorDeg, b.WheelErrorDeg) && same(a.AirC, b.AirC) && same(a.AirKPa, b.AirKPa) &&
		same(a.CrankingRPM, b.CrankingRPM) && same(a.CompressionRatio, b.CompressionRatio)
}
