package cause

import (
	"slices"

	"gonum.org/v1/gonum/floats"
)

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
	n := Next{Check: c, Bits: Information(t.prior, t.given)}
	n.Outcomes, n.Rest = t.means()
	return n
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
				floats.AddScaled(total[o+j*a.n:][:a.n], p*q, row)
			}
			o += a.n * c.n
		}
	}
}

// level adds what misreadings put into every bin alike.
func (t *table) level(total []float64) {
	for o, p := range t.flats {
		floats.AddConst(p, total[o:o+t.numbers[0].n])
	}
	clear(t.flats)
}
