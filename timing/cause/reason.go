package cause

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
