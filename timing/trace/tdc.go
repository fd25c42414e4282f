package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/ripple"
)

// nearGamma is how far out a cam gear may be, crank degrees: one further out does not
// mesh a few teeth out by mistake.
const nearGamma = 36.0

// Engine is what must be known of an engine to read its speed ripple.
type Engine = ripple.Engine

// Ripple is what the speed ripple comes to.
type Ripple = ripple.Result

// refusals are the faults that say why there is no top dead centre.
var refusals = map[ripple.Reason]Kind{
	ripple.FewCycles: FewCycles, ripple.Running: Running, ripple.NoRipple: NoRipple, ripple.TwoPlaces: RippleSides,
	ripple.Coarse: CoarseWheel, ripple.Unlikely: UnlikelyRipple,
}

// findTDC finds where true top dead centre is in the controller's angle: from the
// speed ripple, and from a cylinder's pressure where a channel shows it.
func (c *Collector) findTDC(a *Analysis, known Known, clocks []clock, parity []float64) {
	if known.Engine == nil {
		a.fault(Fault{Kind: NoGeometry})
		return
	}
	if a.RPM > ripple.RunningRPM {
		a.fault(Fault{Kind: Running, Value: a.RPM})
		return
	}
	repeat := float64(known.Cycle) / float64(repeatsOf(known.Scheme))
	used, runs, told := sameTurns(a.Runs, clocks, parity, repeat)
	a.Modulo = timing.Deg(repeat)
	if !told {
		a.Modulo /= 2
	}
	in := ripple.Input{Engine: *known.Engine, Wheel: known.Crank, Runs: runs, Modulo: timing.Deg(repeat), Current: c.current(a)}
	engine := &in.Engine
	if cor := a.Correlation; cor != nil && known.Cycle > timing.Turn {
		// Ports stay where they are; the valves sit on the cam: a first fit tells roughly how far it is off.
		if first, no := ripple.Fit(in); no == nil {
			gamma := timing.WrapSigned(first.TDC.Value-cor.Value, timing.Deg(repeat))
			if math.Abs(float64(gamma)) < nearGamma {
				engine.Charge.Closes = min(max(engine.Charge.Closes-gamma, -270), -1)
				engine.Charge.Opens = min(max(engine.Charge.Opens-gamma, 1), 270)
			}
		}
	}
	var fitted timing.Deg // before a half-turned cam is allowed for
	r, no := ripple.Fit(in)
	if no != nil {
		a.fault(Fault{Kind: refusals[no.Reason], N: no.N, Value: no.Value})
	} else {
		c.narrowByCurrent(a, in, r)
		fitted = r.TDC.Value
		r.TDC.Value = timing.WrapSigned(r.TDC.Value, a.Modulo)
		a.Ripple = r
		a.nameBent(r)
		best := r.TDC
		a.TDC = &best
	}
	half := c.weighPressure(a, known, in.Engine, used, told)
	if a.TDC == nil {
		a.Modulo = 0
		return
	}
	if half != nil {
		a.HalfTurn = half
		if *half {
			a.fault(Fault{Kind: HalfTurned})
		}
	} else {
		a.judgeHalfTurn(known, told, repeat)
	}
	if r != nil {
		if a.HalfTurn != nil && *a.HalfTurn {
			renumber(r, known.Scheme, float64(fitted-a.TDC.Value)-360)
		}
		if r.Strange > 0.5 {
			a.fault(Fault{Kind: StrangeRipple})
		} else {
			a.nameWeak(known, r)
		}
	}
}

// renumber gives the strengths to the cylinders that fire so much later than those
// they were fitted for.
func renumber(r *Ripple, e timing.Scheme, by float64) {
	s, u := slices.Clone(r.Strength), slices.Clone(r.StrengthU)
	for c := range s {
		for o := range s {
			if d := timing.WrapSigned(e.FiresAt(o+1)-e.FiresAt(c+1)-timing.Deg(by), e.Cycle()); math.Abs(float64(d)) < float64(e.Cycle())/float64(2*len(s)) {
				r.Strength[o], r.StrengthU[o] = s[c], u[c]
			}
		}
	}
}

// sameTurns are the runs whose turns within the cycle are known, moved onto it, or
// all runs where a turn more makes no difference to the firing pattern. Where none
// is known it is the longest alone, its turns counted from anywhere; told is then
// false.
func sameTurns(runs []Run, clocks []clock, parity []float64, repeat float64) (used []clock, of []ripple.Run, told bool) {
	turn := math.Mod(360, repeat)
	matters := turn > 1e-6 && repeat-turn > 1e-6
	longest := 0
	for i, k := range clocks {
		if len(k.t) > len(clocks[longest].t) {
			longest = i
		}
		ahead := 0.0
		switch {
		case parity[i] == parity[i]:
			ahead = parity[i]
			k = k.moved(ahead)
		case matters:
			continue
		}
		used, of = append(used, k), append(of, ripple.Run{Time: runs[i].Time, Place: runs[i].At, Ahead: ahead})
	}
	if len(used) == 0 {
		return []clock{clocks[longest]}, []ripple.Run{{Time: runs[longest].Time, Place: runs[longest].At}}, false
	}
	return used, of, true
}

