package job

import (
	"slices"

	"pinphase.org/pinphase/timing/job/document"
)

// Clone returns a copy that shares nothing with j that could be changed.
func (j Job) Clone() Job {
	j.Engine.FiringOrder = slices.Clone(j.Engine.FiringOrder)
	j.Engine.FiringIntervalsDeg = slices.Clone(j.Engine.FiringIntervalsDeg)
	j.Engine.Valves = copied(j.Engine.Valves)
	j.Case = copied(j.Case)
	j.TDC = cloneTDC(j.TDC)
	j.Injection = copied(j.Injection)
	if j.CrankWheel = copied(j.CrankWheel); j.CrankWheel != nil {
		j.CrankWheel.Missing = slices.Clone(j.CrankWheel.Missing)
	}
	if j.CamWheel = copied(j.CamWheel); j.CamWheel != nil {
		j.CamWheel.TeethCamDeg = slices.Clone(j.CamWheel.TeethCamDeg)
	}
	j.Dowel = j.Dowel.clone()
	j.Keyway = j.Keyway.clone()
	j.Parts = cloneParts(j.Parts)
	if j.Gears = copied(j.Gears); j.Gears != nil {
		j.Gears.IdlerTeeth = slices.Clone(j.Gears.IdlerTeeth)
	}
	j.Evidence = slices.Clone(j.Evidence)
	if j.Supposed = copied(j.Supposed); j.Supposed != nil {
		j.Supposed.Of, j.Supposed.Keys = j.Supposed.Of.Clone(), slices.Clone(j.Supposed.Keys)
	}
	return j
}

func (f *Feature) clone() *Feature {
	if f = copied(f); f != nil {
		f.Drawing = f.Drawing.clone()
		f.Measured = f.Measured.clone()
	}
	return f
}

func (r *Reading) clone() *Reading {
	if r = copied(r); r != nil {
		for _, v := range values {
			if v.Points != nil {
				*v.Points(r) = slices.Clone(*v.Points(r))
			}
			if v.Again != nil {
				*v.Again(r) = slices.Clone(*v.Again(r))
			}
		}
	}
	return r
}

// copied returns a pointer to a copy of what p points to, nil for nil.
func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	c := *p
	return &c
}

// Equal tells whether both jobs say the same. An empty list is the same as none,
// format 0 the same as 1 (which a file that leaves it out means), and the value
// of a number that is not given does not count.
func (j Job) Equal(o Job) bool {
	return document.Equal(j.slots(), o.slots())
}
