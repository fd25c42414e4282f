package cause

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pinphase/timing"
)

// Next is a check that could be made next and what it is expected to tell.
type Next struct {
	Check    Check
	Bits     float64 // expected information on which fault is the main one
	Outcomes []Outcome
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

// outcome is a cell of a check's results: one word of each word kind, and a bin of
// the number or of both.
type outcome struct {
	words []int
	bin   int // -1: no number was read
}

// table is a check's outcomes, with how probable each is under each cause.
type table struct {
	wordKinds []*Kind
	numbers   []*scale
	outcomes  []outcome
	faults    []string    // what the check is to tell apart: the main fault of each cause
	prior     []float64   // of each
	given     [][]float64 // of each, of each outcome
	flats     map[int]float64
}

// expect works out what a check is expected to tell.
func (r *Ranking) expect(c Check, groups []group) Next {
	t := r.table(c, groups)
	return Next{Check: c, Bits: Information(t.prior, t.given), Outcomes: t.means()}
}

// Below this a cause is left out of what a check is expected to tell.
const tiny = 2e-4

func (r *Ranking) table(c Check, groups []group) table {
	t := table{flats: map[int]float64{}}
	for _, name := range c.Kinds {
		k, _ := KindNamed(name)
		switch {
		case r.known(name):
		case k.Value == Number:
			t.numbers = append(t.numbers, newScale(k, &r.engine))
		default:
			t.wordKinds = append(t.wordKinds, k)
		}
	}
	t.list()
	for _, g := range groups {
		total := make([]float64, len(t.outcomes))
		for i := range g.nodes {
			t.fill(&r.engine, &g.nodes[i].state, g.nodes[i].weight, total)
		}
		t.level(total)
		t.faults, t.prior, t.given = append(t.faults, g.fault), append(t.prior, g.prior), append(t.given, total)
	}
	return t
}

// group is all causes with the same main fault: how probable they are together,
// and nodes that stand for them, with weights that add up to 1.
type group struct {
	fault string
	prior float64
	nodes []node
}

// groups are what the checks are to tell apart.
func (r *Ranking) groups() []group {
	var list []group
	main := r.mains()
	sum := 0.0
	for i := range r.Causes {
		c := &r.Causes[i]
		if c.Probability < tiny || len(c.nodes) == 0 {
			continue
		}
		g := slices.IndexFunc(list, func(g group) bool { return g.fault == main[i] })
		if g < 0 {
			g, list = len(list), append(list, group{fault: main[i]})
		}
		list[g].prior += c.Probability
		sum += c.Probability
		for _, n := range c.few() {
			list[g].nodes = append(list[g].nodes, node{c.Probability * n.weight, n.state})
		}
	}
	for g := range list {
		for i := range list[g].nodes {
			list[g].nodes[i].weight /= list[g].prior
		}
		list[g].prior /= sum
	}
	return list
}

// mains returns the main fault of each cause: of two that are wrong at once the
// one that is the more probable to be there at all. It is the one to find first;
// what a check tells about a second fault beside it is worth nothing yet.
func (r *Ranking) mains() []string {
	single := map[string]float64{}
	for _, c := range r.Causes {
		for _, f := range c.Faults {
			single[f] += c.Probability
		}
	}
	list := make([]string, len(r.Causes))
	for i, c := range r.Causes {
		list[i] = c.Faults[0]
		if last := c.Faults[len(c.Faults)-1]; single[last] > single[list[i]] {
			list[i] = last
		}
	}
	return list
}

// So many nodes stand for a cause when it is asked what a check would show.
const (
	fewSingle = 400
	fewPair   = 120
)

// few are nodes that stand for all of a cause's, with weights that add up to 1:
// where there are too many, every so many'th share.
func (c *Cause) few() []node {
	most := fewSingle
	if len(c.of) > 1 {
		most = fewPair
	}
	all := 0.0
	for _, n := range c.nodes {
		all += n.weight
	}
	var list []node
	if len(c.nodes) <= most {
		for _, n := range c.nodes {
			list = append(list, node{n.weight / all, n.state})
		}
		return list
	}
	share := all / float64(most)
	sum, next := 0.0, share/2
	for _, n := range c.nodes {
		taken := 0
		for sum += n.weight; next < sum && len(list)+taken < most; next += share {
			taken++
		}
		if taken > 0 {
			list = append(list, node{float64(taken) / float64(most), n.state})
		}
	}
	return list
}

// list makes the outcomes: every combination of words, and of each with every bin
// of every number.
func (t *table) list() {
	cells := []outcome{{}}
	for _, k := range t.wordKinds {
		var more []outcome
		for _, c := range cells {
			for w := range max(len(k.Words), 2) {
				more = append(more, outcome{append(slices.Clone(c.words), w), -1})
			}
		}
		cells = more
	}
	bins := 1
	for _, s := range t.numbers {
		bins *= s.n
	}
	for _, c := range cells {
		if len(t.numbers) == 0 || t.silent(c.words) {
			c.bin = -1
			t.outcomes = append(t.outcomes, c)
			continue
		}
		for b := range bins {
			t.outcomes = append(t.outcomes, outcome{c.words, b})
		}
	}
}

// silent tells whether the words say that a signal is not there, and no angle can
// be taken from the recording.
func (t *table) silent(words []int) bool {
	for i, w := range words {
		s := seen{kind: t.wordKinds[i], word: w}
		if s.silent() {
			return true
		}
	}
	return false
}

// fill adds how probable each outcome is in a state, times weight, to total.
func (t *table) fill(e *Engine, s *State, weight float64, total []float64) {
	for _, sc := range t.numbers {
		sc.spread(e, s)
	}
	for o := 0; o < len(t.outcomes); {
		p := weight
		for i, w := range t.outcomes[o].words {
			k := t.wordKinds[i]
			p *= (1-k.Misread)*k.word(e, s, w) + k.Misread/float64(max(len(k.Words), 2))
		}
		switch {
		case t.outcomes[o].bin < 0:
			total[o] += p
			o++
		case len(t.numbers) == 1:
			s := t.numbers[0]
			for _, b := range s.bells {
				total[o+b.bin] += p * b.p
			}
			t.flats[o] += p * s.flat
			o += s.n
		default:
			a, c := t.numbers[0], t.numbers[1]
			row := a.dense()
			for j, q := range c.dense() {
				for i, v := range row {
					total[o+j*a.n+i] += p * q * v
				}
			}
			o += a.n * c.n
		}
	}
}

// level adds what misreadings put into every bin alike.
func (t *table) level(total []float64) {
	for o, p := range t.flats {
		for b := range t.numbers[0].n {
			total[o+b] += p
		}
	}
	clear(t.flats)
}

// scale cuts a number into bins.
type scale struct {
	kind   *Kind
	lo     float64
	width  float64
	n      int
	period bool
	flat   float64 // a misreading's share of each bin
	bells  []share // the rest, in the state looked at last
}

// Numbers are cut into bins of the width of a usual reading's uncertainty, but
// not more than so many.
const mostBins = 720

func newScale(k *Kind, e *Engine) *scale {
	s := &scale{kind: k, lo: k.Min}
	span := k.Max - k.Min
	width := math.Max(k.U, 1)
	switch {
	case k.Whole:
		s.lo, span, width = -4.5, 9, 1 // further out counts as the last
	case k.period != nil:
		span = float64(k.period(e))
		s.lo, s.period = -span/2, true
		if span > float64(timing.Turn) {
			s.lo = -span / 3 // half a cycle out is in one piece then
		}
	case k.Unit == "bar" && k.Max > 100:
		span, width = 3*e.RailBar, 0.05*e.RailBar
	case k.Unit == "bar":
		span, width = 3*e.CompressionBar, 0.03*e.CompressionBar
	case k.Unit == "rpm":
		span, width = 2*e.CrankingRPM, 0.04*e.CrankingRPM
	}
	s.n = max(min(int(math.Round(span/width)), mostBins), 1)
	s.width = span / float64(s.n)
	s.flat = k.Misread / float64(s.n)
	return s
}

// spread puts how probable each bin is in a state into the bells and the flat
// rest.
func (s *scale) spread(e *Engine, st *State) {
	x := s.kind.number(e, st)
	sd := math.Max(math.Hypot(x.sd, s.kind.U), s.width/2)
	if s.kind.Whole {
		sd = math.Hypot(x.sd, s.kind.U)
	}
	middle := (x.at - s.lo) / s.width
	reach := int(math.Ceil(5 * sd / s.width))
	first := int(math.Floor(middle)) - reach
	s.bells = s.bells[:0]
	sum := 0.0
	for i := first; i <= first+2*reach+1; i++ {
		k := min(max(i, 0), s.n-1)
		if s.period {
			k = ((i % s.n) + s.n) % s.n
		}
		z := (float64(i) + 0.5 - middle) * s.width / sd
		p := math.Exp(-z * z / 2)
		s.bells = append(s.bells, share{k, p})
		sum += p
	}
	for i := range s.bells {
		s.bells[i].p *= (1 - s.kind.Misread) / sum
	}
}

// share is the probability of one bin.
type share struct {
	bin int
	p   float64
}

// dense is how probable every bin is.
func (s *scale) dense() []float64 {
	row := make([]float64, s.n)
	for i := range row {
		row[i] = s.flat
	}
	for _, b := range s.bells {
		row[b.bin] += b.p
	}
	return row
}

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