// weighPressure joins what a cylinder's pressure says to what the ripple says. It
// returns whether the cam is half a turn out when the pressure tells: that of a
// cylinder known by number peaks on one turn of the two.
func (c *Collector) weighPressure(a *Analysis, known Known, engine Engine, clocks []clock, told bool) (half *bool) {
	p, cylinder, ok := c.pressureTDC(a, engine, clocks)
	if !ok {
		return nil
	}
	if cylinder > known.Scheme.Cylinders() {
		cylinder = 0
	}
	whole := known.Cycle
	delta := p.Value
	if cylinder > 0 {
		delta -= known.Scheme.FiresAt(cylinder)
		if told && known.Cycle > timing.Turn && a.Correlation != nil {
			gamma := timing.WrapSigned(delta-a.Correlation.Value, whole)
			out := math.Abs(float64(gamma)) > 180
			half = &out
			if out {
				delta -= timing.Turn
				if a.TDC != nil { // of the same turn: where cylinders fire at odd intervals of a turn it is another place
					a.TDC.Value = timing.WrapSigned(a.TDC.Value-timing.Turn, a.Modulo)
				}
			}
		}
	}
	p.Value = timing.WrapSigned(delta, a.Modulo)
	a.Pressure = &p
	if a.TDC == nil {
		best := p
		a.TDC = &best
		return half
	}
	away := timing.WrapSigned(p.Value-a.TDC.Value, a.Modulo)
	u := timing.Deg(math.Hypot(float64(p.U), float64(a.TDC.U)))
	if math.Abs(float64(away)) > 3*float64(u) {
		a.fault(Fault{Kind: PressureDiffers, Value: float64(away)})
		a.TDC.U = timing.Deg(math.Hypot(float64(u), float64(away)))
		return half
	}
	before := a.TDC.U
	share := float64(before * before / (u * u))
	a.TDC.Value = timing.WrapSigned(a.TDC.Value+away*timing.Deg(share), a.Modulo)
	a.TDC.U = timing.Deg(float64(p.U) * float64(a.TDC.U) / float64(u))
	for i := range a.Channels {
		if a.Channels[i].Role == CylinderPressure {
			a.Narrowed = append(a.Narrowed, Narrowing{c.label(i), CylinderPressure, before, a.TDC.U})
			break
		}
	}
	return half
}

// nameBent names teeth that are out of place beyond what the others are.
func (a *Analysis) nameBent(r *Ripple) {
	for _, t := range r.Teeth {
		if t.Bent {
			a.fault(Fault{Kind: BentTooth, N: t.Position, Value: float64(t.Late.Value)})
		}
	}
}

// Narrowing is how another channel makes the standard uncertainty of top dead centre
// smaller.
type Narrowing struct {
	Channel  string
	Role     Role
	From, To timing.Deg
}

// narrowByCurrent says what the starter's current is worth. Where it makes the fit no
// surer, by the gain that it adds as an unknown, what is known without it still is: the
// middle of both then counts.
func (c *Collector) narrowByCurrent(a *Analysis, in ripple.Input, with *Ripple) {
	if in.Current == nil {
		return
	}
	in.Current = nil
	without, no := ripple.Fit(in)
	if no != nil {
		return
	}
	if without.TDC.U <= with.TDC.U {
		with.TDC.Value += timing.WrapSigned(without.TDC.Value-with.TDC.Value, in.Modulo) / 2
		with.TDC.U = without.TDC.U
		return
	}
	for i := range a.Channels {
		if a.Channels[i].Role == StarterCurrent {
			a.Narrowed = append(a.Narrowed, Narrowing{c.label(i), StarterCurrent, without.TDC.U, with.TDC.U})
			return
		}
	}
}

// nameWeak names cylinders that are weak beyond doubt. Which is which follows from
// the controller's angle, and on engines whose firing pattern does not tell one
// turn from the other it may as well be the companion.
func (a *Analysis) nameWeak(known Known, r *Ripple) {
	for c, s := range r.Strength {
		if s+2*r.StrengthU[c] < ripple.WeakShare {
			other := 0
			if list := known.Scheme.Companions(c + 1); len(list) > 0 && a.HalfTurn == nil {
				other = list[0]
			}
			a.fault(Fault{Kind: WeakCylinder, N: c + 1, Of: other, Value: s})
		}
	}
}

// repeatsOf is how many times the firing pattern comes in a cycle.
func repeatsOf(e timing.Scheme) int {
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

// judgeHalfTurn tells a cam that is half a turn out where the firing pattern can:
// the ripple then sits a turn away, which is not where it would sit anyway. Of the
// two explanations only one leaves a cam gear few teeth out; where both do, or
// neither, nothing is said. Where firings do not repeat within the cycle there is one
// explanation.
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
	s, h := math.Abs(straight) <= limit, math.Abs(half) <= limit
	if repeat == float64(known.Cycle) { // one place in the cycle: the cam's error is known, however large
		s, h = math.Abs(straight) < 180-slack, math.Abs(straight) > 180+slack
	}
	switch {
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
