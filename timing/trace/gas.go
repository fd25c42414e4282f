package trace

import (
	"math"

	"pinphase/timing"
	"pinphase/timing/piston"
)

// Engine is what must be known of an engine to read its speed ripple.
type Engine struct {
	Scheme timing.Engine
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

// workOf works the table out for an exponent of compression and a leak. The
// pressure acts through the linkage: torque = p A ds/d theta (Heywood 1988, sec.
// 2.2).
func (e Engine) workOf(exponent, leak float64) workTable {
	c := e.Charge
	c.Exponent, c.LogLeak = max(exponent, 1), max(leak, 0)
	p := c.Path()
	cycle := float64(e.Scheme.Cycle())
	n := int(cycle/workStep + 0.5)
	w := workTable{cycle: cycle, joule: make([]float64, n+1)}
	ambient := c.AtClosing.Bar
	area := math.Pi / 4 * c.BoreMM * c.BoreMM * 1e-6
	torque := func(i int) float64 {
		own := timing.WrapSigned(timing.Deg(float64(i)*workStep), timing.Deg(cycle))
		if !p.Holds(own) {
			return 0
		}
		return (p.At(own).Bar - ambient) * 1e5 * area * c.Motion(own).SlopeMM * 1e-3
	}
	last := torque(0)
	for i := 1; i <= n; i++ {
		now := torque(i)
		w.joule[i] = w.joule[i-1] + (last+now)/2*workStep*math.Pi/180
		last = now
	}
	return w
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

// over returns the mean of the work from one angle to another.
func (w workTable) over(from, to float64) float64 {
	return (w.at(from) + 4*w.at((from+to)/2) + w.at(to)) / 6
}
