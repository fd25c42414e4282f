package simulate

import "math"

// Second is an engine by another maker, who takes other things for granted than
// [Engine] does:
//
//   - heat goes to walls of two temperatures by Woschni's law, which knows pressure,
//     temperature and the piston's speed (Woschni 1967, SAE 670931; from memory), and
//     the gas's heat grows with its temperature;
//   - rings are two throats with a small room between them: gas goes in and comes back;
//   - friction follows Stribeck's curve, high at rest, least at some speed, and rises
//     with the pressure on the rings;
//   - the starter is a series-wound motor with its own inertia behind a freewheel, fed by
//     a battery that sags under current;
//   - the sensor wheel sits on the nose, a belt with a flywheel's inertia on it, and the
//     flywheel turns behind a shaft that twists.
//
// All of it is invented. Units are SI, fires in degrees.
type Second struct {
	Cycle                            float64
	Fires                            []float64
	Bore, Throw, Rod, Offset, Ratio  float64
	Closes, Opens                    float64 // degrees after, before bottom dead centre
	Flywheel, Nose, Belt             float64 // kg m2 behind the shaft, at the nose, and driven by the belt
	Twist                            float64 // N m a radian of the shaft
	BeltHold                         float64 // N m a radian of the belt
	Mass                             float64 // kg up and down
	Swirl                            float64 // of the gas over the piston's mean speed, for the heat
	HeatTimes                        float64 // factor on Woschni's law
	PistonK, LinerK                  float64
	Throat                           float64   // m2 of each of the two
	RingRoom                         float64   // m3 between them
	Blow                             []float64 // m2 past the rings of each cylinder besides; nil: none
	Boundary, Least                  float64   // N m of friction a cylinder at rest, and where it is least
	Speed0                           float64   // rad/s over which it falls
	Film                             float64   // N m s of each cylinder
	Loaded                           float64   // share of the gas force that rubs on the liner
	Volts, Ohm, Internal, SagSeconds float64   // battery; SagSeconds after which it has lost 10 %
	FluxA                            float64   // A at which the field saturates
	MotorK                           float64   // N m per A, saturated
	Gear                             float64   // motor to crank
	Armature                         float64   // kg m2 of the motor
	AirK, AirPa                      float64
	ValveArea                        float64 // m2, open
	Roughness                        float64 // N m, standard deviation of a random torque
}

// secondGas is one cylinder's.
type secondGas struct{ m, t, pa, v, room float64 }

// Crank turns the engine by its starter from a standstill at start degrees.
func (e Second) Crank(seconds, start float64, noise func() float64) Course {
	const step = 50e-6
	kin := Engine{Cycle: e.Cycle, Fires: e.Fires, Bore: e.Bore, Throw: e.Throw, Rod: e.Rod, Offset: e.Offset, Ratio: e.Ratio}
	c := Course{Step: step, Peak: make([]float64, len(e.Fires))}
	nose, fly := start*math.Pi/180, start*math.Pi/180
	wn, wf := 0.0, 0.0
	belt, wb := nose, 0.0
	motor, rough, drained := 0.0, 0.0, 0.0
	gas := make([]secondGas, len(e.Fires))
	for i := range gas {
		v, _, _ := kin.volume(i, nose)
		gas[i] = secondGas{m: e.AirPa * v / (gasConstant * e.AirK), t: e.AirK, pa: e.AirPa, v: v, room: e.AirPa}
	}
	for n := int(seconds / step); n > 0; n-- {
		c.Theta, c.Omega, c.First = append(c.Theta, nose), append(c.Omega, wn), append(c.First, gas[0].pa)
		torque, moving := 0.0, e.Nose
		for i := range gas {
			t, j := e.cylinder(kin, i, &gas[i], nose, wn, step)
			torque += t
			moving += j
			c.Peak[i] = max(c.Peak[i], gas[i].pa)
		}
		// Starter: back voltage against the sagging battery; it drives through a freewheel.
		volts := e.Volts * (1 - 0.1*drained/e.SagSeconds)
		amps := e.amps(volts, motor)
		drained += step * amps / 300
		shaft := e.MotorK * amps * amps / (amps + e.FluxA)
		drive := 0.0
		if slip := motor - wf*e.Gear; slip >= -1e-9 {
			// Engaged: motor and flywheel turn as one.
			drive = shaft * e.Gear
			both := e.Flywheel + e.Armature*e.Gear*e.Gear
			twist := e.Twist*(nose-fly) + 0.002*math.Sqrt(e.Twist)*(wn-wf)
			a := (drive + twist) / both
			if pull := shaft - e.Armature*e.Gear*a; pull > 0 {
				wf = max(wf+a*step, 0)
				motor = wf * e.Gear
			} else { // the crank runs away from it
				wf = max(wf+twist/e.Flywheel*step, 0)
				motor += shaft / e.Armature * step
			}
		} else {
			drive = 0
			twist := e.Twist*(nose-fly) + 0.002*math.Sqrt(e.Twist)*(wn-wf)
			wf = max(wf+twist/e.Flywheel*step, 0)
			motor += shaft / e.Armature * step
			if motor > wf*e.Gear {
				motor = wf * e.Gear
			}
		}
		c.Pull = append(c.Pull, drive)
		rough += -rough*step/0.1 + e.Roughness*math.Sqrt(2*step/0.1)*noise()
		torque += rough - e.Twist*(nose-fly) - 0.002*math.Sqrt(e.Twist)*(wn-wf)
		torque -= e.BeltHold*(nose-belt) + 0.02*math.Sqrt(e.BeltHold)*(wn-wb)
		wb += (e.BeltHold*(nose-belt) + 0.02*math.Sqrt(e.BeltHold)*(wn-wb)) / e.Belt * step
		drag := 0.0
		for i := range gas {
			_, slope, _ := kin.lift(nose - e.Fires[i]*math.Pi/180)
			stribeck := (e.Boundary-e.Least)*math.Exp(-math.Abs(wn)/e.Speed0) + e.Least
			drag += stribeck + e.Film*math.Abs(wn) + e.Loaded*math.Abs(slope)*max(gas[i].pa-e.AirPa, 0)*math.Pi/4*e.Bore*e.Bore
		}
		torque -= drag * math.Tanh(wn*20)
		wn += torque / moving * step
		if wn < -0.5 {
			wn = -0.5
		}
		nose += wn * step
		fly += wf * step
		belt += wb * step
	}
	// The nose may swing back by a hair while it starts: the course is where it has come to.
	for i := 1; i < len(c.Theta); i++ {
		c.Theta[i] = max(c.Theta[i], c.Theta[i-1])
	}
	return c
}

