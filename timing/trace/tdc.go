package trace

import (
	"math"
	"slices"

	"pinphase/timing"
)

// Limits of what is taken for the ripple of compression.
const (
	leastCycles    = 2    // that turn at a steady mean speed
	leastExplained = 0.5  // share of the speed's variance within a cycle
	leastSwing     = 0.01 // of the speed over its mean
	runningRPM     = 450  // no starter turns an engine so fast. Common practice, no source
	sideMargin     = 12.0 // by how much in chi-squared another place must fit worse
	nearGamma      = 36.0 // crank degrees; a cam gear further out does not mesh a few teeth out by mistake
)

// findTDC finds where true top dead centre is in the controller's angle.
func (c *Collector) findTDC(a *Analysis, known Known, clocks []clock, parity []float64) {
	if known.Engine == nil {
		a.fault(Fault{Kind: NoGeometry})
		return
	}
	if a.RPM > runningRPM {
		a.fault(Fault{Kind: Running, Value: a.RPM})
		return
	}
	engine := *known.Engine
	cycle := float64(known.Cycle)
	repeat := cycle / float64(repeatsOf(known.Scheme))
	modulo := repeat
	// Runs whose turns cannot be told apart help only where a turn more or less
	// makes no difference.
	turnMatters := math.Abs(math.Mod(360, repeat)) > 1e-6
	var used []clock
	var runs []Run
	known360 := true
	for i, k := range clocks {
		if turnMatters && parity[i] != parity[i] {
			known360 = false
			continue
		}
		if turnMatters {
			k = k.moved(parity[i])
		}
		used, runs = append(used, k), append(runs, a.Runs[i])
	}
	if len(used) == 0 { // no cam: the longest run alone, its turns counted from anywhere
		best := 0
		for i, k := range clocks {
			if len(k.t) > len(clocks[best].t) {
				best = i
			}
		}
		used, runs = []clock{clocks[best]}, []Run{a.Runs[best]}
		modulo = repeat / 2
	} else {
		known360 = true
	}
	_ = known360
	if cor := a.Correlation; cor != nil {
		// The valves sit on the cam: a first fit tells roughly how far it is off.
		if first, f := fitRipple(engine, used, runs, repeat, c.current(a)); f == nil {
			gamma := timing.WrapSigned(first.TDC.Value-cor.Value, timing.Deg(repeat))
			if math.Abs(float64(gamma)) < nearGamma {
				engine.Charge.Closes = min(max(engine.Charge.Closes-gamma, -270), -1)
				engine.Charge.Opens = min(max(engine.Charge.Opens-gamma, 1), 270)
			}
		}
	}
	r, f := fitRipple(engine, used, runs, repeat, c.current(a))
	if f != nil {
		a.fault(*f)
		return
	}
	r.Modulo = timing.Deg(modulo)
	r.TDC.Value = timing.WrapSigned(r.TDC.Value, r.Modulo)
	a.Ripple, a.Modulo = r, r.Modulo
	best := r.TDC
	a.TDC = &best
	a.judgeHalfTurn(known, modulo == repeat, repeat)
}

// repeatsOf is how many times the firing pattern comes in a cycle.
func repeatsOf(e timing.Engine) int {
	n := e.Cylinders()
	for k := n; k > 1; k-- {
		if n%k != 0 {
			continue
		}
		same := true
		for c := 1; c <= n && same; c++ {
			found := false
			for o := 1; o <= n; o++ {
				d := timing.WrapSigned(e.FiresAt(o)-e.FiresAt(c)-e.Cycle()/timing.Deg(k), e.Cycle())
				found = found || math.Abs(float64(d)) < 0.05
			}
			same = found
		}
		if same {
			return k
		}
	}
	return 1
}

// moved is the clock with all angles so much later.
func (k clock) moved(by float64) clock {
	angle := make([]float64, len(k.angle))
	for i, a := range k.angle {
		angle[i] = a + by
	}
	k.angle = angle
	return k
}

// current returns the starter's current at a time, nil when no channel shows it.
func (c *Collector) current(a *Analysis) func(float64) float64 {
	for i := range a.Channels {
		if a.Channels[i].ByName == StarterCurrent && a.Channels[i].Role == Unknown || a.Channels[i].Role == StarterCurrent {
			if a.Channels[i].Flat {
				continue
			}
			a.Channels[i].Role = StarterCurrent
			s := &c.channels[i].thin
			return func(t float64) float64 {
				v := s.value(t - c.first)
				if v != v {
					return 0
				}
				return v
			}
		}
	}
	return nil
}

