package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Supposed is the engine as a cause most probably has it: what its figures are drawn
// with. Angles are crank degrees, positive where the part is ahead.
type Supposed struct {
	Job       job.Job         // with the valves where the cause puts them, and nothing measured on the crankshaft
	Wheel     timing.Deg      // crank wheel, the short way round
	Cam       timing.Deg      // cam wheel, the short way round the cycle
	Valves    timing.Deg      // likewise
	Injection timing.Deg      // how early it comes: it may be on the wrong turn
	Keyway    timing.Deg      // from the No. 1 throw, against the drawing
	Dowel     timing.Deg      // from the keyway, against the drawing
	Says      phrase.Sentence // what that comes to
}

// The sentences of a supposed engine.
const (
	supposedRight  phrase.Text = "If so, injection starts as commanded: this fault does not show in these figures."
	supposedEarly  phrase.Text = "If so, every injection starts {{.By}}° early."
	supposedLate   phrase.Text = "If so, every injection starts {{.By}}° late."
	supposedOther  phrase.Text = "If so, every injection is 360° out, on the wrong stroke."
	supposedValves phrase.Text = "If so, the valves are {{.By}}° out, and injection with them as the figures show."
)

// Suppose returns a job's engine as a cause has it; ok is false for a cause that is
// none, or that the evidence has ruled out.
func (c Causes) Suppose(j job.Job, name string) (s Supposed, ok bool) {
	k := c.Ranking.Find(name)
	if k == nil {
		return Supposed{}, false
	}
	state, ok := k.State()
	if !ok {
		return Supposed{}, false
	}
	e, err := EngineOf(j)
	if err != nil {
		return Supposed{}, false
	}
	s.Wheel, s.Cam, s.Valves = state.Errors(c.Engine)
	s.Injection, s.Keyway, s.Dowel = lands(s.Wheel, s.Cam, e.Cycle()), state.Keyway, state.Dowel
	s.Job = j.Clone()
	for _, f := range []*job.Feature{s.Job.Dowel, s.Job.Keyway} {
		if f != nil {
			f.Measured = nil
		}
	}
	if v := s.Job.Engine.Valves; v != nil {
		by := float64(s.Valves)
		for _, n := range []struct {
			at    *job.Number
			early float64
		}{{&v.IntakeOpensBTDCDeg, by}, {&v.IntakeClosesABDCDeg, -by}, {&v.ExhaustOpensBBDCDeg, by}, {&v.ExhaustClosesATDCDeg, -by}} {
			if n.at.Given {
				n.at.Value += n.early
			}
		}
	}
	s.Says = s.says(e.Cycle())
	return s, true
}

// lands is how early injection comes with the wheel and the cam ahead by so much.
// The crank wheel looks the same every turn; of the turns of a cycle the controller
// takes the one in which the cam's edges come nearest to where they should.
func lands(wheel, cam, cycle timing.Deg) timing.Deg {
	return timing.WrapSigned(cam+timing.WrapSigned(wheel-cam, timing.Turn), cycle)
}

func (s Supposed) says(cycle timing.Deg) phrase.Sentence {
	by := map[string]any{"By": deg(size(s.Injection))}
	switch {
	case cycle > timing.Turn && size(size(s.Injection)-timing.Turn) < 0.05:
		return phrase.Sentence{Text: supposedOther}
	case deg(size(s.Valves)).String() != "0":
		return phrase.Sentence{Text: supposedValves, Data: map[string]any{"By": deg(size(s.Valves))}}
	case deg(s.Injection).String() == "0" || math.Abs(float64(s.Injection)) < 0.05:
		return phrase.Sentence{Text: supposedRight}
	case s.Injection > 0:
		return phrase.Sentence{Text: supposedEarly, Data: by}
	}
	return phrase.Sentence{Text: supposedLate, Data: by}
}
