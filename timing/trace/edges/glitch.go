package edges

import "slices"

// Settings of what counts as a glitch: common practice, no source.
const (
	glitchReach   = 16   // pulses to either side that tell how long pulses are here
	glitchHolds   = 2    // of them, the longest, that may be rests of the engine
	glitchShare   = 0.02 // of those that make up most of the time: shorter is no tooth of any wheel
	glitchNarrow  = 0.1  // of three quarters of the pulses of the same level: shorter, and fewer than
	glitchSeldom  = 0.25 // of them as short, is no tooth of this one
	glitchPasses  = 4    //
	leastOfGlitch = 8    // pulses that must be there to tell
)

// Deglitch takes pulses out of changes of level that are too short for a tooth of a wheel:
// shorter than a fiftieth of the pulses round them and a tenth of those of the same level, or,
// where few are so short, than a tenth of most of the same level. It returns what is left and how many pulses went. list
// goes up and down in turn, in order of time.
func Deglitch(list []Edge) (kept []Edge, taken int) {
	kept, taken = without(list, func(t []float64, i int) bool {
		// The one tooth of a cam is short beside its space, and as long as its like.
		return t[i+1]-t[i] < glitchShare*usualPulse(t, i, 1) && t[i+1]-t[i] < glitchNarrow*usualPulse(t, i, 2)
	})
	for range glitchPasses { // what is left shows others
		more := 0
		if kept, more = without(kept, narrow); more == 0 {
			break
		}
		taken += more
	}
	return kept, taken
}

// without takes out the pulses that are told as glitches, the shortest of neighbours first,
// so that one of them does not take its neighbour, a true pulse, with it.
func without(list []Edge, glitch func(t []float64, i int) bool) (kept []Edge, taken int) {
	if len(list) <= leastOfGlitch {
		return list, 0
	}
	t := make([]float64, len(list))
	for i, e := range list {
		t[i] = e.At
	}
	var found []int
	longest := 0.0 // of the pulses round those of this block
	for i := range len(list) - 1 {
		if i%glitchReach == 0 {
			longest = 0
			for k := max(i-glitchReach, 0); k < min(i+2*glitchReach, len(t)-1); k++ {
				longest = max(longest, t[k+1]-t[k])
			}
		}
		if t[i+1]-t[i] < glitchNarrow*longest && glitch(t, i) { // nearly no pulse is looked at closely
			found = append(found, i)
		}
	}
	if len(found) == 0 {
		return list, 0
	}
	slices.SortFunc(found, func(a, b int) int {
		switch x, y := t[a+1]-t[a], t[b+1]-t[b]; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return a - b
	})
	gone := make([]bool, len(list))
	for _, i := range found {
		if !gone[i] && !gone[i+1] {
			gone[i], gone[i+1] = true, true
			taken++
		}
	}
	kept = make([]Edge, 0, len(list)-2*taken)
	for i, e := range list {
		if !gone[i] {
			kept = append(kept, e)
		}
	}
	return kept, taken
}

// usualPulse is how long the pulses round pulse i are, all of them or, with every 2, those of
// its level: those in which half of the time is spent, however many short ones lie between
// them. Rests of the engine are left out.
func usualPulse(t []float64, i, every int) float64 {
	var took []float64
	for k := i - glitchReach; k < min(i+glitchReach+1, len(t)-1); k += every {
		if k >= 0 {
			took = append(took, t[k+1]-t[k])
		}
	}
	if len(took) <= glitchHolds {
		return 0
	}
	slices.Sort(took)
	took = took[:len(took)-glitchHolds]
	half := 0.0
	for _, d := range took {
		half += d / 2
	}
	k := len(took) - 1
	for ; k > 0 && half > took[k]; k-- {
		half -= took[k]
	}
	return took[k]
}

// narrow tells whether pulse i is much shorter than those of its level round it, and few are
// as short.
func narrow(t []float64, i int) bool {
	own := t[i+1] - t[i]
	var same []float64
	alike := 0
	for k := i - 2*(glitchReach/2); k <= i+2*(glitchReach/2); k += 2 {
		if k < 0 || k+1 >= len(t) || k == i {
			continue
		}
		took := t[k+1] - t[k]
		same = append(same, took)
		if took < 3*own {
			alike++
		}
	}
	if len(same) < leastOfGlitch/2 || float64(alike) >= glitchSeldom*float64(len(same)) || regular(t, i) {
		return false
	}
	slices.Sort(same)
	return own < glitchNarrow*same[len(same)/4]
}

// regular tells whether pulses as long as pulse i come after always as many others of its
// level, as the short one of a wheel does: in most cases, and at least twice.
func regular(t []float64, i int) bool {
	own := t[i+1] - t[i]
	count := map[int]int{} // of ways from one to the next
	all, ways, last := 0, 0, -1
	for k := i - 2*glitchReach; k <= i+2*glitchReach && k+1 < len(t); k += 2 {
		if k < 0 {
			continue
		}
		all++
		if took := t[k+1] - t[k]; took < own/3 || took > 3*own {
			continue
		}
		if last >= 0 {
			count[(k-last)/2]++
			ways++
		}
		last = k
	}
	for way, n := range count {
		if n >= 2 && 2*n > ways && 4*(ways+2)*way >= 3*all { // from the window's one end to its other
			return true
		}
	}
	return false
}
