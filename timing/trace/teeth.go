package trace

import (
	"fmt"
	"math"
	"slices"

	"pinphase.org/pinphase/timing/wheel"
)

// pitchReach is how many intervals to either side tell the local pitch: enough to
// outvote a gap, few enough to follow the speed through a compression.
const pitchReach = 3

// pitches returns, for each interval between successive edges, the local time of
// one position: the median of the intervals round it. A wheel has more teeth than
// gaps, so the median is that of one pitch.
func pitches(t []float64) []float64 {
	n := len(t) - 1
	if n < 1 {
		return nil
	}
	list := make([]float64, n)
	var near []float64
	for i := range n {
		near = near[:0]
		for k := max(i-pitchReach, 0); k <= min(i+pitchReach, n-1); k++ {
			near = append(near, t[k+1]-t[k])
		}
		slices.Sort(near)
		m := len(near)
		if m%2 == 1 {
			list[i] = near[m/2]
		} else {
			list[i] = math.Sqrt(near[m/2-1] * near[m/2])
		}
	}
	return list
}

// Pattern is a crank wheel as a recording shows it.
type Pattern struct {
	Positions int
	Missing   []int // numbered like a job's: position 1 is the first tooth after the longest gap
}

// mostKinds of gaps a wheel has, by their lengths.
const mostKinds = 2

// likely tells whether such a wheel is made: of fewer teeth than missing positions, or of gaps of
// many lengths, it is far more often a wheel without them, whose speed rises and falls between
// two teeth, again and again. Common practice, no source.
func (p Pattern) likely() bool {
	kinds := map[int]bool{}
	n := 0
	for i, m := range p.Missing {
		if n++; i+1 == len(p.Missing) || p.Missing[i+1] != m+1 {
			kinds[n], n = true, 0
		}
	}
	return 2*len(p.Missing) <= p.Positions && len(kinds) <= mostKinds
}

// gaps is how many gaps there are.
func (p Pattern) gaps() int {
	n := 0
	for i, m := range p.Missing {
		if i == 0 || p.Missing[i-1] != m-1 {
			n++
		}
	}
	return n
}

// crank is the wheel; where its first tooth passes is not known.
func (p Pattern) crank() wheel.Crank { return wheel.Crank{Positions: p.Positions, Missing: p.Missing} }

// pattern finds a wheel in edges that pass it, without knowing the wheel: how many
// positions lie between gaps of one kind, again and again, and which of them never
// show a tooth. support is the share of positions over the recording that agree; 0
// when no gap repeats.
func pattern(t []float64) (p Pattern, support float64) {
	pitch := pitches(t)
	if len(pitch) == 0 {
		return Pattern{}, 0
	}
	at := make([]int, len(t)) // positions since the first edge
	var gaps [][2]int         // position of the tooth after it, and its length
	for i, steps := range stepsBetween(t, pitch) {
		at[i+1] = at[i] + steps
		if steps > 1 {
			gaps = append(gaps, [2]int{at[i+1], steps})
		}
	}
	if len(gaps) < 2 {
		return Pattern{}, 0
	}
	round := period(gaps)
	if round < 2 {
		return Pattern{}, 0
	}
	return rounds(gaps, round, at[len(at)-1]-at[0])
}

// stepsBetween counts the positions of each interval: by the local pitch first,
// then, the neighbours' being known, by those next to it, which follow the speed
// more closely.
func stepsBetween(t, pitch []float64) []int {
	steps := make([]int, len(pitch))
	count := func(i int, one float64) int {
		n := max(int(math.Round((t[i+1]-t[i])/one)), 1)
		if n > maxGap {
			return 1 // the engine stood still
		}
		return n
	}
	for i, one := range pitch {
		steps[i] = count(i, one)
	}
	first := slices.Clone(steps)
	for i := 2; i+2 < len(pitch); i++ { // two to either side: those beside a gap may be pulled
		sum := math.Log((t[i]-t[i-2])/float64(first[i-1]+first[i-2])) + math.Log((t[i+3]-t[i+1])/float64(first[i+1]+first[i+2]))
		steps[i] = count(i, math.Exp(sum/2))
	}
	return steps
}

// maxGap is the longest gap a wheel may have, in positions; beyond it the engine
// has stopped.
const maxGap = 13

// period returns after how many positions the gaps repeat: of the ways from a gap
// to the next few of its own kind, the shortest that most gaps agree with.
func period(gaps [][2]int) (positions int) {
	count := map[int]int{}
	most := 0
	for i, g := range gaps {
		for k := i + 1; k < len(gaps) && k <= i+24; k++ {
			if d := gaps[k][0] - g[0]; gaps[k][1] == g[1] && d <= maxPositions {
				count[d]++
				most = max(most, count[d])
			}
		}
	}
	for d, n := range count {
		if 4*n >= 3*most && (positions == 0 || d < positions) {
			positions = d
		}
	}
	return positions
}

// leastRounds of a wheel must be seen, all alike, to take it for one that nobody named.
const leastRounds = 2

// maxPositions is the finest wheel that is looked for.
const maxPositions = 720

// rounds reads the wheel off: the gaps that follow a gap of the longest kind
// within a round, in the way that comes most often. total is how many positions
// have passed in all.
func rounds(gaps [][2]int, round, total int) (Pattern, float64) {
	ways := map[string]int{}
	wheels := map[string]Pattern{}
	for i, g := range gaps {
		p := Pattern{Positions: round}
		closed := false
		longest := g[1]
		for _, next := range gaps[i+1:] {
			d := next[0] - g[0]
			if d > round {
				break
			}
			for k := d - next[1] + 1; k < d; k++ {
				p.Missing = append(p.Missing, k+1)
			}
			longest = max(longest, next[1])
			closed = d == round && next[1] == g[1]
		}
		if !closed || longest > g[1] {
			continue
		}
		name := fmt.Sprint(p.Missing)
		ways[name]++
		wheels[name] = p
	}
	best := ""
	for name, n := range ways {
		if n > ways[best] || n == ways[best] && name < best {
			best = name
		}
	}
	if ways[best] < leastRounds {
		return Pattern{}, 0
	}
	return wheels[best], min(float64(ways[best]*round)/float64(max(total-round, round)), 1)
}

// repeated is the pattern as often as it fits into so many positions.
func (p Pattern) repeated(positions int) Pattern {
	if p.Positions < 1 || positions%p.Positions != 0 {
		return p
	}
	r := Pattern{Positions: positions}
	for from := 0; from < positions; from += p.Positions {
		for _, m := range p.Missing {
			r.Missing = append(r.Missing, from+m)
		}
	}
	return r
}

// turned tells whether two patterns are the same wheel counted from different
// teeth, or, mirrored, the same wheel turned over. A wheel that looks the same several times
// in a turn is found as one of them.
func (p Pattern) turned(c wheel.Crank, mirrored bool) bool {
	if c.Repeats() > 1 {
		p = p.repeated(c.Positions)
	}
	if p.Positions != c.Positions || len(p.Missing) != len(c.Missing) {
		return false
	}
	gone := map[int]bool{}
	for _, m := range p.Missing {
		gone[m-1] = true
	}
	n := c.Positions
	for shift := range n {
		same := true
		for _, m := range c.Missing {
			k := m - 1
			if mirrored {
				k = n - 1 - k
			}
			if !gone[(k+shift)%n] {
				same = false
				break
			}
		}
		if same {
			return true
		}
	}
	return false
}