// amps the motor draws: volts = I (R + Ri) + k flux(I) w.
func (e Second) amps(volts, motor float64) float64 {
	lo, hi := 0.0, volts/(e.Ohm+e.Internal)
	for range 30 {
		i := (lo + hi) / 2
		if i*(e.Ohm+e.Internal)+e.MotorK*i/(i+e.FluxA)*motor > volts {
			hi = i
		} else {
			lo = i
		}
	}
	return lo
}

// cylinder carries one cylinder's gas on and returns the torque of gas and masses, and
// their inertia.
func (e Second) cylinder(kin Engine, i int, g *secondGas, theta, w, dt float64) (torque, inertia float64) {
	v, own, th := kin.volume(i, theta)
	area := math.Pi / 4 * e.Bore * e.Bore
	dv := v - g.v
	g.v = v
	heats := 718 + 0.12*(g.t-300) // J/(kg K)
	closed := own > -180+e.Closes && own < 180-e.Opens
	flow := 0.0 // into the cylinder, kg/s
	enters := g.t
	outside := kin
	outside.Gamma, outside.AirPa, outside.AirK = 1.39, e.AirPa, e.AirK
	if closed {
		// Cylinder to the room between the rings, and on to the crankcase.
		first := outside
		first.AirPa, first.AirK = g.room, e.PistonK
		in := e.Throat * first.jet(g.pa, g.t)
		out := e.Throat * outside.jet(g.room, e.PistonK)
		g.room = max(g.room+(in-out)*gasConstant*e.PistonK/e.RingRoom*dt, 0.5*e.AirPa)
		flow = -in
		if len(e.Blow) > 0 {
			flow -= e.Blow[i] * outside.jet(g.pa, g.t)
		}
	} else {
		flow = -e.ValveArea * outside.jet(g.pa, g.t)
		g.room += (e.AirPa - g.room) * min(1, dt/0.01)
	}
	if flow > 0 {
		enters = e.AirK
	}
	meanSpeed := 2 * e.Throw * math.Abs(w) / math.Pi
	gasSpeed := 2.28*meanSpeed + e.Swirl*meanSpeed
	h := e.HeatTimes * 3.26 * math.Pow(e.Bore, -0.2) * math.Pow(g.pa/1000, 0.8) * math.Pow(g.t, -0.55) * math.Pow(gasSpeed+0.05, 0.8)
	liner := math.Pi * e.Bore * v / area
	heat := h * (2*area*(g.t-e.PistonK) + liner*(g.t-e.LinerK))
	energy := -g.pa*dv - heat*dt + flow*dt*(heats+gasConstant)*enters
	m := max(g.m+flow*dt, 1e-7)
	g.t = max((g.m*heats*g.t+energy)/(m*heats), 150)
	g.m = m
	g.pa = m * gasConstant * g.t / v
	_, slope, bend := kin.lift(th)
	torque = -(g.pa-e.AirPa)*area*slope - e.Mass*slope*bend*w*w
	return torque, e.Mass * slope * slope
}
