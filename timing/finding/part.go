package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Part is what was measured on the crankshaft. Angles are in degrees, positive
// in the direction of rotation.
type Part struct {
	Dowel    *FeatureAngle     `json:"dowel"`  // from the keyway; nil when the job has none
	Keyway   *FeatureAngle     `json:"keyway"` // from the No. 1 throw
	Mirrored bool              `json:"mirrored"`
	Verdict  *Verdict          `json:"verdict,omitempty"`
	Parts    []PartAngles      `json:"parts,omitempty"` // what was measured on each of several parts
	Says     phrase.Sentence   `json:"-"`               // what the part is; no text when nothing can be compared with a drawing
	Facts    []phrase.Sentence `json:"-"`               // what must be known beside the numbers
	Notes    []phrase.Sentence `json:"-"`               // the facts, and what to measure better or next
}

// FeatureAngle is one feature's angle on the drawing and as measured; nil where
// not given.
type FeatureAngle struct {
	DrawingDeg    *float64    `json:"drawing_deg"`
	DrawingUDeg   *float64    `json:"drawing_u_deg"`
	MeasuredDeg   *float64    `json:"measured_deg"`
	UDeg          *float64    `json:"u_deg"` // of the measurement
	Interval95Deg *[2]float64 `json:"interval95_deg"`

	CoverageFactor *float64 `json:"coverage_factor"` // from u to half the interval
	DOF            *float64 `json:"dof"`             // effective degrees of freedom of u; nil: no limit
	DefaultU       bool     `json:"default_u"`       // u is the method's default, none was given
	By             string   `json:"by,omitempty"`    // "propagation" or "monte_carlo"
	Budget         []Source `json:"budget"`          // where u comes from, the largest first
}

// How an uncertainty was found, in [FeatureAngle].
const (
	byPropagation = "propagation" // JCGM 100:2008
	byDraws       = "monte_carlo" // JCGM 101:2008
)

// feature is a section of the job, measured.
type feature struct {
	drawing, measured *part.Result
	section           string
	reading           job.Reading // what was measured
}

func (f feature) comparison() part.Comparison {
	return part.Comparison{Drawing: f.drawing.Measured, Measured: f.measured.Measured, DOF: f.measured.DOF}
}

// PartOf returns what was measured. It needs [dowel] or [keyway].
func PartOf(j job.Job) (Part, error) {
	j = j.AsItIs() // what-ifs are not measured
	if j.Dowel == nil && j.Keyway == nil {
		return Part{}, missing("dowel", "is missing, and so is [keyway]: give what was measured on the crankshaft")
	}
	dowel, keyway, err := features(j)
	if err != nil {
		return Part{}, err
	}
	p := Part{}
	if j.Dowel != nil {
		p.Dowel = dowel.angle()
	}
	if j.Keyway != nil {
		p.Keyway = keyway.angle()
	}
	e, err := wheelErrorOf(j)
	if err == nil {
		p.Notes = e.notes()
	} else {
		p.Notes = readingNotes(dowel, keyway) // measured, with nothing to compare it with
	}
	p.Parts = PartsOf(j)
	p.Facts = p.Notes[:len(p.Notes):len(p.Notes)]
	if v, ok := judge(dowel, keyway); ok {
		p.Verdict, p.Mirrored, p.Says = verdictOf(v), v.IsMirrored(), verdictSays(v)
		p.Notes = append(p.Notes, verdictNotes(v)...)
	}
	if err == nil {
		p.Notes = append(p.Notes, e.verdict(j)...)
	}
	p.Notes = append(append(p.Notes, budgetNotes(p)...), doubtful(j)...)
	return p, nil
}

func (f feature) angle() *FeatureAngle {
	a := &FeatureAngle{}
	if f.drawing != nil {
		a.DrawingDeg, a.DrawingUDeg = ptr(f.drawing.Value), ptr(f.drawing.U)
	}
	if f.measured != nil {
		lo, hi := f.measured.Interval95()
		a.MeasuredDeg, a.UDeg = ptr(f.measured.Value), ptr(f.measured.U)
		a.Interval95Deg = &[2]float64{round(float64(lo)), round(float64(hi))}
		k := round(f.measured.Coverage95())
		a.CoverageFactor, a.DefaultU, a.By = &k, f.measured.DefaultU, byPropagation
		if f.measured.DOF > 0 {
			dof := round(f.measured.DOF)
			a.DOF = &dof
		}
		if f.measured.Drawn != nil {
			a.By = byDraws
		}
		a.Budget = sourcesOf(f.measured.Budget, f.section, f.reading)
	}
	return a
}

func ptr(d timing.Deg) *float64 {
	v := round(float64(d))
	return &v
}

// maxU is the largest standard uncertainty given for an angle. Lengths that are
// as uncertain as they are long lead to larger ones, or to none, which say no
// more than that the angle may be any.
const maxU timing.Deg = 180

// short is the short way round, in (-180, 180], without the rounding noise that
// could make half a turn with rotation one against it.
func short(d timing.Deg) timing.Deg {
	return timing.WrapSigned(timing.Deg(round(float64(d))), timing.Turn)
}

// features measures both sections of the job; what is left out stays nil.
func features(j job.Job) (dowel, keyway feature, err error) {
	var faults job.Faults
	datum := j.MeasuredDatum()
	take := func(section string, f *job.Feature, into *feature) {
		if f == nil {
			return
		}
		into.section = section
		if f.Measured != nil {
			into.reading = *f.Measured
		}
		for _, r := range []struct {
			key     string
			reading *job.Reading
			result  **part.Result
		}{{"drawing", f.Drawing, &into.drawing}, {"measured", f.Measured, &into.measured}} {
			if r.reading == nil {
				continue
			}
			exact := r.key == "drawing" && (datum == nil || datum.Reading(section) == nil) // a drawing without an uncertainty is, an old part is not
			result, err := r.reading.As(section, exact).Measure(ViewOf(j, endOf(*f, *r.reading)))
			if err != nil {
				faults = append(faults, job.Fault{Key: section + "." + r.key, Message: err.Error(), Says: phrase.From(err)})
				continue
			}
			if !(result.U <= maxU) { // none at all, too
				result.U = maxU
			}
			result.Value = short(result.Value)
			*r.result = &result
		}
	}
	take("dowel", j.Dowel, &dowel)
	take("keyway", j.Keyway, &keyway)
	if len(faults) > 0 {
		return dowel, keyway, faults
	}
	return dowel, keyway, nil
}

func endOf(f job.Feature, r job.Reading) string {
	if r.SeenFrom != "" {
		return r.SeenFrom
	}
	return f.SeenFrom
}

func missing(key string, format phrase.Text, args ...any) job.Faults {
	says := phrase.Of(format, args...)
	return job.Faults{{Key: key, Message: says.String(), Says: says}}
}
