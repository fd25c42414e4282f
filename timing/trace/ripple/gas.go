package ripple

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// Engine is what must be known of an engine to read its speed ripple.
type Engine struct {
	Scheme timing.Scheme
	Charge piston.Charge // the air closed in; its exponent and leak are where the fit begins
}

// workTable is the work the gas of one cylinder has done on the crank, in joules,
// since its own angle was 0, at every workStep of a cycle; the air outside does
// its part on the piston's other side. What the open cylinder does, some percent of
// that, is left out.
type workTable struct {
	cycle float64
	joule []float64 // one more than steps in a cycle
}

const workStep = 0.5 // degrees

// heatExponent is the exponent by which the gas warms, for the shape of its loss of
// heat only: air's.
const heatExponent = 1.38

// gas is what becomes of the charge of a closed cylinder.
type gas struct {
	exponent float64
	leak     float64 // see [piston.Charge]; quickest near top dead centre, where the charge is small
	heat     float64 // -ln of the share of its pressure that the walls have taken by top dead centre, over all of the closed time
}

// workOf works the table out for a gas. The pressure acts through the linkage:
// torque = p A ds/d theta (Heywood 1988, sec. 2.2).
func (e Engine) workOf(g gas) workTable {
	c := e.Charge
	c.Exponent, c.LogLeak = max(g.exponent, 1), max(g.leak, 0)
	p := c.Path()
	cycle := float64(e.Scheme.Cycle())
	n := int(cycle/workStep + 0.5)
	w := workTable{cycle: cycle, joule: make([]float64, n+1)}
	ambient := c.AtClosing.Bar
	area := math.Pi / 4 * c.BoreMM * c.BoreMM * 1e-6
	taken := e.heatTaken()
	torque := func(i int) float64 {
		own := timing.WrapSigned(timing.Deg(float64(i)*workStep), timing.Deg(cycle))
		if !p.Holds(own) {
			return 0
		}
		bar := p.At(own).Bar * math.Exp(-g.heat*taken[i])
		return (bar - ambient) * 1e5 * area * c.Motion(own).SlopeMM * 1e-3
	}
	last := torque(0)
	for i := 1; i <= n; i++ {
		now := torque(i)
		w.joule[i] = w.joule[i-1] + (last+now)/2*workStep*math.Pi/180
		last = now
	}
	return w
}

// heatTaken is how much of what the walls take by top dead centre they have taken at
// each step of the table, 0 where the cylinder closes. The heat goes with the area
// of the walls and with how much warmer the gas is than they are, who are as warm as
// the air at closing: dQ = h A (T - Tw) dt (Heywood 1988, sec. 12.4; from memory),
// with one h, and takes (exponent - 1) dQ/(p V) off the pressure.
func (e Engine) heatTaken() []float64 {
	c := e.Charge
	cycle := float64(e.Scheme.Cycle())
	n := int(cycle/workStep + 0.5)
	taken := make([]float64, n+1)
	closed, radius := c.ClosedRatio(), c.BoreMM/2
	clearance := 2 * c.ThrowMM / (c.Ratio - 1) // mm of the bore
	rate := func(own float64) float64 {
		v := c.VolumeRatio(timing.Deg(own))
		warmer := 1 - math.Pow(v/closed, heatExponent-1) // over its own temperature
		return (radius + v*clearance) * warmer
	}
	top, sum, last := 0.0, 0.0, 0.0
	step := func(own float64) float64 {
		now := rate(own)
		sum += (last + now) / 2
		last = now
		return sum
	}
	index := func(own float64) int { return (int(math.Round(own/workStep)) + n) % n }
	for own := math.Ceil(float64(c.Closes)/workStep) * workStep; own <= float64(c.Opens) && own < cycle/2; own += workStep {
		taken[index(own)] = step(own)
		if index(own) == 0 {
			top = sum
		}
	}
	for i := range taken {
		taken[i] /= top
	}
	taken[n] = taken[0]
	return taken
}

// at returns the work at a cylinder's own angle, any number of cycles away, less
// the net work of whole cycles: that is a steady torque and counted with friction.
func (w workTable) at(own float64) float64 {
	x := float64(timing.Wrap(timing.Deg(own), timing.Deg(w.cycle))) / workStep
	i := min(int(x), len(w.joule)-2)
	part := x - float64(i)
	net := w.joule[len(w.joule)-1] * x / float64(len(w.joule)-1)
	return w.joule[i] + part*(w.joule[i+1]-w.joule[i]) - net
}

// over returns the mean of the work from one angle to another, by Simpson's rule.
func (w workTable) over(from, to float64) float64 {
	n := max(int(math.Ceil((to-from)/finePitch)), 1)
	sum, step := 0.0, (to-from)/float64(n)
	left := w.at(from)
	for i := range n {
		x := from + step*float64(i)
		right := w.at(x + step)
		sum += left + 4*w.at(x+step/2) + right
		left = right
	}
	return sum / 6 / float64(n)
}
