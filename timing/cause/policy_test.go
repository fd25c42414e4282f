package cause

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// played is a simulated job whose checks have all been made beforehand: who asks
// for one is told result.
type played struct {
	bench    *bench
	told     []Evidence
	results  [][]Evidence // of each check
	faultOf  []int        // of each node of every single fault
	prior    []float64    // of each node, after what the customer said
	outcomes [][]float64  // of each check: the likelihood of result, at each node
}

var alone = 0.0 // no pairs: these jobs have one fault each

func play(t *testing.T, seed uint64) *played {
	r := rand.New(rand.NewPCG(seed, 31))
	var names []string
	for names = drawn(r); len(names) > 1; {
		names = drawn(r)
	}
	p := &played{bench: newBench(r, names...)}
	p.told = p.bench.complaint()
	all := slices.Clone(p.told)
	for _, c := range checks {
		p.results = append(p.results, p.bench.check(c.Name))
		all = append(all, p.results[len(p.results)-1]...)
	}
	e := p.bench.e.withDefaults()
	ready := func(list []Evidence) []seen {
		var out []seen
		for _, ev := range list {
			s, err := ev.ready(&e)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, s)
		}
		return out
	}
	in := integrator{e: &e, seen: ready(all)} // fine wherever anything will be seen
	told := ready(p.told)
	shown := make([][]seen, len(checks))
	for i := range checks {
		shown[i] = ready(p.results[i])
	}
	p.outcomes = make([][]float64, len(checks))
	like := func(list []seen, s *State) float64 {
		l := 1.0
		for i := range list {
			l *= list[i].likelihood(&e, s)
		}
		return l
	}
	for f := range faults {
		in.visit([]int{f}, func(share float64, s *State) {
			p.faultOf = append(p.faultOf, f)
			p.prior = append(p.prior, faults[f].Prior*share*like(told, s))
			for i := range checks {
				p.outcomes[i] = append(p.outcomes[i], like(shown[i], s))
			}
		})
	}
	return p
}

// minutes is what a fixed order of checks takes until one fault is sure enough.
func (p *played) minutes(order []int) (minutes float64, found string) {
	w := slices.Clone(p.prior)
	of := make([]float64, len(faults))
	for step := -1; ; step++ {
		clear(of)
		sum := 0.0
		for n, f := range p.faultOf {
			if step >= 0 {
				w[n] *= p.outcomes[order[step]][n]
			}
			of[f] += w[n]
			sum += w[n]
		}
		best := 0
		for f := range of {
			if of[f] > of[best] {
				best = f
			}
		}
		if of[best] >= Sure*sum || step == len(order)-1 {
			return minutes, faults[best].Name
		}
		minutes += checks[order[step+1]].Minutes
	}
}

// follow does what the program proposes, step by step.
func (p *played) follow(t *testing.T) (minutes float64, found string) {
	evidence := slices.Clone(p.told)
	made := make([]bool, len(checks))
	for {
		r, err := Rank(p.bench.e, evidence, Options{PairShare: &alone})
		if err != nil {
			t.Fatal(err)
		}
		name, q := r.Leading()
		next, err := r.Next()
		if err != nil {
			t.Fatal(err)
		}
		// Where nothing is proposed any more and nothing is sure, all the rest is made,
		// as in a fixed order.
		i := slices.Index(made, false)
		for _, n := range next {
			if k := slices.IndexFunc(checks, func(c Check) bool { return c.Name == n.Check.Name }); k >= 0 && !made[k] { // a reading is not taken again here
				i = k
				break
			}
		}
		if q >= Sure || i < 0 {
			return minutes, name
		}
		made[i] = true
		minutes += checks[i].Minutes
		evidence = append(evidence, p.results[i]...)
	}
}

// Following the proposed checks takes fewer minutes over these jobs than any fixed
// order of checks that was found for them: the obvious ones, random ones, and the
// best of those bettered swap by swap with the very jobs it is then judged by.
func TestProposedChecksBeatFixedOrders(t *testing.T) {
	jobs, tries := 40, 200
	if *regen {
		jobs, tries = 200, 1500
	}
	var list []*played
	var minutes float64
	right := 0
	for i := range jobs {
		p := play(t, uint64(i))
		m, found := p.follow(t)
		minutes += m
		if p.bench.bad[found] {
			right++
		}
		list = append(list, p)
	}
	cost := func(order []int) (sum float64, right int) {
		for _, p := range list {
			m, found := p.minutes(order)
			if sum += m; p.bench.bad[found] {
				right++
			}
		}
		return sum, right
	}
	start, err := Rank(Engine{}, []Evidence{{Kind: "starts", Value: false}}, Options{PairShare: &alone})
	if err != nil {
		t.Fatal(err)
	}
	bits := make([]float64, len(checks))
	for i, c := range checks {
		bits[i] = start.expect(c, start.groups()).Bits
	}
	order := func(key func(i int) float64) []int {
		o := make([]int, len(checks))
		for i := range o {
			o[i] = i
		}
		slices.SortStableFunc(o, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
		return o
	}
	var b strings.Builder
	per := float64(jobs)
	fmt.Fprintf(&b, "%d jobs, mean minutes until one fault is at least %g sure, or all checks are made\n", jobs, Sure)
	fmt.Fprintf(&b, "%-46s %6.0f  right in %d\n", "proposed, step by step", minutes/per, right)
	best, least := []int(nil), 1e18
	try := func(name string, o []int) {
		m, right := cost(o)
		if name != "" {
			fmt.Fprintf(&b, "%-46s %6.0f  right in %d\n", name, m/per, right)
		}
		if m < least {
			best, least = slices.Clone(o), m
		}
	}
	try("as listed", order(func(i int) float64 { return float64(i) }))
	try("cheapest first", order(func(i int) float64 { return checks[i].Minutes }))
	try("most telling first", order(func(i int) float64 { return -bits[i] }))
	try("most telling in a minute first", order(func(i int) float64 { return -bits[i] / checks[i].Minutes }))
	r := rand.New(rand.NewPCG(1, 2))
	for range tries / 4 {
		try("", r.Perm(len(checks)))
	}
	for range tries {
		o := slices.Clone(best)
		i, k := r.IntN(len(o)), r.IntN(len(o))
		if r.IntN(2) == 0 {
			o[i], o[k] = o[k], o[i]
		} else { // put one elsewhere
			v := o[i]
			o = slices.Insert(slices.Delete(o, i, i+1), k, v)
		}
		try("", o)
	}
	try(fmt.Sprintf("best of %d orders, bettered on these jobs", tries+tries/4+4), best)
	keep(t, "minutes.txt", b.String())
	if minutes >= least {
		t.Errorf("the proposed checks take %.0f minutes, a fixed order %.0f\n%s", minutes/per, least/per, &b)
	}
}
