package simulate

import "math"

// Engine is what turns. All of it is invented.
type Engine struct {
	Cycle  float64   // degrees, 720 or 360
	Fires  []float64 // firing top dead centre of each cylinder, degrees of the cycle
	Bore   float64   // m
	Throw  float64
	Rod    float64
	Offset float64 // of the wrist pin, positive towards the side the crankpin swings to after top
	Ratio  float64 // of compression

	Closes float64 // intake, degrees after bottom dead centre
	Opens  float64 // exhaust, degrees before bottom dead centre

	Inertia  float64 // kg m2, of everything that turns, at the crank
	Mass     float64 // kg that go up and down, each cylinder
	Dry      float64 // N m of friction at any speed
	Viscous  float64 // N m s of friction that grows with the speed
	Ring     float64 // N m of each piston's friction where it is fastest
	Stall    float64 // N m of the starter, at the crank
	FreeRPM  float64 // speed at which it pulls no more
	Sag      float64 // share of the stall torque lost each second as the battery tires
	Flutter  float64 // standard deviation of a slow random torque, N m
	Gamma    float64 // cp/cv
	WallK    float64
	Heat     float64 // W/(m2 K) to the walls, mean
	Leak     float64 // m2 past the rings, times discharge coefficient
	AirK     float64
	AirPa    float64
	Strength []float64 // of each cylinder: 1 is sound; less leaks more. nil: all sound
	Valve    float64   // seconds in which an open cylinder's pressure follows the air outside
	Throttle float64   // Pa below the air outside while it draws
	CamLate  float64   // degrees by which the valves are late
}

// Typical returns an engine of cylinders that fire evenly, with all else as such
// engines have it, common practice, no source.
func Typical(cylinders int) Engine {
	e := Engine{
		Cycle: 720, Bore: 0.108, Throw: 0.063, Rod: 0.207, Ratio: 17,
		Closes: 36, Opens: 48,
		Inertia: 0.35 + 0.22*float64(cylinders), Mass: 2.2, Dry: 9 * float64(cylinders), Viscous: 0.25 * float64(cylinders), Ring: 4,
		Stall: 95 * float64(cylinders), FreeRPM: 330,
		Gamma: 1.385, WallK: 290, Heat: 130, Leak: 0.45e-6, AirK: 295, AirPa: 101000, Valve: 0.003, Throttle: 2500,
	}
	if cylinders <= 3 {
		e.Stall, e.Inertia = 130*float64(cylinders), 1.1
	}
	for i := range cylinders {
		e.Fires = append(e.Fires, 720*float64(i)/float64(cylinders))
	}
	return e
}

// lift returns how far a piston stands below the top of its path measured from
// the crankshaft's centre, the change per radian and the change of that, when its
// throw has turned by th from pointing along the cylinder. The rod leans by beta:
// sin beta = (throw sin th - offset)/rod.
func (e Engine) lift(th float64) (height, slope, bend float64) {
	side := e.Throw*math.Sin(th) - e.Offset
	beta := math.Asin(side / e.Rod)
	height = e.Throw*math.Cos(th) + e.Rod*math.Cos(beta)
	turn := e.Throw * math.Cos(th) / (e.Rod * math.Cos(beta)) // d beta/d th
	slope = -e.Throw*math.Sin(th) - e.Rod*math.Sin(beta)*turn
	const h = 1e-5
	before, after := th-h, th+h
	bend = (e.slope(after) - e.slope(before)) / (2 * h)
	return height, slope, bend
}

func (e Engine) slope(th float64) float64 {
	side := e.Throw*math.Sin(th) - e.Offset
	beta := math.Asin(side / e.Rod)
	return -e.Throw*math.Sin(th) - math.Tan(beta)*e.Throw*math.Cos(th)
}

// topAngle is where the piston really stands highest.
func (e Engine) topAngle() float64 { return math.Asin(e.Offset / (e.Throw + e.Rod)) }

const gasConstant = 287.05 // J/(kg K), air

// cylinder is one cylinder's gas.
type cylinder struct {
	mass, temp float64
	pa         float64
	volume     float64
	leak       float64
}

// state is the whole engine at an instant.
type state struct {
	t, theta, omega float64 // s, rad since cylinder 1's firing top dead centre, rad/s
	gas             []cylinder
	slow            float64 // the random torque
}

// Course is where the crank was at each instant.
type Course struct {
	Step  float64 // seconds
	Theta []float64
	Omega []float64
	Peak  []float64 // highest pressure of each cylinder, Pa
	First []float64 // pressure of cylinder 1, Pa
	Pull  []float64 // of the starter, N m
}

