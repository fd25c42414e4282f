package piston

import (
	"errors"
	"math"

	"pinphase.org/pinphase/timing"
)

// Charge is the air closed into a cylinder and what becomes of it while the
// piston moves at a steady speed.
//
// Compression is polytropic, p v^n = constant, with v the volume of a share of
// the charge that stays: what heat the walls take lowers n, what leaks past rings
// and valves makes v larger than the cylinder alone says. The leak is taken as a
// choked hole: its mass flow is as the cylinder's pressure over the root of its
// temperature, so the share lost in a crank degree is as sqrt(T)/V, whatever the
// pressure. Expansion after top dead centre follows the same exponent.
type Charge struct {
	Cylinder
	Closes timing.Deg // own angle at which the cylinder is closed, -270 to -1
	Opens  timing.Deg // own angle at which it opens again, 1 to 270

	AtClosing Gas     // the air when the cylinder closes; both above 0
	Exponent  float64 // n, at least 1; see [DefaultExponent]

	// LogLeak is -ln of the share of the charge that is still there at top dead
	// centre; 0 is a tight cylinder. It is as the time the charge has to leave,
	// so it goes with 1/rpm.
	LogLeak float64
}

// DefaultExponent is n where nothing better is known, with its standard
// uncertainty: a cold engine turned by its starter compresses less than
// isentropically (Heywood 1988 gives about 1.3 ± 0.05; from memory). It then
// stands for heat and leak together.
const (
	DefaultExponent  = 1.30
	DefaultExponentU = 0.05
)

// ErrCharge is returned for a charge whose numbers make no sense.
var ErrCharge = errors.New("piston: the charge's angles, pressure, temperature, exponent or leak is out of range")

// Check tells whether the charge can be worked with.
func (c Charge) Check() error {
	if err := c.Cylinder.Check(); err != nil {
		return err
	}
	ok := c.Closes >= -270 && c.Closes <= -1 && c.Opens >= 1 && c.Opens <= 270 &&
		c.AtClosing.K > 0 && c.AtClosing.Bar > 0 && c.Exponent >= 1 && c.Exponent < 2 && c.LogLeak >= 0 &&
		!math.IsInf(c.AtClosing.K+c.AtClosing.Bar+c.LogLeak, 1)
	if !ok {
		return ErrCharge
	}
	return nil
}

// ClosedRatio returns the volume at closing over that at top dead centre: the
// compression the charge really gets, less than the compression ratio.
func (c Charge) ClosedRatio() float64 { return c.VolumeRatio(c.Closes) }

// Path is the state of a charge at every crank angle of the closed part of the
// cycle, worked out once. Build one with [Charge.Path].
type Path struct {
	charge Charge
	at     []timing.Deg // rising, from closing to opening, evenly; their number is odd
	ln     []float64    // ln(v at closing/v): how far the gas is compressed
	leak   []float64    // share of LogLeak gone: 0 at closing, 1 at top dead centre
}

// pathStep is the widest step of a path in crank degrees. With Simpson's rule
// between, the integrals below are good to a millionth.
const pathStep = 0.25

// Path works out the states. The charge must pass [Charge.Check].
func (c Charge) Path() Path {
	n := 2 * int(math.Ceil(float64(c.Opens-c.Closes)/(2*pathStep)))
	p := Path{charge: c, at: make([]timing.Deg, n+1), ln: make([]float64, n+1), leak: make([]float64, n+1)}
	step := (c.Opens - c.Closes) / timing.Deg(n)
	atClosing := c.ClosedRatio()
	flow, top := 0.0, 0.0 // of the leak: sqrt(T)/V of the last step, and their sum up to top dead centre
	for i := range p.at {
		p.at[i] = c.Closes + timing.Deg(i)*step
		ratio := c.VolumeRatio(p.at[i])
		p.ln[i] = math.Log(atClosing / ratio)
		next := math.Exp((c.Exponent-1)/2*p.ln[i]) / ratio
		if i > 0 {
			p.leak[i] = p.leak[i-1] + (flow+next)/2
			if p.at[i-1] < 0 && p.at[i] >= 0 {
				top = p.leak[i-1] + (p.leak[i]-p.leak[i-1])*float64(-p.at[i-1]/step)
			}
		}
		flow = next
	}
	for i := range p.ln {
		p.leak[i] /= top
		p.ln[i] -= c.LogLeak * p.leak[i]
	}
	return p
}

// Charge returns what the path was worked out for.
func (p Path) Charge() Charge { return p.charge }

// Holds tells whether the cylinder is closed at its own angle alpha.
func (p Path) Holds(alpha timing.Deg) bool {
	return alpha >= p.charge.Closes && alpha <= p.charge.Opens
}

// At returns the gas at a cylinder's own angle. Before closing it is the gas at
// closing, after opening that at opening.
func (p Path) At(alpha timing.Deg) Gas {
	alpha = min(max(alpha, p.charge.Closes), p.charge.Opens)
	step := p.at[1] - p.at[0]
	i := min(int((alpha-p.charge.Closes)/step), len(p.at)-2)
	part := float64((alpha - p.at[i]) / step)
	gone := p.leak[i] + part*(p.leak[i+1]-p.leak[i])
	return p.gas(math.Log(p.charge.ClosedRatio()/p.charge.VolumeRatio(alpha)) - p.charge.LogLeak*gone)
}

// gas is the state at one compression: p = p0 e^(n x), T = T0 e^((n-1) x).
func (p Path) gas(ln float64) Gas {
	c := p.charge
	return Gas{K: c.AtClosing.K * math.Exp((c.Exponent-1)*ln), Bar: c.AtClosing.Bar * math.Exp(c.Exponent*ln)}
}

// Hottest returns where the gas is warmest, and its state there: top dead
// centre, or just before it when the charge leaks.
func (p Path) Hottest() (timing.Deg, Gas) {
	best := 0
	for i, ln := range p.ln {
		if ln > p.ln[best] {
			best = i
		}
	}
	lo, hi := p.at[max(best-1, 0)], p.at[min(best+1, len(p.at)-1)]
	for range 40 {
		if a, b := lo+(hi-lo)/3, hi-(hi-lo)/3; p.At(a).K < p.At(b).K {
			lo = a
		} else {
			hi = b
		}
	}
	return (lo + hi) / 2, p.At((lo + hi) / 2)
}

// FirstAtLeast returns the first angle at which the gas has come to k kelvins on
// its way to its hottest, and false when it never does.
func (p Path) FirstAtLeast(k float64) (timing.Deg, bool) {
	need := math.Inf(1)
	if c := p.charge; c.Exponent > 1 {
		need = math.Log(k/c.AtClosing.K) / (c.Exponent - 1)
	} else if k <= c.AtClosing.K {
		return c.Closes, true
	}
	for i, ln := range p.ln {
		if ln < need {
			continue
		}
		if i == 0 {
			return p.at[0], true
		}
		part := timing.Deg((need - p.ln[i-1]) / (ln - p.ln[i-1]))
		return p.at[i-1] + part*(p.at[i]-p.at[i-1]), true
	}
	return 0, false
}
