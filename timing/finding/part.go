package finding

import (
	"errors"
	"fmt"

	"pinphase/timing"
	"pinphase/timing/job"
	"pinphase/timing/part"
)

// Part is what was measured on the crankshaft. Angles are in degrees, positive
// in the direction of rotation.
type Part struct {
	Dowel    *FeatureAngle `json:"dowel"`  // from the keyway; nil when the job has none
	Keyway   *FeatureAngle `json:"keyway"` // from the No. 1 throw
	Mirrored bool          `json:"mirrored"`
	Verdict  *Verdict      `json:"verdict,omitempty"`
	Notes    []Sentence    `json:"-"`
}

// Verdict is how probable each reading of the dowel is.
type Verdict struct {
	AsDrawn  float64 `json:"as_drawn"`
	Mirrored float64 `json:"mirrored"`
	Other    float64 `json:"other"`
}

// FeatureAngle is one feature's angle on the drawing and as measured; nil where
// not given.
type FeatureAngle struct {
	DrawingDeg    *float64    `json:"drawing_deg"`
	DrawingUDeg   *float64    `json:"drawing_u_deg"`
	MeasuredDeg   *float64    `json:"measured_deg"`
	UDeg          *float64    `json:"u_deg"` // of the measurement
	Interval95Deg *[2]float64 `json:"interval95_deg"`
}

// feature is a section of the job, measured.
type feature struct {
	drawing, measured *part.Result
}

func (f feature) comparison() part.Comparison {
	return part.Comparison{Drawing: f.drawing.Measured, Measured: f.measured.Measured}
}

// PartOf returns what was measured. It needs [dowel] or [keyway].
func PartOf(j job.Job) (Part, error) {
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
		if dowel.drawing != nil && dowel.measured != nil {
			v := part.Judge(dowel.comparison())
			p.Verdict = &Verdict{round(v.AsDrawn), round(v.Mirrored), round(v.Other)}
			p.Mirrored = v.IsMirrored()
		}
	}
	if j.Keyway != nil {
		p.Keyway = keyway.angle()
	}
	if e, err := compare(dowel, keyway); err == nil {
		p.Notes = e.notes()
	} else {
		p.Notes = readingNotes(dowel, keyway) // measured, with nothing to compare it with
	}
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
	}
	return a
}

func ptr(d timing.Deg) *float64 {
	v := round(float64(d))
	return &v
}

// features measures both sections of the job; what is left out stays nil.
func features(j job.Job) (dowel, keyway feature, err error) {
	var faults job.Faults
	take := func(section string, f *job.Feature, into *feature) {
		if f == nil {
			return
		}
		for _, r := range []struct {
			key     string
			reading *job.Reading
			result  **part.Result
		}{{"drawing", f.Drawing, &into.drawing}, {"measured", f.Measured, &into.measured}} {
			if r.reading == nil {
				continue
			}
			result, err := readingOf(*r.reading, section, r.key == "drawing").Measure(ViewOf(j, endOf(*f, *r.reading)))
			if err != nil {
				faults = append(faults, job.Fault{Key: section + "." + r.key, Message: err.Error()})
				continue
			}
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

// errPhoto is what the photo method answers until pictures can be read.
var errPhoto = errors.New("angles from photographs cannot be worked out yet; measure by angle, chord, arc or xy")

type photo struct{}

func (photo) Measure(timing.View) (part.Result, error) { return part.Result{}, errPhoto }

// readingOf turns a checked reading of the job into a way of measuring. A
// drawing without an uncertainty is exact; a measurement takes its method's
// default.
func readingOf(r job.Reading, section string, isDrawing bool) part.Reading {
	side, _ := timing.ParseSense(r.Side)
	given := func(n job.Number) part.Given {
		if !n.Given && isDrawing {
			return part.Given{U: 0, Known: true}
		}
		return part.Given{U: n.Value, Known: n.Given}
	}
	own := func(n job.Number) part.Given { return part.Given{U: n.Value, Known: n.Given} }
	switch r.Method {
	case "chord":
		first := r.DowelRadiusMM
		if section == "keyway" {
			first = r.ThrowRadiusMM
		}
		a, b := first.Value, r.KeywayRadiusMM.Value
		if !first.Given {
			a, b = b, 0
		}
		return part.Chord{ChordMM: r.ChordMM.Value, Radius1: a, Radius2: b, Side: side, UChord: given(r.UMM), URadiusOwn: own(r.URadiusMM)}
	case "arc":
		return part.Arc{ArcMM: r.ArcMM.Value, RimRadiusMM: r.RimRadiusMM.Value, Side: side, UArc: given(r.UMM), URadiusOwn: own(r.URadiusMM)}
	case "xy":
		from, to := r.Keyway, r.Dowel
		if section == "keyway" {
			from, to = r.Throw, r.Keyway
		}
		return part.Coordinates{Centre: point(r.Centre), From: point(from), To: point(to), U: given(r.UMM)}
	case "photo":
		return photo{}
	}
	return part.Angle{Deg: timing.Deg(r.AngleDeg.Value), Side: side, U: given(r.UDeg)}
}

func point(ps []job.Point) part.Point {
	if len(ps) == 0 {
		return part.Point{}
	}
	return part.Point{X: ps[0].X, Y: ps[0].Y}
}

func missing(key, format string, args ...any) job.Faults {
	return job.Faults{{Key: key, Message: fmt.Sprintf(format, args...)}}
}

// mirroredProbability is that of a mirrored dowel when it is the most probable
// reading, else 0.
func mirroredProbability(dowel feature) float64 {
	if dowel.drawing == nil || dowel.measured == nil {
		return 0
	}
	if v := part.Judge(dowel.comparison()); v.IsMirrored() {
		return v.Mirrored
	}
	return 0
}
