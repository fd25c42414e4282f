package cause

import (
	"cmp"
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Next is a check that could be made next and what it is expected to tell.
type Next struct {
	Check    Check
	Bits     float64   // expected information on which fault is the main one
	Outcomes []Outcome // the most probable first
	Rest     float64   // how probable it is that none of them comes; they and this add up to 1
}

// PerMinute is the expected information over the labour.
func (n Next) PerMinute() float64 { return n.Bits / n.Check.Minutes }

// Worth is what the checks are ordered by: the square of the expected information over
// the labour (M. Tan, Cost-sensitive learning of classification knowledge, Machine
// Learning 13, 1993; from memory). By information over labour itself a row of quick looks
// that hardly ever tell anything stands before the long one that will; over the simulated
// jobs of the tests that took a twentieth longer.
func (n Next) Worth() float64 { return n.Bits * n.Bits / n.Check.Minutes }

// Outcome is what a check may show and what that would mean.
type Outcome struct {
	Values      []Found
	Probability float64 // of this outcome
	Fault       string  // the most probable main fault then
	Then        float64 // how probable it is then
}

// Found is one value in an outcome: a word, yes or no, or a band of numbers.
type Found struct {
	Kind     string
	Word     string
	From, To float64 // of a number
	Likely   float64 // its mean there
	Other    bool    // any number between From and To that no other outcome names; Likely is then the most probable
}

// Next returns the checks that have not been made, the one of most
// [Next.Worth] first. What tells less than a hundredth of a bit is left out.
func (r *Ranking) Next() ([]Next, error) {
	if err := r.opts.minutes(); err != nil {
		return nil, err
	}
	var list []Next
	groups := r.groups()
	for _, c := range checks {
		if r.made(c) {
			continue
		}
		if n := r.expect(r.asNow(c), groups); n.Bits >= leastBits {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(a, b Next) int { return cmp.Compare(b.Worth(), a.Worth()) })
	if n, ok := r.again(groups); ok {
		list = append([]Next{n}, list...)
	}
	return list, nil
}

// leastBits is what a check must be expected to tell to be proposed.
const leastBits = 0.01

// asNow is a check as it is today: with the reader's own minutes, or fewer where
// what it opens is open already, and with the cautions that what was seen so far
// asks for.
func (r *Ranking) asNow(c Check) Check {
	if m, ok := r.opts.Minutes[c.Name]; ok {
		c.Minutes = m
	} else if c.once > 0 && r.open(c.opens) {
		c.Minutes = c.once
	}
	if slices.Contains(c.Cautions, Cranking) {
		var first []Caution
		if r.ValvesMayMeet() {
			first = append(first, ValvesMayMeet)
		}
		if slices.ContainsFunc(r.seen, func(s seen) bool { return s.kind.Name == "kicks_back" && s.word == 1 }) {
			first = append(first, KicksBack)
		}
		c.Cautions = append(first, c.Cautions...)
	}
	return c
}

// open tells whether what was seen shows that damper or front is off. With the front
// open the damper is off too.
func (r *Ranking) open(what string) bool {
	return slices.ContainsFunc(checks, func(c Check) bool {
		return (c.opens == what || c.opens == "front" && what == "damper") && slices.ContainsFunc(c.Kinds, func(kind string) bool {
			return slices.ContainsFunc(r.seen, func(s seen) bool { return s.kind.Name == kind })
		})
	})
}

// From how far off valve timing is called dangerous, in crank degrees, and from which
// probability of that on. Common practice, no source: two to three teeth of most gears.
const (
	meetsFrom = timing.Deg(20)
	meetsRisk = 0.05
)

// ValvesMayMeet tells whether valve timing may, by what was seen, be off so far that
// the valves meet the pistons.
func (r *Ranking) ValvesMayMeet() bool {
	if len(r.seen) == 0 {
		return false
	}
	risk := 0.0
	for _, c := range r.Causes {
		for i := range c.nodes {
			if v := timing.WrapSigned(c.nodes[i].state.valveError(&r.engine), r.engine.cycle()); v > meetsFrom || v < -meetsFrom {
				risk += c.nodes[i].weight
			}
		}
	}
	return risk >= meetsRisk
}

// again is the doubtful reading taken once more, of those that contradict one another
// the one that is quickest to repeat: only that tells which of them was misread.
func (r *Ranking) again(groups []group) (Next, bool) {
	if len(r.most) != len(r.seen) { // what a plan reckons with is not doubtful
		return Next{}, false
	}
	k := r.Clash()
	if k == nil {
		return Next{}, false
	}
	var best Next
	for i, from := range r.from {
		if !slices.Contains(k.Evidence, from) && len(k.Evidence) > 0 {
			continue
		}
		for _, c := range checks {
			if !slices.Contains(c.Kinds, r.seen[i].kind.Name) {
				continue
			}
			if c = r.asNow(c); best.Check.Name != "" && c.Minutes >= best.Check.Minutes {
				continue
			}
			c.Name, c.Title, c.Kinds = again, againTitle, []string{r.seen[i].kind.Name}
			best = Next{Check: c}
		}
	}
	if best.Check.Name == "" {
		return Next{}, false
	}
	anew := *r // as if it had not been looked at: a second reading counts by itself
	anew.seen = slices.DeleteFunc(slices.Clone(r.seen), func(s seen) bool { return s.kind.Name == best.Check.Kinds[0] })
	n := anew.expect(best.Check, groups)
	return n, n.Bits > 0
}

// minutes says which of the reader's own minutes cannot be.
func (o Options) minutes() error {
	for name, m := range o.Minutes {
		if !slices.ContainsFunc(checks, func(c Check) bool { return c.Name == name }) {
			return phrase.Errorf("there is no check %q", name)
		}
		if !(m > 0) || math.IsInf(m, 0) {
			return phrase.Errorf("the minutes of %q are %g; they must be above 0", name, m)
		}
	}
	return nil
}

// made tells whether every kind that a check brings was seen.
func (r *Ranking) made(c Check) bool {
	for _, kind := range c.Kinds {
		if !r.known(kind) {
			return false
		}
	}
	return true
}

// known tells whether a kind was seen, or cannot be: where a signal is not there
// no angle can be read from it.
func (r *Ranking) known(kind string) bool {
	return r.lost(kind) || slices.ContainsFunc(r.seen, func(s seen) bool { return s.kind.Name == kind })
}

func (r *Ranking) lost(kind string) bool {
	return kind == "correlation_error_deg" && slices.ContainsFunc(r.seen, func(s seen) bool { return s.silent() })
}

// silent tells whether it is a signal that is not there.
func (s *seen) silent() bool {
	return s.kind.Name == "crank_signal" && s.word == signalNone || s.kind.Name == "cam_signal" && s.word == len(s.kind.Words)-1
}
