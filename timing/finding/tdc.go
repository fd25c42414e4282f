package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// The sentences of finding top dead centre and marking degrees.
const (
	tdcFound     phrase.Text = "True TDC is where the degree wheel reads {{.At}}° (± {{.U}}° standard uncertainty)."
	tdcLean      phrase.Text = "With this engine's piston-pin offset the midpoint of the two readings is {{.Lean}}° from TDC; that is corrected for."
	tdcNoOffset  phrase.Text = "The midpoint of the two readings is TDC: the job gives no piston-pin offset."
	dropFound    phrase.Text = "{{.Drop}} below TDC the crankshaft is {{.Before}}° before TDC on the way up and {{.After}}° after it on the way down (± {{.U}}°)."
	angleDrop    phrase.Text = "At {{.At}}° from TDC the piston is {{.Before}} below TDC before it and {{.After}} after it."
	damperMark   phrase.Text = "{{.At}}° on a rim of {{.Diameter}} diameter is {{.Arc}} along the rim (tape), or {{.Chord}} straight across (dividers)."
	damperFinely phrase.Text = "Laid off to half a millimetre, that marks the angle to ± {{.U}}°."
)

// TrueTDC finds top dead centre from readings of a degree wheel on both sides of it. The
// job's linkage, where given, takes the wrist-pin offset out.
func TrueTDC(j job.Job, t job.TDC) ([]phrase.Sentence, error) {
	e, err := engineOf(j)
	if err != nil {
		return nil, err
	}
	stop := e.stop(t)
	r, err := stop.TDC()
	if err != nil {
		return nil, err
	}
	list := []phrase.Sentence{{Text: tdcFound, Data: map[string]any{"At": fine(timing.Wrap(r.Value, timing.Turn)), "U": fine(r.U)}}}
	if stop.Linkage == nil {
		return append(list, phrase.Sentence{Text: tdcNoOffset}), nil
	}
	span := math.Abs(float64(timing.Difference(timing.Deg(stop.FirstDeg), timing.Deg(stop.SecondDeg), timing.Turn)))
	return append(list, phrase.Sentence{Text: tdcLean, Data: map[string]any{"Lean": phrase.Num{Value: float64(part.Lean(*stop.Linkage, timing.Deg(span))), Decimals: 3}}}), nil
}

// DropToAngle turns how far the piston stands below top dead centre into crank
// degrees. It needs bore, stroke and rod.
func DropToAngle(j job.Job, dropMM float64) ([]phrase.Sentence, error) {
	e, err := linked(j)
	if err != nil {
		return nil, err
	}
	before, after, err := part.AnglesAtDrop(*e.linkage, dropMM)
	if err != nil {
		return nil, err
	}
	r, err := part.Drop{DropMM: dropMM, Linkage: *e.linkage}.Angle()
	if err != nil {
		return nil, err
	}
	return []phrase.Sentence{{Text: dropFound, Data: map[string]any{
		"Drop": mm(dropMM, 2), "Before": fine(-before), "After": fine(after), "U": fine(r.U)}}}, nil
}

// AngleToDrop is the inverse of [DropToAngle], for an angle to either side of top
// dead centre.
func AngleToDrop(j job.Job, angle timing.Deg) ([]phrase.Sentence, error) {
	e, err := linked(j)
	if err != nil {
		return nil, err
	}
	return []phrase.Sentence{{Text: angleDrop, Data: map[string]any{
		"At": fine(angle), "Before": mm(e.linkage.DropMM(-angle), 2), "After": mm(e.linkage.DropMM(angle), 2)}}}, nil
}

func linked(j job.Job) (engine, error) {
	e, err := engineOf(j)
	if err == nil && e.linkage == nil {
		err = missing("engine.rod_mm", "is needed, with bore and stroke, to know where the piston is")
	}
	return e, err
}

// layingOff is how surely a mark is laid off by hand, mm; common practice, no
// source.
const layingOff = 0.5

// MarkDamper says how far apart two marks stand on a rim for an angle between
// them.
func MarkDamper(diameterMM float64, angle timing.Deg) ([]phrase.Sentence, error) {
	m, err := part.Damper{DiameterMM: diameterMM}.Mark(angle, layingOff)
	if err != nil {
		return nil, err
	}
	return []phrase.Sentence{
		{Text: damperMark, Data: map[string]any{"At": fine(angle), "Diameter": mm(diameterMM, 1), "Arc": mm(m.ArcMM, 2), "Chord": mm(m.ChordMM, 2)}},
		{Text: damperFinely, Data: map[string]any{"U": fine(m.ArcU)}},
	}, nil
}
