package cause

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// An outcome is listed when it is at least so probable, and at most so many are. So
// many bands of numbers have an outcome of their own: there may be two signals more
// with words of their own.
const (
	leastOutcome = 0.01
	mostOutcomes = 8
	mostBands    = mostOutcomes - 3
)

// means groups a check's cells by what they would mean: words as they are,
// numbers in bands with the same leading fault. It returns the most probable
// outcomes, and how probable it is that the check shows none of them.
func (t table) means() (list []Outcome, rest float64) {
	for _, b := range others(t.bands()) {
		p := b.all()
		rest += p
		if p < leastOutcome {
			continue
		}
		best := b.best()
		list = append(list, Outcome{Values: t.found(b), Probability: p, Fault: t.faults[best], Then: b.sums[best] / p})
	}
	slices.SortStableFunc(list, func(a, b Outcome) int { return cmp.Compare(b.Probability, a.Probability) })
	list = list[:min(len(list), mostOutcomes)]
	for _, o := range list {
		rest -= o.Probability
	}
	return list, max(rest, 0)
}

// band is what a check may show that means one thing: its words, and a run of bins
// of its number.
type band struct {
	words []int
	first int       // bin; -1: no number was read
	mass  []float64 // of each bin
	sums  []float64 // of each fault
	other bool      // any number that has no band of its own
}

// bands puts the check's cells together, in the order of their words, then of
// their numbers.
func (t table) bands() []band {
	var list []band
	post := make([]float64, len(t.faults))
	for o, cell := range t.outcomes {
		for h := range t.faults {
			post[h] = t.prior[h] * t.given[h][o]
		}
		last := len(list) - 1
		if last < 0 || len(t.numbers) != 1 || cell.bin <= 0 || floats.MaxIdx(post) != list[last].best() {
			list = append(list, band{words: cell.words, first: cell.bin, sums: make([]float64, len(t.faults))})
			last++
		}
		list[last].add(post)
	}
	return list
}

// others puts bands together that have the same words and are not among the most
// probable. Bands may alternate (each pitch of the wheel speaks for a wheel of
// another part number, what lies between for a slipped one): then none is worth
// naming, and yet together they are most of what is to be expected.
func others(list []band) []band {
	var p []float64
	for _, b := range list {
		if b.first >= 0 {
			p = append(p, b.all())
		}
	}
	least := leastOutcome
	if len(p) > mostBands {
		slices.Sort(p)
		least = max(least, p[len(p)-mostBands])
	}
	var kept []band
	other := -1
	for i, b := range list {
		if i > 0 && !slices.Equal(b.words, list[i-1].words) {
			other = -1
		}
		if b.first < 0 || b.all() >= least {
			kept = append(kept, b)
			continue
		}
		if other < 0 {
			other = len(kept)
			kept = append(kept, band{words: b.words, first: b.first, sums: make([]float64, len(b.sums)), other: true})
		}
		k := &kept[other]
		gap := b.first - k.first - len(k.mass) // bins that have a band of their own
		k.mass = append(append(k.mass, make([]float64, gap)...), b.mass...)
		floats.Add(k.sums, b.sums)
	}
	return kept
}

func (b *band) add(post []float64) {
	floats.Add(b.sums, post)
	b.mass = append(b.mass, floats.Sum(post))
}

func (b band) all() float64 { return floats.Sum(b.mass) }

// best is the most probable fault.
func (b band) best() int { return floats.MaxIdx(b.sums) }

// trim says where in a band a number really is to be expected: without the last two
// hundredths at either end.
func (b band) trim(s *scale, f *Found) {
	all, sum := b.all(), 0.0
	from, to := 0, len(b.mass)-1
	f.Likely = 0
	for i, m := range b.mass {
		at := s.lo + (float64(b.first+i)+0.5)*s.width
		f.Likely += at * m / all
		if sum+m <= 0.02*all {
			from = i + 1
		}
		if sum < 0.98*all {
			to = i
		}
		sum += m
	}
	f.From, f.To = s.lo+float64(b.first+from)*s.width, s.lo+float64(b.first+to+1)*s.width
}

// found says what a band's words and numbers are.
func (t table) found(b band) []Found {
	var list []Found
	for i, w := range b.words {
		k := t.wordKinds[i]
		word := [...]string{"no", "yes"}[min(w, 1)]
		if k.Value == Word {
			word = k.Words[w]
		}
		list = append(list, Found{Kind: k.Name, Word: word})
	}
	if b.first < 0 {
		return list
	}
	bin := b.first
	if b.other { // the middle of its most probable bin stands for all
		bin += floats.MaxIdx(b.mass)
	}
	for _, s := range t.numbers {
		lo := s.lo + float64(bin%s.n)*s.width
		f := Found{Kind: s.kind.Name, From: lo, To: lo + s.width, Likely: lo + s.width/2, Other: b.other}
		switch {
		case len(t.numbers) > 1 && b.other:
			f.From, f.To = s.lo, s.lo+float64(s.n)*s.width
		case len(t.numbers) == 1:
			likely := f.Likely
			if b.trim(s, &f); b.other {
				f.Likely = likely
			}
		}
		list = append(list, f)
		bin /= s.n
	}
	return list
}
