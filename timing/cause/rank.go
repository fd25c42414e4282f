package cause

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"

	"pinphase.org/pinphase/timing/phrase"
)

// Options are the reader's own numbers.
type Options struct {
	Priors    map[string]float64 // of faults by name; the others share what these leave of 1
	Minutes   map[string]float64 // of checks by name
	PairShare *float64           // nil: [PairShare]
}

// Sure is how probable a cause must be to be called sure enough to act on.
const Sure = 0.95

// Cause is one fault or two, and how probable that is.
type Cause struct {
	Faults      []string
	Prior       float64
	Probability float64

	of    []int
	nodes []node // shares of the probability of everything
}

// Name is that of the fault, or of both.
func (c Cause) Name() string { return strings.Join(c.Faults, " and ") }

// Ranking is what the evidence makes of every cause. Probabilities add up to 1.
type Ranking struct {
	Causes []Cause // the most probable first

	engine Engine
	seen   []seen // what was seen
	from   []int  // which piece of evidence each of seen is

	given   []seen      // all of the evidence, with what was replaced
	singles [][]float64 // how probable each of it is by itself under each fault
	opts    Options
	most    []float64 // the largest likelihood of each that was seen
	order   []int     // in which they are weighed
}

// Rank returns how probable each cause is after the evidence. Pieces of evidence
// count as independent readings: what was seen twice in the same way should be
// given once.
func Rank(e Engine, evidence []Evidence, o Options) (*Ranking, error) {
	r := &Ranking{engine: e.withDefaults(), opts: o}
	var replaced []seen
	for i, ev := range evidence {
		s, err := ev.ready(&r.engine)
		if err != nil {
			return nil, phrase.Errorf("evidence %d: %v", i+1, err)
		}
		r.given = append(r.given, s)
		if s.kind.parts {
			replaced = append(replaced, s)
			continue
		}
		r.seen, r.from = append(r.seen, s), append(r.from, i)
	}
	if err := r.hypotheses(); err != nil {
		return nil, err
	}
	r.weigh(replaced)
	r.single()
	return r, nil
}

// hypotheses lists every fault and every pair of faults with its prior.
func (r *Ranking) hypotheses() error {
	w, err := r.opts.priors()
	if err != nil {
		return err
	}
	share := PairShare
	if r.opts.PairShare != nil {
		share = *r.opts.PairShare
	}
	possible := make([]bool, len(faults))
	left := 0.0
	for i := range faults {
		possible[i] = w[i] > 0 && len(faults[i].make(&r.engine, false)) > 0
		if possible[i] {
			left += w[i]
		}
	}
	if left <= 0 {
		return phrase.Errorf("every cause has a prior of 0")
	}
	products := 0.0
	var pairs []Cause
	for i := range faults {
		if !possible[i] {
			continue
		}
		r.Causes = append(r.Causes, Cause{Faults: []string{faults[i].Name}, Prior: w[i] / left, of: []int{i}})
		for k := i + 1; k < len(faults); k++ {
			if !possible[k] || faults[i].part == "all" || faults[i].part == faults[k].part || share <= 0 {
				continue
			}
			pairs = append(pairs, Cause{Faults: []string{faults[i].Name, faults[k].Name},
				Prior: w[i] * w[k], of: []int{i, k}})
			products += w[i] * w[k]
		}
	}
	if products <= 0 {
		return nil
	}
	for i := range r.Causes {
		r.Causes[i].Prior *= 1 - share
	}
	for _, c := range pairs {
		c.Prior *= share / products
		r.Causes = append(r.Causes, c)
	}
	return nil
}

// Check says which of the numbers cannot be.
func (o Options) Check() error {
	if _, err := o.priors(); err != nil {
		return err
	}
	return o.minutes()
}

// priors are the faults' priors with the reader's own put in.
func (o Options) priors() ([]float64, error) {
	w := make([]float64, len(faults))
	given, rest := 0.0, 0.0
	for name, p := range o.Priors {
		if !slices.ContainsFunc(faults, func(f Fault) bool { return f.Name == name }) {
			return nil, phrase.Errorf("there is no cause %q", name)
		}
		if !(p >= 0 && p <= 1) {
			return nil, phrase.Errorf("the prior of %q is %g; it is from 0 to 1", name, p)
		}
		given += p
	}
	if given > 1+1e-9 {
		return nil, phrase.Errorf("the priors given add up to %g, more than 1", given)
	}
	for i, f := range faults {
		p, ok := o.Priors[f.Name]
		if w[i] = p; !ok {
			w[i] = f.Prior
			rest += f.Prior
		}
	}
	for i, f := range faults {
		if _, ok := o.Priors[f.Name]; !ok {
			w[i] *= max(1-given, 0) / rest
		}
	}
	return w, nil
}

