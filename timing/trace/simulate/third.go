package simulate

import "math"

// Third is an engine by a maker who knows no thermodynamics beyond a polytrope: the gas
// rises with one exponent and falls with another, and leaks as a laminar gap does, with
// the pressure. The crank is stiff; friction is Coulomb's on pistons pressed by gas and
// rod, and a steady drag; the starter is of constant power, or a hydraulic one whose
// torque falls little by its flow. All of it is invented.
type Third struct {
	Cycle                           float64
	Fires                           []float64
	Bore, Throw, Rod, Offset, Ratio float64
	Closes, Opens                   float64
	Up, Down                        float64   // exponents of compression and expansion
	Gap                             float64   // share of the charge lost a second at one bar over the air, times cylinder volume at closing
	Weak                            []float64 // factor on the gap of each cylinder; nil: 1
	Inertia, Mass                   float64
	Rub                             float64 // coefficient of friction of pistons
	Drag                            float64 // N m
	Watt                            float64 // of the starter; 0: hydraulic
	Most                            float64 // N m that it can pull
	Hydraulic                       float64 // share of Most lost at 30 rad/s
	Pump                            float64 // Pa above and below the air while open
	AirPa                           float64
	Gust                            float64 // N m, standard deviation of a torque that changes with every firing
}

// Crank turns the engine from a standstill at start degrees.
func (e Third) Crank(seconds, start float64, noise func() float64) Course {
	const step = 50e-6
	kin := Engine{Cycle: e.Cycle, Fires: e.Fires, Bore: e.Bore, Throw: e.Throw, Rod: e.Rod, Offset: e.Offset, Ratio: e.Ratio}
	c := Course{Step: step, Peak: make([]float64, len(e.Fires))}
	theta, w, gust, next := start*math.Pi/180, 0.0, 0.0, 0.0
	kept := make([]float64, len(e.Fires)) // ln of what is left of each charge
	v0, _, _ := kin.at(-math.Pi + e.Closes*math.Pi/180)
	area := math.Pi / 4 * e.Bore * e.Bore
	for n := int(seconds / step); n > 0; n-- {
		c.Theta, c.Omega = append(c.Theta, theta), append(c.Omega, w)
		torque, inertia := 0.0, e.Inertia
		for i := range e.Fires {
			v, own, th := kin.volume(i, theta)
			height, slope, bend := kin.lift(th)
			_ = height
			pa := e.AirPa + e.Pump
			if own < 0 {
				pa = e.AirPa - e.Pump
			}
			if own > -180+e.Closes && own < 180-e.Opens {
				x := math.Log(v0/v) + kept[i]
				exponent := e.Up
				base := 0.0
				if own > 0 { // from the pressure at the top on along the other
					top, _, _ := kin.at(0)
					base = (e.Up - e.Down) * math.Log(v0/top)
					exponent = e.Down
				}
				pa = e.AirPa * math.Exp(base+exponent*x)
				weak := 1.0
				if len(e.Weak) > 0 {
					weak = e.Weak[i]
				}
				kept[i] -= e.Gap * weak * (pa - e.AirPa) / 1e5 * (v0 / v) * step
			} else {
				kept[i] = 0
			}
			if i == 0 {
				c.First = append(c.First, pa)
			}
			c.Peak[i] = max(c.Peak[i], pa)
			force := (pa - e.AirPa) * area
			lean := (e.Throw*math.Sin(th) - e.Offset) / e.Rod
			torque -= force * slope
			torque -= e.Rub * (math.Abs(force*lean) + 0.12*math.Abs(force) + 60) * math.Abs(slope) * math.Tanh(10*w)
			torque -= e.Mass * slope * bend * w * w
			inertia += e.Mass * slope * slope
		}
		pull := e.Most * (1 - e.Hydraulic*w/30)
		if e.Watt > 0 {
			pull = min(e.Most, e.Watt/max(w, 1))
		}
		c.Pull = append(c.Pull, pull)
		if theta >= next {
			gust, next = e.Gust*noise(), theta+e.Cycle*math.Pi/180/float64(len(e.Fires))
		}
		w = max(w+(torque+pull+gust-e.Drag*math.Tanh(10*w))/inertia*step, 0)
		theta += w * step
	}
	return c
}

// at is the volume of a cylinder whose own angle is th radians.
func (e Engine) at(th float64) (v, slope, bend float64) {
	height, slope, bend := e.lift(th + e.topAngle())
	top := math.Sqrt((e.Rod+e.Throw)*(e.Rod+e.Throw) - e.Offset*e.Offset)
	bottom := math.Sqrt((e.Rod-e.Throw)*(e.Rod-e.Throw) - e.Offset*e.Offset)
	area := math.Pi / 4 * e.Bore * e.Bore
	return area*(top-bottom)/(e.Ratio-1) + area*(top-height), slope, bend
}