// Crank turns the engine by its starter for some seconds from a standstill at
// start degrees, or, when rpm is above 0, from that speed. noise gives standard
// normal numbers.
func (e Engine) Crank(seconds, start, rpm float64, noise func() float64) Course {
	const step = 40e-6
	c := Course{Step: step, Peak: make([]float64, len(e.Fires))}
	s := state{theta: start * math.Pi / 180, omega: rpm * math.Pi / 30, gas: make([]cylinder, len(e.Fires))}
	for i := range s.gas {
		v, _, _ := e.volume(i, s.theta)
		s.gas[i] = cylinder{mass: e.AirPa * v / (gasConstant * e.AirK), temp: e.AirK, pa: e.AirPa, volume: v, leak: e.Leak}
		if len(e.Strength) > 0 {
			s.gas[i].leak += (1 - e.Strength[i]) * 8e-6
		}
	}
	pull := 0.0
	for n := int(seconds / step); n > 0; n-- {
		c.Theta, c.Omega, c.Pull, c.First = append(c.Theta, s.theta), append(c.Omega, s.omega), append(c.Pull, pull), append(c.First, s.gas[0].pa)
		torque, inertia := 0.0, e.Inertia
		for i := range s.gas {
			t, j := e.cylinderStep(i, &s, step)
			torque += t
			inertia += j
			c.Peak[i] = max(c.Peak[i], s.gas[i].pa)
		}
		pull = max(e.Stall*(1-e.Sag*s.t)*(1-s.omega/(e.FreeRPM*math.Pi/30)), 0)
		s.slow += -s.slow*step/0.15 + e.Flutter*math.Sqrt(2*step/0.15)*noise()
		drag := e.Dry + e.Viscous*s.omega
		total := torque + pull + s.slow
		switch {
		case s.omega > 0:
			total -= drag
		case math.Abs(total) < drag:
			total = 0 // it sticks
		default:
			total -= math.Copysign(drag, total)
		}
		s.omega += total / inertia * step
		if s.omega < 0 {
			s.omega = 0 // the starter's pinion holds it
		}
		s.theta += s.omega * step
		s.t += step
	}
	return c
}

// volume returns a cylinder's volume, its own angle in degrees round firing top
// dead centre, -cycle/2 to cycle/2, and where its throw stands.
func (e Engine) volume(i int, theta float64) (v, own, th float64) {
	th = theta - e.Fires[i]*math.Pi/180 + e.topAngle()
	own = math.Mod(theta*180/math.Pi-e.Fires[i]+1000*e.Cycle+e.Cycle/2, e.Cycle) - e.Cycle/2
	height, _, _ := e.lift(th)
	top := math.Sqrt((e.Rod+e.Throw)*(e.Rod+e.Throw) - e.Offset*e.Offset)
	bottom := math.Sqrt((e.Rod-e.Throw)*(e.Rod-e.Throw) - e.Offset*e.Offset)
	area := math.Pi / 4 * e.Bore * e.Bore
	clearance := area * (top - bottom) / (e.Ratio - 1)
	return clearance + area*(top-height), own, th
}

// cylinderStep carries a cylinder's gas on by a step and returns the torque it
// and its moving masses exert, and the inertia of those masses at the crank.
func (e Engine) cylinderStep(i int, s *state, dt float64) (torque, inertia float64) {
	g := &s.gas[i]
	v, own, th := e.volume(i, s.theta)
	area := math.Pi / 4 * e.Bore * e.Bore
	dv := v - g.volume
	g.volume = v
	closed := own > -180+e.Closes+e.CamLate && own < 180-e.Opens+e.CamLate
	if closed {
		// dU = -p dV - heat - h dm, ideal gas with constant heats.
		cv := gasConstant / (e.Gamma - 1)
		wall := 2*area + math.Pi*e.Bore*(v/area)
		heat := e.Heat * (1 + 0.35*math.Sqrt(s.omega/20)) * wall * (g.temp - e.WallK) * dt
		flow := g.leak * e.jet(g.pa, g.temp) * dt
		into := cv * (g.temp)
		if flow < 0 {
			into = e.Gamma * cv * e.AirK // air comes back from the crankcase
		} else {
			into = e.Gamma * into
		}
		energy := g.mass*cv*g.temp - g.pa*dv - heat - into*flow
		g.mass -= flow
		g.temp = energy / (g.mass * cv)
		g.pa = g.mass * gasConstant * g.temp / v
	} else {
		target := e.AirPa
		if own < 0 && own > -e.Cycle/2 && e.Cycle > 500 { // drawing
			target -= e.Throttle * math.Min(1, s.omega/20)
		} else {
			target += e.Throttle * 0.5 * math.Min(1, s.omega/20)
		}
		g.pa += (target - g.pa) * math.Min(1, dt/e.Valve)
		g.temp += (e.AirK + 12 - g.temp) * math.Min(1, dt/(4*e.Valve))
		g.mass = g.pa * v / (gasConstant * g.temp)
	}
	_, slope, bend := e.lift(th)
	torque = -(g.pa - e.AirPa) * area * slope
	torque -= e.Mass * slope * bend * s.omega * s.omega
	torque -= e.Ring * math.Abs(slope) / e.Throw * math.Min(1, s.omega)
	return torque, e.Mass * slope * slope
}

// jet returns the mass flow through a hole of 1 m2 from gas to the air outside,
// choked or not; negative when it flows in.
func (e Engine) jet(pa, temp float64) float64 {
	hi, lo, k, sign := pa, e.AirPa, temp, 1.0
	if pa < e.AirPa {
		hi, lo, k, sign = e.AirPa, pa, e.AirK, -1
	}
	g := e.Gamma
	r := math.Max(lo/hi, math.Pow(2/(g+1), g/(g-1)))
	return sign * hi / math.Sqrt(gasConstant*k) * math.Sqrt(2*g/(g-1)*(math.Pow(r, 2/g)-math.Pow(r, (g+1)/g)))
}
