package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/trace/follow"
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
// way to lay the wheel on them is nearly as good. ways are those as good, by how many
// positions they are further, where as many teeth are lost and none is too many; nil where
// another is nearly as good.
func (r *reading) damage() (lost, added []int, single bool, ways []int) {
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
	others := false
	for turned := 1; turned < n; turned++ {
		misses, more, same := 0, 0, true
		for k := range there {
			job := !w.IsMissing((k+turned)%n + 1)
			same = same && job == !w.IsMissing(k+1)
			if job != there[k] {
				misses++
				if there[k] {
					more++
				}
			}
		}
		if same || misses >= own+2 {
			continue
		}
		single = false
		if misses == own && more == 0 {
			ways = append(ways, turned)
		} else {
			others = true
		}
	}
	if others {
		ways = nil
	}
	return lost, added, single, ways
}

// mostBroken teeth of a wheel are taken for broken; more make it another wheel.
func mostBroken(w wheel.Crank) int { return max(w.Teeth()/15, 1) }

// mend allows for broken teeth: they are taken out of the wheel and the edges followed
// anew. It returns them; fits is false where the wheel is not the job's.
func (r *reading) mend() (broken []int, fits bool) {
	lost, added, single, ways := r.damage()
	switch {
	case len(lost)+len(added) == 0:
		return nil, true
	case len(added) > 0 || len(lost) > mostBroken(r.wheel):
		return nil, false
	}
	r.lost = lost
	if !single && len(ways) == 0 {
		return nil, false
	}
	w := r.without(lost)
	// A gap beside the wheel's own makes a longer one; one next but one is what the slope
	// between an inductive sensor's teeth makes of a longer one. Both are of another wheel.
	if slices.ContainsFunc(ways, func(by int) bool { return min(by, w.Positions-by) <= 2 }) {
		return nil, false
	}
	if known := r.wheel; w.Repeats() > known.Repeats() { // evenly spaced gaps are made so
		return nil, false
	}
	r.follow(w)
	r.ways = ways
	return lost, true
}

// without is the job's wheel less teeth that are lost.
func (r *reading) without(lost []int) wheel.Crank {
	w := r.wheel
	w.Missing = slices.Concat(w.Missing, lost)
	slices.Sort(w.Missing)
	return w
}

// WheelReading is one way to read the crank wheel, where more than one explains the edges.
type WheelReading struct {
	Wheel       Pattern
	Broken      []int // of the job's teeth; nil: another wheel
	Probability float64
}

// How much less often than a sound wheel of the job's, as negative logarithms: a tooth is
// broken in one of 200, a wheel is another than the job says in one of 50, and then one of
// twenty. Our assumption.
const (
	brokenTooth = 5.3 // and which of the teeth it is
	otherWheel  = 6.9
	slipCost    = 2.0 // of each tooth lost or edge too many that one reading leaves and the other does not
)

// leastSlips is how many teeth lost and edges too many the way of a wheel along the one slope
// or the other has.
func leastSlips(w wheel.Crank, slopes ...[]edges.Edge) int {
	least := math.MaxInt32
	for _, list := range slopes {
		if p := follow.Follow(list, w); p.Turns(w.Positions) >= leastTurns {
			least = min(least, len(p.Slips))
		}
	}
	return least
}

// readings are the job's wheel with broken teeth and another wheel, where both explain the
// edges; none where only the other one does.
func (r *reading) readings(strange reading) []WheelReading {
	if len(r.lost) == 0 || strange.channel != r.channel {
		return nil
	}
	w := r.without(r.lost)
	// The speed's changes count otherwise in a wheel that turns twice as fast: only slips tell.
	slips := leastSlips(w, r.list, r.other) - leastSlips(strange.found.crank(), r.list, r.other)
	chance := logistic(slipCost*float64(slips) + float64(len(r.lost))*(brokenTooth+math.Log(float64(r.wheel.Teeth()))) - otherWheel)
	if 1-chance < leastOpen {
		return nil
	}
	return []WheelReading{{Wheel: strange.found, Probability: chance}, {Wheel: Pattern{w.Positions, r.wheel.Missing}, Broken: r.lost, Probability: 1 - chance}}
}

// untold takes back what stands on the wheel's place, where a broken tooth leaves a gap
// like the wheel's own: which of them that is, nothing recorded tells. The least correlation
// error does not, for a large one is what is looked for.
func (a *Analysis) untold(parity []float64) {
	a.fault(Fault{Kind: BrokenSomewhere})
	a.Correlation, a.HalfTurn = nil, nil
	for i := range parity {
		parity[i] = math.NaN()
	}
}
