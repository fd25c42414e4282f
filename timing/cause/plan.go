package cause

import "math"

// Step is one step of a plan: the check to make, and what the plan then reckons
// with, its most probable outcome.
type Step struct {
	Next
	Expects Outcome
	Fault   string  // the most probable after that outcome
	Then    float64 // how probable it is then that this fault is there
}

// Plan returns the checks to make one after the other, each the one that tells
// most for its minutes after the most probable outcome of those before it. It ends
// when one fault is sure enough, when nothing more can be told, or after so many
// steps. Whoever finds something else asks again with what he found.
func (r *Ranking) Plan(steps int) ([]Step, error) {
	next, err := r.Next()
	if err != nil {
		return nil, err
	}
	return r.PlanFrom(next, steps)
}

// PlanFrom is [Ranking.Plan] for who has what [Ranking.Next] returned.
func (r *Ranking) PlanFrom(next []Next, steps int) ([]Step, error) {
	var plan []Step
	for now := r; len(plan) < steps; {
		if _, p := now.Leading(); p >= Sure || len(next) == 0 || len(next[0].Outcomes) == 0 {
			break
		}
		first, most := next[0], next[0].Outcomes[0]
		var err error
		if now, err = now.with(most.evidence()); err != nil {
			return nil, err
		}
		name, p := now.Leading()
		plan = append(plan, Step{first, most, name, p})
		if len(plan) == steps || p >= Sure {
			break
		}
		if next, err = now.Next(); err != nil {
			return nil, err
		}
	}
	return plan, nil
}

// Leading returns the fault that is most probably there, alone or with another.
func (r *Ranking) Leading() (string, float64) {
	best, most := "", -1.0
	for _, f := range faults {
		if p := r.Single(f.Name); p > most {
			best, most = f.Name, p
		}
	}
	return best, most
}

// evidence is an outcome as if it had been seen, a number at the mean of its band.
func (o Outcome) evidence() []Evidence {
	var list []Evidence
	for _, f := range o.Values {
		k, _ := KindNamed(f.Kind)
		ev := Evidence{Kind: f.Kind}
		switch k.Value {
		case Word:
			ev.Value = f.Word
		case YesNo:
			ev.Value = f.Word == "yes"
		default:
			ev.Value = likely(k, f)
		}
		list = append(list, ev)
	}
	return list
}

// with returns the ranking with more evidence. It starts from the nodes there
// are, which is near enough for a plan.
func (r *Ranking) with(more []Evidence) (*Ranking, error) {
	n := &Ranking{engine: r.engine, opts: r.opts, seen: r.seen[:len(r.seen):len(r.seen)]}
	fresh := len(n.seen)
	for _, ev := range more {
		s, err := ev.ready(&n.engine)
		if err != nil {
			return nil, err
		}
		n.seen, n.from = append(n.seen, s), append(n.from, len(n.seen))
	}
	all := 0.0
	for _, c := range r.Causes {
		nodes := make([]node, 0, len(c.nodes))
		c.Probability = 0
		for _, old := range c.nodes {
			for i := fresh; i < len(n.seen); i++ {
				old.weight *= n.seen[i].likelihood(&n.engine, &old.state)
			}
			nodes = append(nodes, old)
			c.Probability += old.weight
		}
		c.nodes = nodes
		all += c.Probability
		n.Causes = append(n.Causes, c)
	}
	for i := range n.Causes {
		n.Causes[i].Probability /= all
		for k := range n.Causes[i].nodes {
			n.Causes[i].nodes[k].weight /= all
		}
	}
	n.sort()
	return n, nil
}

func likely(k *Kind, f Found) float64 {
	m := min(max(f.Likely, k.Min), k.Max)
	if k.Whole {
		return math.Round(m)
	}
	return m
}
