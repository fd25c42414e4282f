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
	SprayK   float64 // half the range of the temperature below which fuel only wets; evenly within it
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
	heat     truncation // of the exponent, where no gauge binds it
}

// gridStep is the step of a draw's integral in crank degrees. The trapezium rule
// on it is within 1 % of [Path.Integral]; a draw's own scatter is tens of times
// that.
const gridStep timing.Deg = 2

// Sampler prepares draws. The charge must pass [Charge.Check] and there must be
// a start.
func (u Uncertain) Sampler() Sampler {
	u.Doubt.SprayK = min(max(u.Doubt.SprayK, 0), SprayK)
	tight := u.Charge
	tight.LogLeak = 0
	p := tight.Path()
	s := Sampler{u: u, kinds: Correlations(), from: tight.Closes, ratio: tight.ClosedRatio(), lead: tight.lead(),
		heat: truncate(u.Heat, u.Doubt.Exponent, leastExponent, u.Isentropic)}
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
	perK, lnBar float64 // one over the temperature, and the pressure, of the air at closing
	Compression
	kind *Correlation
	r    Running
	more float64 // the scatter: what is added to the logarithm of the rate
	wets float64 // 1/K: fuel that is injected into colder gas than this only wets the walls; 0: none does

	steady float64 // the part of that logarithm which is the same all along
}

// draw takes as many random numbers whatever they come to, so that a change in
// one quantity leaves the others of the stream as they are.
func (s Sampler) draw(rng *rand.Rand, starts []timing.Deg) one {
	u, doubt := s.u, s.u.Doubt
	bar := u.Charge.AtClosing.Bar * max(1+doubt.BarShare*rng.NormFloat64(), 0.2)
	d := one{
		perK:  1 / max(u.Charge.AtClosing.K+doubt.K*rng.NormFloat64(), 150),
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
	d.wets = 1 / (SprayK + doubt.SprayK*(2*rng.Float64()-1))
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
		return Compression{Exponent: s.heat.at(exponent)}
	}
	g := *s.u.Gauge
	g.Bar = max(g.Bar+s.u.Doubt.GaugeBar*gauge, 0)
	least = max(least, g.Exponent(bar, s.ratio))
	n := most
	if least < most {
		n = truncate(s.u.Heat, s.u.Doubt.Exponent, least, most).at(exponent)
	}
	c, _ := g.explain(bar, s.ratio, s.lead, n, most)
	return c.Carried(g.RPM, rpm, most, HeatPowerLow+(HeatPowerHigh-HeatPowerLow)*power)
}

// truncation is a normal distribution that is cut off at both ends.
type truncation struct{ mean, sd, least, most, lo, hi float64 }

func truncate(mean, sd, least, most float64) truncation {
	t := truncation{mean: mean, sd: sd, least: least, most: most}
	if sd > 0 {
		below := func(x float64) float64 { return 0.5 * math.Erfc(-(x-mean)/(sd*math.Sqrt2)) }
		t.lo, t.hi = below(least), below(most)
	}
	return t
}

// at turns an even draw from 0 to 1 into one of the distribution.
func (t truncation) at(even float64) float64 {
	if t.hi-t.lo < 1e-12 { // without spread, or so far out that only the nearer end is left
		return min(max(t.mean, t.least), t.most)
	}
	x := t.mean - t.sd*math.Sqrt2*math.Erfcinv(2*(t.lo+even*(t.hi-t.lo)))
	return min(max(x, t.least), t.most)
}

// tail is what is left of a draw's integral behind the point up to which it was added
// up: at least nothing, at most what the rate there comes to.
type tail struct {
	at, to timing.Deg
	rate   float64
}

func (t tail) most() float64 { return t.rate * float64(t.to-t.at) }

