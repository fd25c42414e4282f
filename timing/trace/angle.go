package trace

import (
	"sort"

	"pinphase.org/pinphase/timing"
)

// Angle returns the controller's crank angle at a time of the recording. It grows
// through a run and is not wrapped: wrapped into the cycle it is the controller's
// angle where [Analysis.Told] says so for the run, else only wrapped into a turn.
// ok is false outside the runs, where the teeth could not be followed.
func (a *Analysis) Angle(seconds float64) (at timing.Deg, run int, ok bool) {
	// Runs follow one another in time.
	run = sort.Search(len(a.clocks), func(i int) bool { t := a.clocks[i].t; return t[len(t)-1] >= seconds })
	if run == len(a.clocks) {
		return 0, 0, false
	}
	v, ok := a.clocks[run].at(seconds)
	if !ok {
		return 0, 0, false
	}
	return timing.Deg(v), run, true
}

// Span returns the angles between which a run lies, as [Analysis.Angle] counts.
func (a *Analysis) Span(run int) (from, to timing.Deg) {
	k := a.clocks[run]
	return timing.Deg(k.angle[0]), timing.Deg(k.angle[len(k.angle)-1])
}

// Told tells whether the turn within the cycle is known over a run: from the cam's
// edges, or because a cycle is one turn.
func (a *Analysis) Told(run int) bool { return a.told[run] }

// TimeOf returns when a run passes an angle, as [Analysis.Angle] counts; ok is false
// outside the run.
func (a *Analysis) TimeOf(run int, at timing.Deg) (seconds float64, ok bool) {
	k := a.clocks[run]
	n := len(k.angle)
	x := float64(at)
	if x < k.angle[0] || x > k.angle[n-1] {
		return 0, false
	}
	i := min(max(sort.SearchFloat64s(k.angle, x), 1), n-1)
	lo, hi := k.t[i-1], k.t[i]
	for range 40 { // the angle rises between teeth
		middle := (lo + hi) / 2
		if v, _ := k.at(middle); v < x {
			lo = middle
		} else {
			hi = middle
		}
	}
	return (lo + hi) / 2, true
}

// ToothState is what is to be said of a crank tooth.
type ToothState int

// The states.
const (
	ToothSeen  ToothState = iota
	ToothLost             // the wheel has it here, the recording does not
	ToothExtra            // an edge that is no tooth of the wheel
)

// Tooth is a crank tooth in the recording.
type Tooth struct {
	Seconds  float64
	Position int // of the wheel, from 1; 0 of an edge too many and of a lost tooth
	State    ToothState
}

// Teeth returns the crank teeth from one time to another, in order of time.
func (a *Analysis) Teeth(from, to float64) []Tooth {
	var list []Tooth
	for _, r := range a.Runs {
		for i := sort.SearchFloat64s(r.Time, from); i < len(r.Time) && r.Time[i] <= to; i++ {
			n := a.Found.Positions
			list = append(list, Tooth{r.Time[i], (r.At[i]%n+n)%n + 1, ToothSeen})
		}
	}
	for _, s := range a.Slips {
		if s.Time < from || s.Time > to {
			continue
		}
		state := ToothLost
		if s.Extra {
			state = ToothExtra
		}
		list = append(list, Tooth{Seconds: s.Time, State: state})
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].Seconds < list[k].Seconds })
	return list
}