// fitRipple fits cycles of the runs. repeat is the way after which the firing
// pattern comes again.
func fitRipple(e Engine, clocks []clock, runs []Run, repeat float64, current func(float64) float64) (*Ripple, *Fault) {
	list, windows, rpm := rows(clocks, runs, float64(e.Scheme.Cycle()), current)
	if windows < leastCycles {
		return nil, &Fault{Kind: FewCycles, N: windows}
	}
	if rpm > runningRPM {
		return nil, &Fault{Kind: Running, Value: rpm}
	}
	f := newRipple(e, list, windows, current != nil)
	lo, hi, mean := math.Inf(1), 0.0, 0.0
	for _, r := range list {
		w := math.Sqrt(2 * r.y)
		lo, hi = min(lo, w), max(hi, w)
		mean += w / float64(len(list))
	}
	before := e.prior()
	table := e.workOf(before.exponent, before.leak)
	step := math.Min(2, repeat/40)
	n := int(repeat / step)
	cost := make([]float64, n)
	for i := range cost {
		cost[i] = f.misfit(table, -repeat/2+step*float64(i))
	}
	total := dot(f.y, f.y)
	if !(total > 0) {
		return nil, &Fault{Kind: NoRipple}
	}
	var solutions []solution
	for i := range cost {
		if cost[i] <= cost[(i+1)%n] && cost[i] < cost[(i+n-1)%n] && cost[i] < 0.98*total {
			if s := f.refine(-repeat/2 + step*float64(i)); s.ok {
				solutions = append(solutions, s)
			}
		}
	}
	best := -1
	for i, s := range solutions {
		if best < 0 || dot(s.rest, s.rest) < dot(solutions[best].rest, solutions[best].rest) {
			best = i
		}
	}
	swing := (hi - lo) / mean
	if best < 0 || swing < leastSwing {
		return nil, &Fault{Kind: NoRipple, Value: swing}
	}
	s := solutions[best]
	left := dot(s.rest, s.rest)
	explained := 1 - left/total
	if explained < leastExplained {
		return nil, &Fault{Kind: NoRipple, Value: explained}
	}
	for i, o := range solutions {
		away := math.Abs(signed(o.tdc-s.tdc, repeat))
		if i != best && away > 4 && (dot(o.rest, o.rest)-left)/s.sigma2 < sideMargin {
			return nil, &Fault{Kind: RippleSides, Value: away}
		}
	}
	u := math.Sqrt(s.cov.At(ofTDC, ofTDC))
	r := &Ripple{
		TDC:       timing.Measured{Value: timing.Deg(signed(s.tdc, repeat)), U: timing.Deg(math.Hypot(u, tdcFloorU))},
		BoundU:    timing.Deg(u * math.Sqrt(s.noise2/s.sigma2)),
		Explained: explained, Cycles: windows, Swing: swing, Inertia: 1 / s.inverse, Exponent: s.exponent, Leak: median(s.leak),
	}
	least := slices.Min(s.leak)
	for c, l := range s.leak {
		// p is as e^(-n leak) at top dead centre.
		share := math.Exp(-s.exponent * (l - least))
		r.Strength = append(r.Strength, share)
		r.StrengthU = append(r.StrengthU, share*s.exponent*math.Sqrt(s.cov.At(ofLeak+c, ofLeak+c)))
	}
	return r, nil
}

// judgeHalfTurn tells a cam that is half a turn out where the firing pattern can:
// the ripple then sits a turn away, which is not where it would sit anyway. Of the
// two explanations only one leaves a cam gear few teeth out; where both do, or
// neither, nothing is said.
func (a *Analysis) judgeHalfTurn(known Known, told bool, repeat float64) {
	if known.Cycle == timing.Turn {
		return
	}
	turn := math.Mod(360, repeat)
	if !told || turn < 1e-6 || a.Correlation == nil {
		a.fault(Fault{Kind: TurnUnknown})
		return
	}
	tdc, late := float64(a.TDC.Value), float64(a.Correlation.Value)
	straight := signed(tdc-late, repeat)
	half := signed(tdc-360-late, repeat)
	slack := 3 * math.Hypot(float64(a.TDC.U), float64(a.Correlation.U))
	limit := nearGamma/2 + slack
	switch s, h := math.Abs(straight) <= limit, math.Abs(half) <= limit; {
	case s && !h:
		no := false
		a.HalfTurn = &no
	case h && !s:
		yes := true
		a.HalfTurn = &yes
		a.fault(Fault{Kind: HalfTurned})
		v := a.TDC.Value - 360
		a.TDC.Value = timing.WrapSigned(v, timing.Deg(repeat))
	default:
		a.fault(Fault{Kind: TurnUnknown})
	}
}