// negligible is how much less probable than the best a node is that is not kept
// for the checks, as a logarithm.
const negligible = 18

// A state so much less probable than the best so far, in logarithms, is not
// weighed to the end: a million of them come to a millionth.
const hopeless = 28

// scale finds the largest likelihood that each piece of evidence has under any
// single fault, to measure others by, and puts angles first: they rule most out.
func (r *Ranking) scale(in *integrator) {
	r.most = make([]float64, len(r.seen))
	for i := range r.Causes {
		if len(r.Causes[i].of) > 1 {
			continue
		}
		in.visit(r.Causes[i].of, func(share float64, s *State) {
			for k := range r.seen {
				if l := r.seen[k].likelihood(&r.engine, s); share > 0 && l > r.most[k] {
					r.most[k] = l
				}
			}
		})
	}
	for _, angular := range []bool{true, false} {
		for k := range r.seen {
			if r.seen[k].angular() == angular {
				r.order = append(r.order, k)
			}
		}
	}
}

// weigh turns priors into probabilities: the likelihood of a cause is that of all
// that was seen, summed over the states it can be.
func (r *Ranking) weigh(replaced []seen) {
	in := integrator{e: &r.engine, seen: r.seen}
	r.scale(&in)
	best := math.Inf(-1)
	logs := make([]float64, len(r.Causes))
	for i := range r.Causes {
		c := &r.Causes[i]
		start := math.Log(c.Prior)
		for k := range replaced {
			for _, f := range c.Faults {
				start += math.Log(replaced[k].factor(f))
			}
		}
		most, sum := math.Inf(-1), 0.0
		floor, least := math.Inf(-1), 0.0 // below least times start a node is hopeless
		in.visit(c.of, func(share float64, s *State) {
			if share <= 0 {
				return
			}
			if f := best - hopeless; f != floor {
				floor, least = f, math.Exp(f-start)
			}
			l := r.log(s, start, share, floor, least)
			if math.IsInf(l, -1) {
				return
			}
			if l > most {
				sum, most = sum*math.Exp(most-l)+1, l
			} else {
				sum += math.Exp(l - most)
			}
			if l > best-negligible {
				c.nodes = append(c.nodes, node{l, *s})
				best = max(best, l)
			}
		})
		if logs[i] = math.Inf(-1); sum > 0 {
			logs[i] = most + math.Log(sum)
		}
	}
	all := floats.LogSumExp(logs)
	for i := range r.Causes {
		c := &r.Causes[i]
		c.Probability = math.Exp(logs[i] - all)
		kept := c.nodes[:0]
		sum := 0.0
		for _, n := range c.nodes {
			if n.weight > best-negligible {
				n.weight = math.Exp(n.weight - all)
				kept, sum = append(kept, n), sum+n.weight
			}
		}
		c.nodes = kept
		for k := range c.nodes { // what was left out counts with the rest
			c.nodes[k].weight *= c.Probability / sum
		}
	}
	r.sort()
}

func (r *Ranking) sort() {
	slices.SortStableFunc(r.Causes, func(a, b Cause) int { return cmp.Compare(b.Probability, a.Probability) })
}

// log is the logarithm of a share of start and of the likelihood of all that was
// seen, or -Inf as soon as it cannot come near floor any more: as soon as what is
// multiplied falls below least, which is floor less start as a factor. Each piece
// counts against the largest likelihood it has under a single fault.
func (r *Ranking) log(s *State, start, share, floor, least float64) float64 {
	sum, p := start, share
	if p < least {
		return math.Inf(-1)
	}
	for _, i := range r.order {
		p *= r.seen[i].likelihood(&r.engine, s) / r.most[i] // about 1 at best
		if p < least {
			return math.Inf(-1)
		}
		if p < 1e-200 { // few numbers are smaller
			sum, p = sum+math.Log(p), 1
			least = math.Exp(floor - sum)
		}
	}
	return sum + math.Log(p)
}

// Find returns the cause of a name, nil when there is none.
func (r *Ranking) Find(name string) *Cause {
	for i := range r.Causes {
		if r.Causes[i].Name() == name {
			return &r.Causes[i]
		}
	}
	return nil
}

// Single returns how probable it is that a fault is there, alone or with another.
func (r *Ranking) Single(fault string) float64 {
	p := 0.0
	for _, c := range r.Causes {
		if slices.Contains(c.Faults, fault) {
			p += c.Probability
		}
	}
	return min(p, 1) // sums of many shares may pass 1 by a hair
}

// Pair returns the most probable cause where it is two faults at once and more
// probable than not; nil where it is not.
func (r *Ranking) Pair() *Cause {
	if c := &r.Causes[0]; len(c.of) > 1 && c.Probability > 0.5 {
		return c
	}
	return nil
}
