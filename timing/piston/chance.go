package piston

import (
	"math"
	"math/rand/v2"
	"slices"

	"pinphase.org/pinphase/timing"
)

// Doubt is what is not known exactly, as standard uncertainties. Normal
// distributions, but where the fields say otherwise.
type Doubt struct {
	K        float64 // of the air's temperature at closing
	BarShare float64 // of its pressure, as a share of it
	Exponent float64 // of the polytropic exponent; kept within what is possible
	GaugeBar float64 // of a gauge's reading
	RPMShare float64 // of the cranking speed, as a share of it
	Cetane   float64
	Scatter  float64 // of the delay itself: of its logarithm
	PhiLow   float64 // the fuel over what the air could burn: evenly from here
	PhiHigh  float64 // to here
}

// Start is a start of injection at a cylinder's own angle.
type Start struct {
	At, U timing.Deg // U is its standard uncertainty
}

// Uncertain is a charge and starts of injection that are not known exactly. The
// correlation is not known either: it is drawn by [Correlation.Share].
type Uncertain struct {
	Charge  Charge // as it is thought to be
	Running Running
	Starts  []Start
	Doubt   Doubt

	// Gauge, when not nil, is where exponent and leak come from in every draw;
	// Charge.Exponent and LogLeak then only shape the leak's course.
	Gauge      *Gauge
	Heat       float64 // the exponent heat alone is thought to leave, before the gauge spoke
	Isentropic float64 // the most an exponent can be, see [Air.Exponent]
}

// Tally counts draws.
type Tally struct {
	Draws int
	Lit   []int // of each start, how often it lit
}

// Add takes another tally of the same starts in.
func (t *Tally) Add(o Tally) {
	t.Draws += o.Draws
	if t.Lit == nil {
		t.Lit = make([]int, len(o.Lit))
	}
	for i, n := range o.Lit {
		t.Lit[i] += n
	}
}

// Chance returns the share of draws in which start i lit, and the standard error
// that so many draws leave in it. For a share of 0 or 1 the error is that of one
// draw more on the other side and not 0.
func (t Tally) Chance(i int) (p, u float64) {
	n := float64(t.Draws)
	p = float64(t.Lit[i]) / n
	q := (float64(t.Lit[i]) + 1) / (n + 2)
	return p, math.Sqrt(q * (1 - q) / n)
}

// Sampler draws. It is not changed by drawing: several goroutines may share one.
type Sampler struct {
	u        Uncertain
	by       []int // starts from the latest to the earliest
	kinds    []Correlation
	from     timing.Deg // of the tables below
	ln, leak []float64  // as in Path with no leak taken off, every gridStep degrees
	ratio    float64    // the closed ratio
	lead     float64    // see Charge.lead
}

// gridStep is the step of a draw's integral in crank degrees. The trapezium rule
// on it is within 1 % of [Path.Integral]; a draw's own scatter is tens of times
// that.
const gridStep timing.Deg = 2

// Sampler prepares draws. The charge must pass [Charge.Check] and there must be
// a start.
func (u Uncertain) Sampler() Sampler {
	tight := u.Charge
	tight.LogLeak = 0
	p := tight.Path()
	s := Sampler{u: u, kinds: Correlations(), from: tight.Closes, ratio: tight.ClosedRatio(), lead: tight.lead()}
	for at := tight.Closes; ; at += gridStep {
		last := at >= tight.Opens
		in := min(at, tight.Opens)
		s.ln = append(s.ln, math.Log(tight.ClosedRatio()/tight.VolumeRatio(in)))
		i := min(int((in-tight.Closes)/(p.at[1]-p.at[0])+0.5), len(p.at)-1)
		s.leak = append(s.leak, p.leak[i])
		if last {
			break
		}
	}
	for i := range u.Starts {
		s.by = append(s.by, i)
	}
	slices.SortStableFunc(s.by, func(a, b int) int { return int(math.Copysign(1, float64(u.Starts[b].At-u.Starts[a].At))) })
	return s
}

// ChunkSize is how many draws share one stream of random numbers.
const ChunkSize = 2048

// Chunk makes n draws, at most [ChunkSize] of them, from the stream that seed
// and the chunk's number name. The same two give the same tally, whoever runs
// it and in whatever order.
func (s Sampler) Chunk(seed uint64, number, n int) Tally {
	rng := rand.New(rand.NewPCG(seed, uint64(number)))
	t := Tally{Draws: n, Lit: make([]int, len(s.u.Starts))}
	starts := make([]timing.Deg, len(s.u.Starts))
	for range n {
		d := s.draw(rng, starts)
		s.count(&d, starts, t.Lit)
	}
	return t
}

// one is what was drawn.
type one struct {
	k, lnBar float64 // of the air at closing
	Compression
	kind *Correlation
	r    Running
	more float64 // the scatter: what is added to the logarithm of the rate

	steady float64 // the part of that logarithm which is the same all along
}

