package finding

import (
	"cmp"
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/trace"
)

// A recording tells true TDC only up to the way after which the firings repeat, and the
// cam often only up to a turn. What agrees with it is a list of branches; which of them
// it is follows from how such mistakes come about.

// TraceBranch is one way in which crank wheel and cam may sit, crank degrees, positive
// is ahead: wheel less cam is the correlation error in all of them.
type TraceBranch struct {
	WheelErrorDeg float64  `json:"wheel_error_deg"` // within half a turn either way
	CamErrorDeg   *float64 `json:"cam_error_deg"`   // within half a cycle; nil where the correlation is not known
	HalfTurn      *bool    `json:"half_turn"`       // the cam is nearer to half a turn out; nil likewise
	Probability   float64  `json:"probability"`     // by the faults that lead there: they add up to 1
}

// branchSure is how probable a branch must be to be stated.
const branchSure = cause.Sure

// plainEngine is what the faults need to know, as far as a recording's engine tells.
func plainEngine(known trace.Known) cause.Engine {
	e := cause.Engine{Strokes: 4, CrankTeeth: known.CrankTeeth, Positions: known.Crank.Positions}
	if known.Cycle == timing.Turn {
		e.Strokes = 2
	}
	if known.Crank.Positions > 0 {
		e.OneGap = sameFromBehind(known.Crank.Positions, known.Crank.Missing)
	}
	return e
}

// branches are all that agree with an analysis, the most probable first; none where
// true TDC is not known.
func branches(a *trace.Analysis, known trace.Known, e cause.Engine) []TraceBranch {
	list := []TraceBranch{}
	if a.TDC == nil || !(a.Modulo > 0) {
		return list
	}
	cor, cycle := a.Correlation, known.Cycle
	if cor == nil {
		cycle = timing.Turn // a wheel's error is known within a turn at best
	}
	var places []cause.Placement
	for k := range max(int(math.Round(float64(cycle/a.Modulo))), 1) {
		theta := a.TDC.Value + timing.Deg(k)*a.Modulo // the controller's angle at true TDC
		b := TraceBranch{WheelErrorDeg: *thousandth(timing.WrapSigned(theta, timing.Turn))}
		p := cause.Placement{Wheel: timing.Measured{Value: timing.WrapSigned(theta, timing.Turn), U: a.TDC.U}}
		if cor != nil {
			gamma := timing.WrapSigned(theta-cor.Value, known.Cycle)
			half := size(gamma) > timing.Turn/2
			if a.HalfTurn != nil && *a.HalfTurn != half {
				continue
			}
			b.CamErrorDeg, b.HalfTurn = thousandth(gamma), &half
			p.Less = &timing.Measured{Value: timing.WrapSigned(p.Wheel.Value-gamma, known.Cycle), U: cor.U}
		}
		list, places = append(list, b), append(places, p)
	}
	for i, chance := range cause.Placements(e, places) {
		list[i].Probability = tidy(chance, 1e4)
	}
	slices.SortStableFunc(list, func(a, b TraceBranch) int { return cmp.Compare(b.Probability, a.Probability) })
	return list
}

// Branch returns the branch that is sure enough to be stated, nil when none is.
func (t Trace) Branch() *TraceBranch {
	if len(t.Branches) == 0 || t.Branches[0].Probability < branchSure || t.rough() {
		return nil
	}
	return &t.Branches[0]
}
