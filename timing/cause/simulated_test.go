package cause

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

var (
	regen = flag.Bool("regen", false, "work the tables in testdata out again, from many more jobs: takes minutes")
	show  = flag.Bool("show", false, "print the tables of the simulated jobs")
)

// alike gives every fault the same prior.
func alike() map[string]float64 {
	p := map[string]float64{}
	for _, f := range faults {
		p[f.Name] = 1 / float64(len(faults))
	}
	return p
}

// Simulated jobs, the same number of each fault: how often the true cause is the one that
// the head names, which is the most probable alone or with another, when every check was
// made, and when one in ten was left out.
func TestTrueCauseIsRankedFirst(t *testing.T) {
	each := 2
	if *regen {
		each = 40
	}
	var b strings.Builder
	count := func(names []string, made float64) (right int) {
		for _, name := range names {
			for i := range each {
				r := rand.New(rand.NewPCG(uint64(i), 17))
				bench := newBench(r, name)
				evidence := bench.complaint()
				for _, c := range checks {
					if shows := bench.check(c.Name); r.Float64() < made {
						evidence = append(evidence, shows...)
					}
				}
				k, err := Rank(bench.e, evidence, Options{Priors: alike()})
				if err != nil {
					t.Fatal(err)
				}
				if leading, _ := k.Leading(); leading == name {
					right++
				}
			}
		}
		return right
	}
	fmt.Fprintf(&b, "%-40s %12s %18s\n", "named first in", "all checks", "nine of ten made")
	all, most := 0, 0
	for _, f := range faults {
		a := count([]string{f.Name}, 1)
		all += a
		if !*regen {
			continue
		}
		m := count([]string{f.Name}, 0.9)
		most += m
		fmt.Fprintf(&b, "%-40s %4d of %4d %10d of %4d\n", f.Name, a, each, m, each)
	}
	of := each * len(faults)
	fmt.Fprintf(&b, "%-40s %4d of %4d %10d of %4d\n", "all", all, of, most, of)
	keep(t, "ranked-first.txt", b.String())
	if 10*all < 9*of {
		t.Errorf("the true cause is first in %d of %d\n%s", all, of, &b)
	}
}

// keep shows a table and, asked to, writes it to testdata.
func keep(t *testing.T, name, text string) {
	t.Helper()
	if *show {
		fmt.Print(text)
	}
	if *regen {
		if err := os.WriteFile("testdata/"+name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// drawn is a cause drawn from the priors, of one fault or two.
func drawn(r *rand.Rand) []string {
	one := func() string {
		x := r.Float64()
		for _, f := range faults {
			if x -= f.Prior; x < 0 {
				return f.Name
			}
		}
		return faults[0].Name
	}
	if r.Float64() >= PairShare {
		return []string{one()}
	}
	for {
		a, b := one(), one()
		fa, fb := find(a), find(b)
		if a != b && fa.part != "all" && fb.part != "all" && fa.part != fb.part {
			return []string{a, b}
		}
	}
}

func find(name string) Fault {
	for _, f := range faults {
		if f.Name == name {
			return f
		}
	}
	panic(name)
}

// Reliability: over jobs whose causes come as often as the priors say, with some of
// the checks made, a probability of p must come true in p of the cases. Every
// fault of every job counts: how probable it was said to be there, and whether it
// was.
func TestProbabilitiesAreCalibrated(t *testing.T) {
	jobs := 60
	if *regen {
		jobs = 1500
	}
	edges := []float64{0, 0.01, 0.03, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97, 1.000001}
	said, came, count := make([]float64, len(edges)), make([]float64, len(edges)), make([]float64, len(edges))
	brier, base := 0.0, 0.0
	for i := range jobs {
		r := rand.New(rand.NewPCG(uint64(i), 23))
		names := drawn(r)
		bench := newBench(r, names...)
		evidence := bench.complaint()
		share := 0.15 + 0.5*r.Float64()
		for _, c := range checks {
			if r.Float64() < share {
				evidence = append(evidence, bench.check(c.Name)...)
			}
		}
		k, err := Rank(bench.e, evidence, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults {
			p := min(k.Single(f.Name), 1)
			bin := 0
			for p >= edges[bin+1] {
				bin++
			}
			is := 0.0
			if bench.bad[f.Name] {
				is = 1
			}
			said[bin], came[bin], count[bin] = said[bin]+p, came[bin]+is, count[bin]+1
			brier += (p - is) * (p - is)
			base += (f.Prior - is) * (f.Prior - is)
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%d simulated jobs, %d faults each\n%12s %8s %10s %10s %8s\n", jobs, len(faults), "said to be", "cases", "mean said", "came true", "off, sd")
	for i := range len(edges) - 1 {
		if count[i] == 0 {
			continue
		}
		n, p, f := count[i], said[i]/count[i], came[i]/count[i]
		sd := math.Sqrt(max(p*(1-p), 1e-6) / n)
		off := (f - p) / sd
		fmt.Fprintf(&b, "%5.2f - %4.2f %8.0f %10.4f %10.4f %8.1f\n", edges[i], min(edges[i+1], 1), n, p, f, off)
		if math.Abs(f-p) > slack(p, n) {
			t.Errorf("said %.3f, came true %.3f in %.0f cases", p, f, n)
		}
	}
	fmt.Fprintf(&b, "Brier score %.4f, of the priors alone %.4f\n", brier/float64(jobs), base/float64(jobs))
	keep(t, "reliability.txt", b.String())
	if brier > 0.75*base {
		t.Errorf("Brier score %.4f, of the priors alone %.4f", brier/float64(jobs), base/float64(jobs))
	}
}

// slack is how far what was said in n cases may be from what came true. The jobs
// are not made by the model, so a few hundredths may be out beyond chance.
func slack(said, n float64) float64 {
	return 3.5*math.Sqrt(max(said*(1-said), 1e-6)/n) + 0.05
}

// The tables kept from many more jobs than a usual run makes say what they must.
func TestKeptTables(t *testing.T) {
	read := func(name string) string {
		text, err := os.ReadFile("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	var right, all int
	ranked := strings.TrimSpace(read("ranked-first.txt"))
	if _, err := fmt.Sscanf(ranked[strings.LastIndex(ranked, "\n")+1:], "all %d of %d", &right, &all); err != nil || all < 500 || 10*right < 9*all {
		t.Errorf("the true cause is first in %d of %d (%v)", right, all, err)
	}
	for line := range strings.Lines(read("reliability.txt")) {
		var lo, hi, n, said, came float64
		if _, err := fmt.Sscanf(line, "%f - %f %f %f %f", &lo, &hi, &n, &said, &came); err != nil {
			continue
		}
		if math.Abs(said-came) > slack(said, n) {
			t.Errorf("said %g, came true %g in %g cases", said, came, n)
		}
	}
	minutes := strings.Split(read("minutes.txt"), "\n")[1:]
	var proposed, fixed float64
	for i, line := range minutes {
		m := &fixed
		if i == 0 {
			m = &proposed
		}
		if len(line) < 54 {
			continue
		}
		if _, err := fmt.Sscanf(line[46:], "%f", m); err != nil || i > 0 && fixed <= proposed {
			t.Errorf("%q beside %g minutes (%v)", line, proposed, err)
		}
	}
}
