package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// CamTooth is a cam tooth as it was seen: where it passes in the controller's
// angle, over one cycle, averaged over the recording.
type CamTooth struct {
	Tooth    int // of the job's wheel, from 1; 0: not one of them
	At       float64
	Scatter  float64 // standard deviation of one passing
	Seen     int     // cycles in which it was seen
	Late     float64 // after where the job's wheel puts it; of known teeth
	Expected float64
}

// camMatch is what the cam's edges come to.
type camMatch struct {
	teeth     []CamTooth
	cycles    float64
	late      float64 // mean, wrapped into half the way either way after which the crank wheel looks the same
	u         float64
	sampling  float64 // part of u: what the time between samples adds
	told      float64 // part of u: what the passings themselves tell, without what is taken of all sensors alike
	shift     float64 // what must be added to a run's angle to make it the controller's in the whole cycle: as many of those ways
	fit       float64 // root mean square by which the teeth miss the wheel after the mean is taken off
	matched   int
	ambiguous bool // another way to lay the teeth on the wheel fits as well, and the crank wheel looks otherwise there
	eitherWay bool // another way fits as well where the crank wheel looks the same: those places cannot be told apart
}

// Limits of matching, by trial.
const (
	clusterGap   = 4.0 // crank degrees between passings that are of different teeth
	matchReach   = 3.0 // how far a tooth may lie from where the wheel has it
	leastShare   = 0.5 // of the cycles a tooth must be seen in
	camFloorU    = 0.1 // crank degrees; sensors switch not quite at the tooth's mark. Our assumption
	wheelFloorU  = 0.08
	scatterLimit = 4.0 // a tooth that scatters more is no tooth
)

