package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing/wheel"
)

// Shares of the turns, by trial.
const (
	brokenShare = 0.6 // in which a tooth is lost that is broken
	leastPasses = 2
)

// presence is how often each position of a wheel showed a tooth, and how often not;
// both also where the wheel has none.
type presence struct{ seen, not []int }

// presenceOf counts along the way a reading took.
func presenceOf(r *reading) presence {
	n := r.wheel.Positions
	p := presence{make([]int, n), make([]int, n)}
	turn := func(place int) int { return (place%n + n) % n }
	slip := 0
	for _, run := range r.path.Runs {
		for i, at := range run.At {
			p.seen[turn(at)]++
			if i == 0 {
				continue
			}
			before := run.At[i-1]
			between := make([]bool, at-before)
			for ; slip < len(r.path.Slips) && r.path.Slips[slip].Time < run.Time[i]; slip++ {
				s := r.path.Slips[slip]
				if share := (s.Time - run.Time[i-1]) / (run.Time[i] - run.Time[i-1]) * float64(at-before); s.Extra && share > 0 {
					if k := int(math.Round(share)); math.Abs(share-float64(k)) < 0.25 && k > 0 && k < at-before {
						between[k] = true
					}
				}
			}
			for k := 1; k < at-before; k++ {
				if between[k] {
					p.seen[turn(before+k)]++
				} else {
					p.not[turn(before+k)]++
				}
			}
		}
	}
	return p
}

// damage compares the teeth that a way through the job's wheel shows with the wheel:
// teeth that are lost in most turns, and ones that are there too many. single: no other
// way to lay the wheel on them is nearly as good.
func (r *reading) damage() (lost, added []int, single bool) {
	w := r.wheel
	n := w.Positions
	p := presenceOf(r)
	there := make([]bool, n)
	for k := range there {
		passes := p.seen[k] + p.not[k]
		there[k] = !w.IsMissing(k + 1)
		switch share := float64(p.not[k]) / float64(max(passes, 1)); {
		case passes < leastPasses:
		case there[k] && share > brokenShare:
			lost, there[k] = append(lost, k+1), false
		case !there[k] && share < 1-brokenShare:
			added, there[k] = append(added, k+1), true
		}
	}
	own := len(lost) + len(added)
	single = true
	for turned := 1; turned < n; turned++ {
		misses, same := 0, true
		for k := range there {
			job := !w.IsMissing((k+turned)%n + 1)
			same = same && job == !w.IsMissing(k+1)
			if job != there[k] {
				misses++
			}
		}
		if !same && misses < own+2 {
			single = false
		}
	}
	return lost, added, single
}

// mostBroken teeth of a wheel are taken for broken; more make it another wheel.
func mostBroken(w wheel.Crank) int { return max(w.Teeth()/15, 1) }

// mend allows for broken teeth: they are taken out of the wheel and the edges followed
// anew. It returns them; fits is false where the wheel is not the job's.
func (r *reading) mend() (broken []int, fits bool) {
	lost, added, single := r.damage()
	switch {
	case len(lost)+len(added) == 0:
		return nil, true
	case len(added) > 0 || len(lost) > mostBroken(r.wheel) || !single:
		return nil, false
	}
	w := r.wheel
	w.Missing = slices.Concat(w.Missing, lost)
	slices.Sort(w.Missing)
	r.follow(w)
	return lost, true
}