// draw takes as many random numbers whatever they come to, so that a change in
// one quantity leaves the others of the stream as they are.
func (s Sampler) draw(rng *rand.Rand, starts []timing.Deg) one {
	u, doubt := s.u, s.u.Doubt
	bar := u.Charge.AtClosing.Bar * max(1+doubt.BarShare*rng.NormFloat64(), 0.2)
	d := one{
		k:     max(u.Charge.AtClosing.K+doubt.K*rng.NormFloat64(), 150),
		lnBar: math.Log(bar),
		r:     u.Running,
		more:  doubt.Scatter * rng.NormFloat64(),
	}
	speed := max(1+doubt.RPMShare*rng.NormFloat64(), 0.2)
	d.r.RPM *= speed
	d.r.MeanPistonMS *= speed
	d.r.Cetane = max(d.r.Cetane+doubt.Cetane*rng.NormFloat64(), 5)
	d.r.CetanePower *= 2 * rng.Float64() // evenly from nothing to twice as strong
	d.r.Phi = doubt.PhiLow + (doubt.PhiHigh-doubt.PhiLow)*rng.Float64()
	d.kind = s.pick(rng.Float64())
	d.steady = d.kind.logPerDeg(d.r) + d.more
	d.Compression = s.compression(bar, d.r.RPM, rng.NormFloat64(), rng.Float64(), rng.Float64())
	for i, st := range u.Starts {
		starts[i] = st.At + st.U*timing.Deg(rng.NormFloat64())
	}
	return d
}

func (s Sampler) pick(v float64) *Correlation {
	for i := range s.kinds {
		if v -= s.kinds[i].Share; v < 0 {
			return &s.kinds[i]
		}
	}
	return &s.kinds[0]
}

// leastExponent is below any engine that turns.
const leastExponent = 1.1

// compression draws exponent and leak. A gauge's reading binds the two together:
// the exponent it would take without leak is the least there can be.
func (s Sampler) compression(bar, rpm, gauge, exponent, power float64) Compression {
	least, most := leastExponent, s.u.Isentropic
	if s.u.Gauge == nil {
		return Compression{Exponent: truncated(exponent, s.u.Heat, s.u.Doubt.Exponent, least, most)}
	}
	g := *s.u.Gauge
	g.Bar = max(g.Bar+s.u.Doubt.GaugeBar*gauge, 0)
	least = max(least, g.Exponent(bar, s.ratio))
	n := most
	if least < most {
		n = truncated(exponent, s.u.Heat, s.u.Doubt.Exponent, least, most)
	}
	c, _ := g.explain(bar, s.ratio, s.lead, n, most)
	return c.Carried(g.RPM, rpm, most, HeatPowerLow+(HeatPowerHigh-HeatPowerLow)*power)
}

// truncated turns an even draw from 0 to 1 into one of a normal distribution
// that is cut off at both ends.
func truncated(even, mean, sd, least, most float64) float64 {
	if sd <= 0 {
		return min(max(mean, least), most)
	}
	below := func(x float64) float64 { return 0.5 * math.Erfc(-(x-mean)/(sd*math.Sqrt2)) }
	lo, hi := below(least), below(most)
	if hi-lo < 1e-12 { // so far out that only the nearer end is left
		return min(max(mean, least), most)
	}
	x := mean - sd*math.Sqrt2*math.Erfcinv(2*(lo+even*(hi-lo)))
	return min(max(x, least), most)
}

// count notes which starts lit. They are taken from the latest on: each adds to
// what the one before has reached, and when one lights so do all before it.
func (s Sampler) count(d *one, starts []timing.Deg, lit []int) {
	to := s.u.Charge.Opens
	reached := 0.0
	for k, i := range s.by {
		from := max(starts[i], s.from)
		if from < to {
			reached = s.add(d, reached, from, to)
			to = from
		}
		if reached >= 1 {
			for _, j := range s.by[k:] {
				lit[j]++
			}
			return
		}
	}
}

// negligible is what a draw's integral may miss.
const negligible = 1e-3

// add adds the rate from one angle to another, and stops when the sum is 1.
func (s Sampler) add(d *one, sum float64, from, to timing.Deg) float64 {
	at, last := from, s.rate(d, from)
	for at < to && sum < 1 {
		next := s.from + gridStep*timing.Deg(math.Floor(float64((at-s.from)/gridStep))+1)
		if next-at < 1e-9 { // rounding left at just before a line of the grid
			next += gridStep
		}
		next = min(next, to)
		v := s.rate(d, next)
		sum += (last + v) / 2 * float64(next-at)
		at, last = next, v
		if at > 0 && v*float64(to-at) < negligible {
			break // on its way down the gas only cools
		}
	}
	return sum
}

// rate is the drawn correlation's rate at an angle.
func (s Sampler) rate(d *one, at timing.Deg) float64 {
	x := float64((at - s.from) / gridStep)
	i := min(int(x), len(s.ln)-2)
	part := x - float64(i)
	ln := s.ln[i] + part*(s.ln[i+1]-s.ln[i]) - d.LogLeak*(s.leak[i]+part*(s.leak[i+1]-s.leak[i]))
	return math.Exp(d.steady - d.kind.state(math.Exp(-(d.Exponent-1)*ln)/d.k, d.lnBar+d.Exponent*ln, d.r))
}