// camTeeth gathers edges by where they pass in the cycle.
func camTeeth(k clock, edges []float64, cycle float64) (teeth []CamTooth, cycles float64) {
	if len(k.angle) < 2 {
		return nil, 0
	}
	cycles = (k.angle[len(k.angle)-1] - k.angle[0]) / cycle
	var at []float64
	for _, t := range edges {
		if a, ok := k.at(t); ok {
			at = append(at, float64(timing.Wrap(timing.Deg(a), timing.Deg(cycle))))
		}
	}
	if len(at) == 0 {
		return nil, cycles
	}
	slices.Sort(at)
	// Begin the circle in its widest empty stretch.
	begin, widest := 0, at[0]+cycle-at[len(at)-1]
	for i := 1; i < len(at); i++ {
		if d := at[i] - at[i-1]; d > widest {
			begin, widest = i, d
		}
	}
	around := append(slices.Clone(at[begin:]), at[:begin]...)
	for i := len(at) - begin; i < len(around); i++ {
		around[i] += cycle
	}
	from := 0
	for i := 1; i <= len(around); i++ {
		if i < len(around) && around[i]-around[i-1] < clusterGap {
			continue
		}
		group := around[from:i]
		from = i
		middle := group[len(group)/2]
		if float64(len(group)) < leastShare*k.passes(middle, cycle) {
			continue
		}
		var kept []float64
		for _, a := range group {
			if math.Abs(a-middle) < clusterGap/2 {
				kept = append(kept, a)
			}
		}
		m, s := meanAndDeviation(kept)
		if s > scatterLimit {
			continue
		}
		teeth = append(teeth, CamTooth{At: float64(timing.Wrap(timing.Deg(m), timing.Deg(cycle))), Scatter: s, Seen: len(kept)})
	}
	slices.SortFunc(teeth, func(a, b CamTooth) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	return teeth, cycles
}

// passes is how often an angle of the cycle comes by.
func (k clock) passes(angle, cycle float64) float64 {
	from, to := k.angle[0], k.angle[len(k.angle)-1]
	return math.Floor((to-angle)/cycle) - math.Ceil((from-angle)/cycle) + 1
}

func meanAndDeviation(v []float64) (mean, deviation float64) {
	for _, x := range v {
		mean += x
	}
	mean /= float64(len(v))
	for _, x := range v {
		deviation += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(deviation / float64(max(len(v)-1, 1)))
}

// leastMixed is how many teeth of the job's cam wheel must be seen where one is not and
// another edge comes in its stead. Our assumption.
const leastMixed = 4

// matchCam lays the seen teeth on the job's wheel in every way there is and keeps
// the way that explains most teeth, of those the one that fits best. ok is false
// when none explains the teeth.
func matchCam(teeth []CamTooth, c wheel.Cam, f frame) (m camMatch, ok bool) {
	fold, reach := f.fold, matchReach+2.5*f.between
	cycle := float64(c.Cycle)
	expected := make([]float64, len(c.Teeth))
	for j := range c.Teeth {
		expected[j] = float64(c.PassesAt(j+1, 0))
	}
	type way struct {
		late, fit float64
		of        []int // of each tooth seen: the wheel's, -1 none
		matched   int
	}
	var ways []way
	for _, seen := range teeth {
		for _, e := range expected {
			w := way{of: make([]int, len(teeth))}
			guess := seen.At - e
			var offs []float64
			for i, s := range teeth {
				w.of[i] = -1
				for j := range expected {
					if d := signed(s.At-expected[j]-guess, cycle); math.Abs(d) < reach {
						w.of[i] = j
						offs = append(offs, d)
						w.matched++
						break
					}
				}
			}
			m, s := meanAndDeviation(offs)
			w.late, w.fit = signed(guess+m, cycle), s
			ways = append(ways, w)
		}
	}
	best := -1
	for i, w := range ways {
		if best < 0 || w.matched > ways[best].matched || w.matched == ways[best].matched && w.fit < ways[best].fit-1e-9 {
			best = i
		}
	}
	if best < 0 {
		return m, false
	}
	b := ways[best]
	m.matched, m.fit = b.matched, b.fit
	m.late = signed(b.late, min(cycle, fold))
	m.shift = m.late - b.late
	if math.Abs(m.shift) < 1 {
		m.shift = 0
	}
	m.teeth = slices.Clone(teeth)
	for i, j := range b.of {
		if j >= 0 {
			m.teeth[i].Tooth, m.teeth[i].Expected = j+1, expected[j]
			m.teeth[i].Late = signed(teeth[i].At-expected[j]-b.late, cycle) + m.late
		}
	}
	for _, w := range ways {
		if w.matched < b.matched || w.fit > max(3*b.fit, 1) {
			continue
		}
		away := signed(w.late-b.late, cycle)
		switch {
		case math.Abs(away) < reach:
		case fold < cycle && math.Abs(signed(away, fold)) < min(reach, fold/5):
			m.eitherWay = true
		default:
			m.ambiguous = true
		}
	}
	// All teeth of the wheel but one, and not more strange ones than known. Where there is
	// both one too few and one too many, a few teeth of another wheel match by chance.
	lost, strange := len(expected)-m.matched, len(teeth)-m.matched
	if lost > 0 && strange > 0 && m.matched < leastMixed {
		return m, false
	}
	return m, lost <= min(1, len(expected)-1) && strange <= m.matched/2
}

// signed wraps into half a cycle either way.
func signed(d, cycle float64) float64 {
	return float64(timing.WrapSigned(timing.Deg(d), timing.Deg(cycle)))
}

// uncertainty settles the match's standard uncertainty: from how far the teeth
// disagree about the mean, from the scatter of the passings, and from what no
// average takes off, that sensors and wheels are not made exactly; level is what comes
// of not knowing exactly at which voltage a tooth passes.
func (m *camMatch) uncertainty(sampleDeg, level float64) {
	var of, single []float64
	for _, t := range m.teeth {
		if t.Tooth > 0 {
			of = append(of, t.Late)
			single = append(single, t.Scatter*t.Scatter/float64(max(t.Seen, 1)))
		}
	}
	n := float64(len(of))
	_, between := meanAndDeviation(of)
	within := 0.0
	for _, s := range single {
		within += s / (n * n)
	}
	cycles := math.Max(m.cycles, 1)
	sampling := sampleDeg * sampleDeg / 12 / (n * cycles)
	few := 1.0
	if n*cycles < 6 {
		few = 1.5 // so few passings do not show how far they scatter
	}
	m.sampling = few * math.Sqrt(sampling)
	m.told = few * math.Sqrt(between*between/n+within+sampling+camFloorU*camFloorU+wheelFloorU*wheelFloorU)
	m.u = few * math.Sqrt(between*between/n+within+sampling+camFloorU*camFloorU+wheelFloorU*wheelFloorU+level*level)
}
