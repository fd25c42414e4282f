package trace

import "math"

// law is how the crude maker's crank turns.
type law int

// The laws. Speeds are shares of the mean.
const (
	sine     law = iota // 1 - ripple cos(firings (angle - lag))
	dip                 // slow for a while round each top dead centre, even otherwise
	shaped              // slow as the gas is compressed: speed falls with its energy
	flywheel            // the gas takes its energy from one flywheel without friction
	starting            // and a starter whose torque falls with the speed, against steady friction
	laws                // how many
)

func (l law) String() string {
	return [...]string{"sine", "dip", "shaped", "flywheel", "starting"}[l]
}

// gasEnergy is that of air compressed without loss from bottom dead centre, own
// degrees from top dead centre, less what the air outside does, in shares of p0 V0:
// stroke and rod as in the crude maker's job.
func (p crude) gasEnergy(own float64) float64 {
	const ratio, rod = 17.5, 192.0 / 59
	a := math.Mod(own+36000, 720)
	if a > 360 {
		a = 720 - a
	}
	if a > 180 {
		return 0 // open
	}
	sin, cos := math.Sincos(a * math.Pi / 180)
	down := (1 + rod - cos - math.Sqrt(rod*rod-sin*sin)) / 2 // 0 at the top, 1 at the bottom
	v := (1 + (ratio-1)*down) / ratio
	return (math.Pow(v, -0.4)-1)/0.4 - (1 - v)
}

// energy is that of all cylinders.
func (p crude) energy(theta float64) float64 {
	sum := 0.0
	for k := range p.cylinders {
		sum += p.gasEnergy(theta - p.lag - 720*float64(k)/float64(p.cylinders))
	}
	return sum
}

// speeds returns the speed at an angle, asked for in order, as a share of the mean.
func (p crude) speeds() func(theta float64) float64 {
	rad := math.Pi / 180
	each := 720 / float64(p.cylinders)
	if p.law == sine {
		return func(theta float64) float64 { return 1 - p.ripple*math.Cos(360*rad/each*(theta-p.lag)) }
	}
	of := p.energy
	if p.law == dip {
		of = func(theta float64) float64 {
			d := math.Remainder(theta-p.lag, each) / (each / 6)
			return math.Exp(-d * d / 2)
		}
	}
	lo, hi, mean := math.Inf(1), math.Inf(-1), 0.0
	const steps = 2880
	for i := range steps {
		v := of(float64(i) * each / steps)
		lo, hi, mean = min(lo, v), max(hi, v), mean+v/steps
	}
	normal := func(theta float64) float64 { return (of(theta) - mean) / (hi - lo) } // 1 from trough to crest
	switch p.law {
	case flywheel:
		return func(theta float64) float64 { return math.Sqrt(max(1-4*p.ripple*normal(theta), 0.01)) }
	case starting:
		// w dw/dtheta = -d(energy) + brake (1 - w): energies over that of the flywheel.
		w, last := 1.0, math.NaN()
		return func(theta float64) float64 {
			if last == last {
				w2 := w*w - 4*p.ripple*(normal(theta)-normal(last)) + 2*p.brake*(1-w)*(theta-last)*rad
				w = math.Sqrt(max(w2, 0.01))
			}
			last = theta
			return w
		}
	}
	return func(theta float64) float64 { return 1 - 2*p.ripple*normal(theta) }
}
