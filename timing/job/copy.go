package job

import "slices"

// Clone returns a copy that shares nothing with j that could be changed.
func (j Job) Clone() Job {
	j.Engine.FiringOrder = slices.Clone(j.Engine.FiringOrder)
	j.Engine.FiringIntervalsDeg = slices.Clone(j.Engine.FiringIntervalsDeg)
	j.Engine.Valves = copied(j.Engine.Valves)
	j.Injection = copied(j.Injection)
	if j.CrankWheel = copied(j.CrankWheel); j.CrankWheel != nil {
		j.CrankWheel.Missing = slices.Clone(j.CrankWheel.Missing)
	}
	if j.CamWheel = copied(j.CamWheel); j.CamWheel != nil {
		j.CamWheel.TeethCamDeg = slices.Clone(j.CamWheel.TeethCamDeg)
	}
	j.Dowel = j.Dowel.clone()
	j.Keyway = j.Keyway.clone()
	if j.Gears = copied(j.Gears); j.Gears != nil {
		j.Gears.IdlerTeeth = slices.Clone(j.Gears.IdlerTeeth)
	}
	j.Evidence = slices.Clone(j.Evidence)
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
		for _, points := range []*[]Point{&r.Centre, &r.Keyway, &r.Dowel, &r.Throw, &r.Rim, &r.Bolts} {
			*points = slices.Clone(*points)
		}
		for _, again := range []*[]float64{&r.AngleAgainDeg, &r.ThrowAgainDeg, &r.KeywayAgainDeg, &r.DowelAgainDeg, &r.ChordAgainMM, &r.ArcAgainMM} {
			*again = slices.Clone(*again)
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
	return equalSlots(j.slots(), o.slots())
}

func equalSlots(a, b []slot) bool {
	for i := range a {
		if !a[i].equal(b[i]) {
			return false
		}
	}
	return true
}

// equal compares two slots of the same name and kind.
func (s slot) equal(o slot) bool {
	switch a := s.to.(type) {
	case *string:
		return *a == *o.to.(*string)
	case *int:
		return *a == *o.to.(*int)
	case *formatNumber:
		return a.read() == o.to.(*formatNumber).read()
	case *Number:
		b := o.to.(*Number)
		return a.Given == b.Given && (!a.Given || sameFloat(a.Value, b.Value))
	case repeated:
		return slices.EqualFunc(a.all(), o.to.(repeated).all(), sameFloat)
	case *[]int:
		return slices.Equal(*a, *o.to.(*[]int))
	case *[]float64:
		return slices.EqualFunc(*a, *o.to.(*[]float64), sameFloat)
	case *[]Point:
		return slices.EqualFunc(*a, *o.to.(*[]Point), func(p, q Point) bool {
			return sameFloat(p.X, q.X) && sameFloat(p.Y, q.Y)
		})
	case *any:
		return sameSeen(*a, *o.to.(*any))
	case *[]Evidence:
		return slices.EqualFunc(*a, *o.to.(*[]Evidence), func(e, f Evidence) bool {
			return equalSlots(e.slots(), f.slots())
		})
	case section:
		b := o.to.(section)
		if !a.has() || !b.has() {
			return a.has() == b.has()
		}
		return equalSlots(a.open(), b.open())
	}
	panic("job: slot of unknown kind")
}

// sameFloat is ==, but NaN is the same as NaN: a job is always equal to itself.
func sameFloat(a, b float64) bool { return a == b || a != a && b != b }

// sameSeen compares two evidence values. Values that Check refuses are never
// the same as anything.
func sameSeen(a, b any) bool {
	switch x := a.(type) {
	case nil:
		return b == nil
	case float64:
		y, ok := b.(float64)
		return ok && sameFloat(x, y)
	case string:
		y, ok := b.(string)
		return ok && x == y
	case bool:
		y, ok := b.(bool)
		return ok && x == y
	}
	return false
}
