package cause

import (
	"math"
	"slices"

	"pinphase/timing"
)

// Reason is what one piece of evidence does for a cause: by itself it makes the
// cause Factor times as probable against all others as it was. Above 1 it speaks
// for the cause, below 1 against it.
type Reason struct {
	Evidence int // which, from 0
	Kind     string
	Factor   float64
}

// Reasons returns what each piece of evidence does for a cause, each taken by
// itself, in the order in which the evidence was given. Factors of pieces that
// hang together do not multiply to the whole. The other causes are single faults:
// what pairs say is near what their parts say.
func (r *Ranking) Reasons(c *Cause) []Reason {
	list := make([]Reason, len(r.given))
	for i, s := range r.given {
		of := 0.0
		if len(c.of) > 1 {
			of = r.alone(c, s)
		}
		others, prior := 0.0, 0.0
		for k := range r.Causes {
			o := &r.Causes[k]
			switch {
			case len(o.of) > 1:
			case o.of[0] == c.of[0] && len(c.of) == 1:
				of = r.singles[i][o.of[0]]
			default:
				others, prior = others+o.Prior*r.singles[i][o.of[0]], prior+o.Prior
			}
		}
		list[i] = Reason{i, s.kind.Name, 1}
		if prior > 0 && others > 0 {
			list[i].Factor = of / (others / prior)
		}
	}
	return list
}

// single works out how probable each piece of evidence is by itself under each
// single fault.
func (r *Ranking) single() {
	r.singles = make([][]float64, len(r.given))
	for i, s := range r.given {
		r.singles[i] = make([]float64, len(faults))
		for k := range r.Causes {
			if c := &r.Causes[k]; len(c.of) == 1 {
				r.singles[i][c.of[0]] = r.alone(c, s)
			}
		}
	}
}

// alone is how probable one piece of evidence is under a cause.
func (r *Ranking) alone(c *Cause, s seen) float64 {
	if s.kind.parts {
		p := 1.0
		for _, f := range c.Faults {
			p *= s.factor(f)
		}
		return p
	}
	in := integrator{e: &r.engine, seen: []seen{s}}
	p := 0.0
	in.visit(c.of, func(share float64, st *State) { p += share * s.likelihood(&r.engine, st) })
	return p
}

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
	all := 0.0
	if len(c.nodes) == 0 { // as good as ruled out: what it would be, without the evidence
		c = &Cause{of: c.of}
		in := integrator{e: &r.engine}
		in.visit(c.of, func(share float64, s *State) { c.nodes = append(c.nodes, node{share, *s}) })
	}
	for _, n := range c.nodes {
		all += n.weight
	}
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

// widest is how far, as a standard deviation, a predicted angle may be off to be
// worth telling.
const widest = 30.0

// number is the mean of a prediction and its spread; of an angle, round the angle
// that the nodes lie nearest to, so that a mean of 359 and 1 is 0.
func (r *Ranking) number(c *Cause, k *Kind, all float64) Prediction {
	period := 0.0
	if k.period != nil {
		period = float64(k.period(&r.engine))
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

// State returns the state that is most probable if the cause holds, of a cause
// that is not ruled out.
func (c Cause) State() (State, bool) {
	if len(c.nodes) == 0 {
		return State{}, false
	}
	best := c.nodes[0]
	for _, n := range c.nodes {
		if n.weight > best.weight {
			best = n
		}
	}
	return best.state, true
}

// Clash is evidence that nothing explains together.
type Clash struct {
	Evidence []int // which pieces, from 0: two, or one that nothing explains
}

// hard is how much less probable than at best a piece of evidence may be and
// still be called explained.
const hard = 0.03

// Clash returns the two pieces of evidence that go together worst, where no cause
// that is left explains all that was seen but by a misreading; nil where one does.
func (r *Ranking) Clash() *Clash {
	n := len(r.seen)
	if n == 0 {
		return nil
	}
	if c := r.twice(); c != nil {
		return c
	}
	// How well the best state explains each pair together: by its worse one.
	pair := make([]float64, n*n)
	fits := make([]float64, n)
	for i := range r.Causes {
		for _, node := range r.Causes[i].nodes {
			worst := 1.0
			for k := range r.seen {
				fits[k] = r.seen[k].likelihood(&r.engine, &node.state) / r.most[k]
				worst = min(worst, fits[k])
			}
			if worst >= hard {
				return nil
			}
			if n > 40 { // nobody can be told which two of so many
				continue
			}
			for a := range n {
				for b := a; b < n; b++ {
					pair[a*n+b] = max(pair[a*n+b], min(fits[a], fits[b]))
				}
			}
		}
	}
	if n > 40 {
		return &Clash{}
	}
	least, of := math.Inf(1), [2]int{}
	for a := range n {
		for b := a; b < n; b++ {
			if pair[a*n+b] < least-1e-12 {
				least, of = pair[a*n+b], [2]int{a, b}
			}
		}
	}
	switch {
	case least >= hard: // only three or more of them clash
		return &Clash{}
	case of[0] == of[1]:
		return &Clash{[]int{r.from[of[0]]}}
	}
	return &Clash{[]int{r.from[of[0]], r.from[of[1]]}}
}

// twice finds a kind that was given twice with values that differ by more than
// four of their standard deviations, or in their word.
func (r *Ranking) twice() *Clash {
	for a := range r.seen {
		for b := range a {
			s, o := &r.seen[a], &r.seen[b]
			if s.kind != o.kind {
				continue
			}
			apart := s.word != o.word && s.kind.Name != "fault_code" // several codes may be set
			if s.kind.Value == Number {
				apart = s.off(o.at) > 4*math.Hypot(s.u, o.u)
			}
			if apart {
				of := []int{r.from[b], r.from[a]}
				slices.Sort(of)
				return &Clash{of}
			}
		}
	}
	return nil
}