// count notes which starts lit. They are taken from the latest on: each adds to
// what the one before has reached, and when one is enough so are all before it, but
// those into air that is too cold. On its way down the gas only cools, so that adding
// up can stop where what is left cannot matter; it is taken up again where it can.
func (s Sampler) count(d *one, starts []timing.Deg, lit []int) {
	to := s.u.Charge.Opens
	reached, left := 0.0, tail{}
	for k, i := range s.by {
		if from := max(starts[i], s.from); from < to {
			if to == s.u.Charge.Opens {
				reached, left = s.add(d, reached, from, to, true)
			} else {
				reached, _ = s.add(d, reached, from, to, false)
			}
			to = from
		}
		if reached < 1 && left.rate > 0 && reached+left.most() >= 1 { // it may matter after all
			reached, left = s.finish(d, reached, left)
		}
		if reached >= 1 {
			for _, j := range s.by[k:] {
				if !s.wetsAt(d, starts[j]) {
					lit[j]++
				}
			}
			return
		}
	}
}

// wetsAt tells whether fuel injected at an angle only wets the walls: on the way up,
// the air is still colder than fuel needs.
func (s Sampler) wetsAt(d *one, at timing.Deg) bool {
	return at < 0 && d.wets > 0 && s.perK(d, max(at, s.from)) > d.wets
}

// add adds the rate from one angle to another to a sum, and stops when that is 1, or
// where may be, on the way down when it cannot come to 1 any more: what is then left
// stands in rest.
func (s Sampler) add(d *one, sum float64, from, to timing.Deg, may bool) (_ float64, rest tail) {
	at, last := from, s.rate(d, from)
	for i := int((from-s.from)/gridStep) + 1; at < to && sum < 1; i++ {
		next := s.from + gridStep*timing.Deg(i)
		if next-at < 1e-9 { // rounding left at just before a line of the grid
			continue
		}
		var v float64
		if next < to && i < len(s.ln) {
			v = d.rate(s.ln[i] - d.LogLeak*s.leak[i])
		} else {
			next = to
			v = s.rate(d, to)
		}
		sum += (last + v) / 2 * float64(next-at)
		at, last = next, v
		if may && at > 0 && sum+v*float64(to-at) < 1 {
			return sum, tail{at, to, v}
		}
	}
	return sum, tail{}
}

// negligible is what a draw's integral may miss.
const negligible = 1e-3

// finish adds up what was left, but for what is negligible.
func (s Sampler) finish(d *one, sum float64, left tail) (float64, tail) {
	at, last := left.at, left.rate
	for at < left.to && sum < 1 && last*float64(left.to-at) >= negligible {
		next := min(s.from+gridStep*timing.Deg(math.Floor(float64((at-s.from)/gridStep)+1e-9)+1), left.to)
		v := s.rate(d, next)
		sum += (last + v) / 2 * float64(next-at)
		at, last = next, v
	}
	return sum, tail{}
}

// perK is one over the drawn gas's temperature at an angle.
func (s Sampler) perK(d *one, at timing.Deg) float64 {
	return expo(-(d.Exponent-1)*s.lnAt(d, at)) * d.perK
}

// lnAt is the logarithm of how much the drawn charge is compressed at an angle.
func (s Sampler) lnAt(d *one, at timing.Deg) float64 {
	x := float64((at - s.from) / gridStep)
	i := min(int(x), len(s.ln)-2)
	part := x - float64(i)
	return s.ln[i] + part*(s.ln[i+1]-s.ln[i]) - d.LogLeak*(s.leak[i]+part*(s.leak[i+1]-s.leak[i]))
}

// rate is the drawn correlation's rate at an angle.
func (s Sampler) rate(d *one, at timing.Deg) float64 { return d.rate(s.lnAt(d, at)) }

// rate is the drawn correlation's rate where the charge is compressed so far.
func (d *one) rate(ln float64) float64 {
	perK, lnBar := expo(-(d.Exponent-1)*ln)*d.perK, d.lnBar+d.Exponent*ln
	if f := d.kind.form; f != nil {
		return expo(d.steady - f.at(perK, lnBar))
	}
	return expo(d.steady - d.kind.own(perK, lnBar, d.r))
}
