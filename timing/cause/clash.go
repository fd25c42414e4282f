package cause

import (
	"math"
	"slices"
)

// Clash is evidence that does not go together.
type Clash struct {
	Evidence []int // which pieces, from 0: two, or one that nothing explains; none when it takes more
}

const (
	// hard is how much less probable than at best a piece of evidence may be in a
	// state and still be called explained by it.
	hard = 0.04
	// overlooked is the same for a part that was looked at: one in fourteen faults is not
	// seen, which is not rare, and yet who finds all parts right that could be wrong is to
	// look or to measure again.
	overlooked = 0.1
	// doubtful is how probable it may become that all that was seen is explained,
	// before something is taken to have been misread.
	doubtful = 0.2
	// conflict is by how many bits pieces of evidence must be less probable together
	// than they would be if they had nothing to do with each other.
	conflict = 1.0
)

// Clash returns evidence that does not go together: two readings of one kind that
// differ, one piece that nothing explains, or two of which one is probably misread.
// It is nil where what is probable explains all that was seen.
//
// What is probable may leave a piece unexplained because its cause is rare, too.
// That is no contradiction: pieces contradict each other when they are less probable
// together than apart, log P(a)P(b)/P(ab) > 0 (Jensen, Chamberlain, Nordahl, Jensen,
// Analysis in HUGIN of data conflict, 1990; from memory).
func (r *Ranking) Clash() *Clash {
	if len(r.seen) == 0 {
		return nil
	}
	if c := r.twice(); c != nil {
		return c
	}
	for k := range r.seen {
		if r.stray(k) {
			return &Clash{[]int{r.from[k]}}
		}
	}
	all, each := r.explained()
	if all >= doubtful || r.pairExplains() {
		return nil
	}
	worst := 0
	for k := range each {
		if each[k] < each[worst] {
			worst = k
		}
	}
	most, with := math.Inf(-1), -1
	for k := range r.seen {
		if k == worst {
			continue
		}
		if c := r.conflict(worst, k); c > most {
			most, with = c, k
		}
	}
	switch {
	case most >= conflict:
		of := []int{r.from[worst], r.from[with]}
		slices.Sort(of)
		return &Clash{of}
	case r.conflict(r.order...) >= conflict: // only three or more of them clash
		return &Clash{}
	}
	return nil
}

// stray tells whether even the best state comes to a number only by a misreading.
func (r *Ranking) stray(k int) bool {
	s := &r.seen[k]
	return s.kind.Value == Number && r.most[k] < 2*s.kind.Misread*s.flat
}

// explained returns how probable the states are that explain all that was seen, and
// those that explain each piece of it.
func (r *Ranking) explained() (all float64, each []float64) {
	each = make([]float64, len(r.seen))
	for i := range r.Causes {
		for _, n := range r.Causes[i].nodes {
			every := true
			for k := range r.seen {
				if r.explains(&n.state, k) {
					each[k] += n.weight
				} else {
					every = false
				}
			}
			if every {
				all += n.weight
			}
		}
	}
	return all, each
}

// explains tells whether a piece of evidence is what a state shows.
func (r *Ranking) explains(s *State, k int) bool {
	least := hard
	if r.seen[k].kind.look {
		least = overlooked
	}
	return r.seen[k].likelihood(&r.engine, s) >= least*r.most[k]
}

// listedPair is how probable a pair of faults must be to count as an explanation of
// what no single fault explains.
const listedPair = 0.1

// pairExplains tells whether a pair of faults that is probable enough to be listed
// explains all that was seen: two mistakes are no contradiction.
func (r *Ranking) pairExplains() bool {
	return slices.ContainsFunc(r.Causes, func(c Cause) bool {
		return len(c.of) > 1 && c.Probability >= listedPair && slices.ContainsFunc(c.nodes, func(n node) bool {
			for k := range r.seen {
				if !r.explains(&n.state, k) {
					return false
				}
			}
			return true
		})
	})
}

// conflict returns by how many bits pieces of what was seen are less probable
// together than apart, if one thing is wrong.
func (r *Ranking) conflict(of ...int) float64 {
	var list []seen
	for _, k := range of {
		list = append(list, r.seen[k])
	}
	in := integrator{e: &r.engine, seen: list}
	prior, together := 0.0, 0.0
	apart := make([]float64, len(of))
	for i := range r.Causes {
		c := &r.Causes[i]
		if len(c.of) > 1 {
			continue
		}
		prior += c.Prior
		in.visit(c.of, func(share float64, s *State) {
			p := c.Prior * share
			for k := range list {
				l := list[k].likelihood(&r.engine, s) / r.most[of[k]]
				apart[k] += c.Prior * share * l
				p *= l
			}
			together += p
		})
	}
	bits := -math.Log2(together / prior)
	for _, p := range apart {
		bits += math.Log2(p / prior)
	}
	return bits
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
				return &Clash{[]int{r.from[b], r.from[a]}}
			}
		}
	}
	return nil
}
