package follow

import "pinphase.org/pinphase/timing/wheel"

// steps are the ways from each position that has a tooth to the next, in positions; 0
// where there is no tooth.
type steps struct {
	next     []int
	furthest int // that several lost teeth make
}

func stepsOf(c wheel.Crank) steps {
	s := steps{next: make([]int, c.Positions)}
	gone := make([]bool, c.Positions)
	for _, m := range c.Missing {
		gone[m-1] = true
	}
	longest := 0
	for p := range s.next {
		if gone[p] {
			continue
		}
		n := 1
		for gone[(p+n)%c.Positions] {
			n++
		}
		s.next[p] = n
		longest = max(longest, n)
	}
	s.furthest = longest + 2*mostLost
	return s
}

// after is the way from the tooth at a place to the next.
func (s steps) after(place int) int {
	n := len(s.next)
	return s.next[(place%n+n)%n]
}

// Longest is the longest way from a tooth of a wheel to the next, in positions.
func Longest(c wheel.Crank) int {
	longest := 0
	for _, n := range stepsOf(c).next {
		longest = max(longest, n)
	}
	return longest
}
