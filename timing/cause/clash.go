package cause

import (
	"math"
	"slices"
)

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
