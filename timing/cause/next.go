package cause

import (
	"cmp"
	"fmt"
	"math"
	"slices"
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

// Next returns the checks that have not been made, the one that tells most in a
// minute first. What tells less than a hundredth of a bit is left out.
func (r *Ranking) Next() ([]Next, error) {
	if err := r.opts.minutes(); err != nil {
		return nil, err
	}
	var list []Next
	groups := r.groups()
	for _, c := range checks {
		if m, ok := r.opts.Minutes[c.Name]; ok {
			c.Minutes = m
		}
		if r.made(c) {
			continue
		}
		if n := r.expect(c, groups); n.Bits >= 0.01 {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(a, b Next) int { return cmp.Compare(b.PerMinute(), a.PerMinute()) })
	return list, nil
}

// minutes says which of the reader's own minutes cannot be.
func (o Options) minutes() error {
	for name, m := range o.Minutes {
		if !slices.ContainsFunc(checks, func(c Check) bool { return c.Name == name }) {
			return fmt.Errorf("there is no check %q", name)
		}
		if !(m > 0) || math.IsInf(m, 0) {
			return fmt.Errorf("the minutes of %q are %g; they must be above 0", name, m)
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
