package cause

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Prediction is what a cause makes one expect of a kind of evidence that was not
// seen yet, all else that was seen allowed for.
type Prediction struct {
	Kind        string
	Number      *float64 // nil: cannot be said to better than 30 degrees, or is no number
	SD          float64  // how far it may be off
	Word        string   // the most probable; for yes or no "yes" or "no"
	Probability float64  // of it
}

// Predicts returns what a cause makes one expect of every kind of evidence but
// which parts were replaced.
func (r *Ranking) Predicts(c *Cause) []Prediction {
	var list []Prediction
	c, all := r.shown(c)
	for i := range kinds {
		k := &kinds[i]
		if k.parts || all <= 0 {
			continue
		}
		if k.Value == Number {
			list = append(list, r.number(c, k, all))
			continue
		}
		words := k.Words
		if k.Value == YesNo {
			words = []string{"no", "yes"}
		}
		p := Prediction{Kind: k.Name}
		for w, word := range words {
			q := 0.0
			for m := range c.nodes {
				q += c.nodes[m].weight / all * k.word(&r.engine, &c.nodes[m].state, w)
			}
			if q > p.Probability {
				p.Word, p.Probability = word, q
			}
		}
		list = append(list, p)
	}
	return list
}

// engineErrors are what a state does to the engine itself, before anything is read of it.
var engineErrors = []Kind{
	{Name: "wheel_error_deg", Unit: "°", number: func(_ *Engine, s *State) expected { return expected{at: float64(s.wheelError())} }, period: turn},
	{Name: "cam_error_deg", Unit: "°", number: func(e *Engine, s *State) expected { return expected{at: float64(s.camError(e))} }, period: (*Engine).cycle},
}

// PredictsErrors returns how far a cause puts crank wheel and cam wheel ahead, all
// that was seen allowed for: "wheel_error_deg" and "cam_error_deg". They are no kinds
// of evidence. The valves' are among [Ranking.Predicts].
func (r *Ranking) PredictsErrors(c *Cause) []Prediction {
	var list []Prediction
	c, all := r.shown(c)
	for i := range engineErrors {
		if all > 0 {
			list = append(list, r.number(c, &engineErrors[i], all))
		}
	}
	return list
}

// shown is the cause with the nodes to predict from, and what their weights add up
// to: of one that is as good as ruled out, what it would be without the evidence.
func (r *Ranking) shown(c *Cause) (*Cause, float64) {
	if len(c.nodes) == 0 {
		c = &Cause{of: c.of}
		in := integrator{e: &r.engine}
		in.visit(c.of, func(share float64, s *State) { c.nodes = append(c.nodes, node{share, *s}) })
	}
	all := 0.0
	for _, n := range c.nodes {
		all += n.weight
	}
	return c, all
}

// widest is how far, as a standard deviation, a predicted angle may be off to be
// worth telling.
const widest = 30.0

// number is the mean of a prediction and its spread; of an angle, round the angle
// that the nodes lie nearest to, so that a mean of 359 and 1 is 0.
func (r *Ranking) number(c *Cause, k *Kind, all float64) Prediction {
	period := 0.0
	if k.period != nil {
		period = float64(k.widest(&r.engine))
	}
	var sin, cos float64
	if period > 0 {
		for m := range c.nodes {
			x := k.number(&r.engine, &c.nodes[m].state).at
			s, co := math.Sincos(2 * math.Pi * x / period)
			sin, cos = sin+c.nodes[m].weight*s, cos+c.nodes[m].weight*co
		}
	}
	round := 0.0
	if period > 0 {
		round = math.Atan2(sin, cos) * period / (2 * math.Pi)
	}
	short := func(x float64) float64 {
		if period > 0 {
			return round + float64(timing.WrapSigned(timing.Deg(x-round), timing.Deg(period)))
		}
		return x
	}
	mean, square := 0.0, 0.0
	for m := range c.nodes {
		x := k.number(&r.engine, &c.nodes[m].state)
		at, w := short(x.at), c.nodes[m].weight/all
		mean += w * at
		square += w * (at*at + x.sd*x.sd)
	}
	p := Prediction{Kind: k.Name, SD: math.Sqrt(max(square-mean*mean, 0))}
	if period > 0 {
		mean = float64(timing.WrapSigned(timing.Deg(mean), timing.Deg(period)))
	}
	if k.Unit != "°" || p.SD <= widest {
		p.Number = &mean
	}
	return p
}
