package cause

import (
	"cmp"
	"slices"
)

// means groups a check's cells by what they would mean: words as they are,
// numbers in bands with the same leading fault.
func (t table) means() []Outcome {
	var list []Outcome
	var bands []band
	post := make([]float64, len(t.faults))
	for o, cell := range t.outcomes {
		all, best := 0.0, 0
		for h := range t.faults {
			post[h] = t.prior[h] * t.given[h][o]
			all += post[h]
			if post[h] > post[best] {
				best = h
			}
		}
		last := len(list) - 1
		if last >= 0 && len(t.numbers) == 1 && cell.bin > 0 && list[last].Fault == t.faults[best] {
			bands[last].add(all, post)
			continue
		}
		list = append(list, Outcome{Values: t.found(cell), Fault: t.faults[best]})
		bands = append(bands, band{first: cell.bin, sums: make([]float64, len(t.faults))})
		bands[last+1].add(all, post)
	}
	for i := range list {
		all := bands[i].all()
		list[i].Probability = all
		if all > 0 {
			list[i].Then = slices.Max(bands[i].sums) / all
		}
		if len(t.numbers) == 1 && bands[i].first >= 0 {
			bands[i].trim(t.numbers[0], &list[i].Values[len(list[i].Values)-1])
		}
	}
	list = slices.DeleteFunc(list, func(o Outcome) bool { return o.Probability < 0.01 })
	slices.SortStableFunc(list, func(a, b Outcome) int { return cmp.Compare(b.Probability, a.Probability) })
	return list[:min(len(list), 8)]
}

// band is a run of bins that mean the same.
type band struct {
	first int
	mass  []float64 // of each bin
	sums  []float64 // of each fault
}

func (b *band) add(all float64, post []float64) {
	b.mass = append(b.mass, all)
	for h := range post {
		b.sums[h] += post[h]
	}
}

func (b band) all() float64 {
	sum := 0.0
	for _, m := range b.mass {
		sum += m
	}
	return sum
}

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

// found says what a cell's words and number are.
func (t table) found(c outcome) []Found {
	var list []Found
	for i, w := range c.words {
		k := t.wordKinds[i]
		word := [...]string{"no", "yes"}[min(w, 1)]
		if k.Value == Word {
			word = k.Words[w]
		}
		list = append(list, Found{Kind: k.Name, Word: word})
	}
	if c.bin >= 0 {
		b := c.bin
		for _, s := range t.numbers {
			lo := s.lo + float64(b%s.n)*s.width
			list = append(list, Found{Kind: s.kind.Name, From: lo, To: lo + s.width, Likely: lo + s.width/2})
			b /= s.n
		}
	}
	return list
}
