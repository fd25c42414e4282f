package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/piston"
	"pinphase.org/pinphase/timing/wheel"
)

// engine is a job's engine in the terms of the arithmetic.
type engine struct {
	timing.Scheme
	view    func(end string) timing.View
	linkage *piston.SliderCrank // nil without stroke and rod
	intake  *timing.Span        // nil without both of its times
	exhaust *timing.Span
}

func engineOf(j job.Job) (engine, error) {
	intervals := make([]timing.Deg, len(j.Engine.FiringIntervalsDeg))
	for i, v := range j.Engine.FiringIntervalsDeg {
		intervals[i] = timing.Deg(v)
	}
	scheme, err := timing.NewScheme(j.Engine.Strokes, j.Engine.FiringOrder, intervals)
	if err != nil {
		return engine{}, err
	}
	e := engine{Scheme: scheme, view: func(end string) timing.View { return ViewOf(j, end) }}
	if j.Engine.BoreMM.Given && j.Engine.StrokeMM.Given && j.Engine.RodMM.Given {
		e.linkage = &piston.SliderCrank{
			ThrowMM:  j.Engine.StrokeMM.Value / 2,
			RodMM:    j.Engine.RodMM.Value,
			OffsetMM: j.Engine.PinOffsetMM.Or(0),
		}
	}
	if times, ok := j.Engine.Valves.Intake(); ok {
		s := scheme.IntakeSpan(times)
		e.intake = &s
	}
	if times, ok := j.Engine.Valves.Exhaust(); ok {
		s := scheme.ExhaustSpan(times)
		e.exhaust = &s
	}
	return e, nil
}

// ViewOf returns the view from the named end of the job's crankshaft, "" being
// the nose.
func ViewOf(j job.Job, end string) timing.View {
	rotation, _ := timing.ParseSense(j.Engine.Rotation) // "" is clockwise, the job's default
	from, _ := timing.ParseEnd(end)                     // "" is the nose
	return timing.View{From: from, Rotation: rotation}
}

// EngineOf returns the job's firing scheme.
func EngineOf(j job.Job) (timing.Scheme, error) {
	e, err := engineOf(j)
	return e.Scheme, err
}

// ValveSpans returns when intake and exhaust are open, in a cylinder's own
// angle; nil where the job does not say.
func ValveSpans(j job.Job) (intake, exhaust *timing.Span) {
	e, err := engineOf(j)
	if err != nil {
		return nil, nil
	}
	return e.intake, e.exhaust
}

// pistonMM returns the piston's height below its top dead centre, nil when the
// job does not give the linkage.
func (e engine) pistonMM(alpha timing.Deg) *float64 {
	if e.linkage == nil {
		return nil
	}
	d := round(e.linkage.DropMM(alpha))
	return &d
}

// CrankWheelOf returns the job's crank wheel, nil when it has none or does not
// say where its first tooth is.
func CrankWheelOf(j job.Job) *wheel.Crank {
	w := j.CrankWheel
	if w == nil || !w.FirstToothBTDCDeg.Given {
		return nil
	}
	return &wheel.Crank{Positions: w.Positions, Missing: w.Missing, FirstToothBTDC: timing.Deg(w.FirstToothBTDCDeg.Value)}
}

// inCycle is [round] for an angle in [0, cycle): one that rounds up to the whole
// cycle is 0.
func inCycle(d, cycle timing.Deg) float64 {
	v := round(float64(d))
	if v >= float64(cycle) {
		return 0
	}
	return v
}

// round takes the rounding noise of binary fractions off a result: a
// billionth of a degree or a millimetre is beyond any measurement.
func round(v float64) float64 {
	r := math.Round(v*1e9) / 1e9
	if r == 0 {
		return 0
	}
	return r
}
