package cause

import (
	"math"
)

// pick draws a word with the given shares.
func (b *bench) pick(words []string, shares ...float64) string {
	x := b.r.Float64()
	for i, s := range shares {
		if x -= s; x < 0 {
			return words[i]
		}
	}
	return words[len(shares)-1]
}

// look is what somebody sees who looks for one fault.
func (b *bench) look(kind, fault, right, wrong string) Evidence {
	p := 0.013
	if b.bad[fault] {
		p = 0.92
	}
	if b.r.Float64() < p {
		return Evidence{Kind: kind, Value: wrong}
	}
	return Evidence{Kind: kind, Value: right}
}

// read is a number read with its uncertainty, and once in seventy wrong.
func (b *bench) read(kind string, at, own, u, lo, hi, turn float64) Evidence {
	v := at + math.Hypot(own, u)*b.r.NormFloat64()
	if b.r.IntN(70) == 0 {
		v = lo + (hi-lo)*b.r.Float64()
	}
	if turn > 0 {
		v = short360(v, turn)
	}
	return Evidence{kind, min(max(v, lo), hi), u}
}

// check makes one check and returns what it shows.
func (b *bench) check(name string) []Evidence {
	switch name {
	case "read the fault codes":
		return []Evidence{{Kind: "fault_code", Value: b.code()}}
	case "watch the exhaust while cranking":
		return []Evidence{{Kind: "smoke", Value: b.smokes()}}
	case "read the cranking speed":
		return []Evidence{b.read("cranking_rpm", b.rpmOf, 0, 8, 0, 400, 0)}
	case "read the rail pressure while cranking":
		return []Evidence{b.read("rail_pressure_bar", b.rail(), 0, 15, 0, 900, 0)}
	case "crank with the cam sensor unplugged":
		return []Evidence{{Kind: "starts_cam_unplugged", Value: b.starts(true, false)}}
	case "crank with the crank sensor unplugged":
		return []Evidence{{Kind: "starts_crank_unplugged", Value: b.starts(false, true)}}
	case "compare rail pressure and set-point while cranking":
		if b.noSpeed() && b.r.IntN(10) > 0 || b.dark() && b.r.IntN(10) > 3 {
			return nil
		}
		return []Evidence{b.read("rail_reached_percent", 100*b.rail()/b.railOf, 0, 4, 0, 150, 0)}
	case "read what the controller shows while cranking":
		return b.shows()
	case "compare the sensors' connectors":
		return []Evidence{b.look("sensor_plugs", "sensor connectors swapped", "right", "swapped")}
	case "measure the battery while cranking":
		if b.volts < 9.6 {
			return []Evidence{{Kind: "cranking_volts", Value: "low"}}
		}
		return []Evidence{{Kind: "cranking_volts", Value: b.pick([]string{"good", "low"}, 0.96, 0.04)}}
	case "crank with a booster battery":
		return []Evidence{{Kind: "starts_boosted", Value: b.cured(b.volts < 9.6, "cranks too slowly").starts(true, true)}}
	case "run it on clean fuel from a can":
		return []Evidence{{Kind: "starts_clean_fuel", Value: b.cured(true, "bad fuel", "air in the fuel or a blocked filter").starts(true, true)}}
	case "see whether the injectors fire":
		return []Evidence{{Kind: "injectors_fire", Value: b.fires()}}
	case "check the controller's power and immobiliser":
		return []Evidence{b.look("controller_power", "controller without power or immobilised", "good", "missing")}
	case "check the sensors' supply and earth":
		return []Evidence{b.look("sensor_supply", "sensor supply or earth", "good", "missing")}
	case "test the crank sensor by itself":
		return []Evidence{b.tested("crank_sensor_test", b.crankState, b.bad["crank sensor dead or its gap wrong"])}
	case "test the cam sensor by itself":
		return []Evidence{b.tested("cam_sensor_test", b.camState, b.bad["cam sensor dead or its gap wrong"])}
	case "look for air in the fuel and a blocked filter":
		return []Evidence{b.look("fuel_lines", "air in the fuel or a blocked filter", "good", "air or blocked")}
	case "measure the injectors' return flow":
		return []Evidence{b.look("injector_return", "injector leaking back", "even", "too much")}
	case "compare the damper's mark with a piston stop":
		return []Evidence{b.read("damper_mark_error_deg", b.damper, 0.3, 0.5, -180, 180, 360)}
	case "compare the compression of all cylinders":
		return []Evidence{b.read("compression_weakest_percent", 100*b.evenness, 2, 3, 0, 100, 0)}
	case "make a leak-down test":
		words := []string{"tight", "past the rings", "past the valves"}
		switch {
		case b.bad["bent valves"]:
			return []Evidence{{Kind: "leak_down", Value: b.pick(words, 0.05, 0.05, 0.9)}}
		case b.bad["poor compression"]:
			return []Evidence{{Kind: "leak_down", Value: b.pick(words, 0.1, 0.6, 0.3)}}
		case b.bad[TimingRight]:
			return []Evidence{{Kind: "leak_down", Value: b.pick(words, 0.85, 0.09, 0.06)}}
		}
		return []Evidence{{Kind: "leak_down", Value: b.pick(words, 0.975, 0.015, 0.01)}}
	case "open the front and look at the cam gear on its shaft":
		return []Evidence{b.look("cam_gear_seat", "cam gear moved on its shaft", "tight", "moved")}
	case "look at a fuel sample":
		return []Evidence{b.look("fuel_sample", "bad fuel", "good", "bad")}
	case "compare the firing order set in the controller":
		return []Evidence{b.look("order_set", "wrong firing order set", "right", "wrong")}
	case "trace the leads to the injectors":
		return []Evidence{b.look("injector_leads", "injectors or their leads crossed", "right", "crossed")}
	case "check the crank sensor's wires":
		return []Evidence{b.look("sensor_wires", "crank sensor wires reversed", "right", "reversed")}
	case "look at the wheel's teeth through the sensor's hole":
		return []Evidence{b.look("wheel_teeth", "wheel tooth bent", "good", "damaged")}
	case "record both sensors while cranking":
		crank := b.pick([]string{b.crankState, "weak", "good"}, 0.95, 0.03, 0.02)
		list := []Evidence{{Kind: "crank_signal", Value: crank}, {Kind: "cam_signal", Value: b.pick([]string{b.camState, "weak", "good"}, 0.95, 0.03, 0.02)}}
		if b.crankState != "none" && b.camState != "none" && crank != "none" && !b.bad["sensor connectors swapped"] {
			list = append(list, b.read("correlation_error_deg", b.delta()-b.gamma(), 0.4, 1, -360, 360, 720))
		}
		return list
	case "find true TDC and compare it with the recording":
		if b.crankState == "none" || b.bad["sensor connectors swapped"] { // it is the cam's signal then
			return nil
		}
		return []Evidence{b.read("tdc_offset_deg", b.delta()-b.trusted(), 0.4, 2, -b.interval/2, b.interval/2, b.interval)}
	case "measure the compression":
		v := math.Abs(short360(b.valves(), 720))
		return []Evidence{b.read("compression_bar", b.barOf*max(1-0.006*max(v-4, 0), 0.25), 0, 1, 0, 60, 0)}
	case "look at the cam wheel on its shaft":
		words := []string{"right", "half a turn out", "moved"}
		switch {
		case b.bad["cam wheel half a turn out"]:
			return []Evidence{{Kind: "cam_wheel_seat", Value: b.pick(words, 0.07, 0.91, 0.02)}}
		case b.bad["cam wheel slipped"]:
			return []Evidence{{Kind: "cam_wheel_seat", Value: b.pick(words, 0.09, 0.02, 0.89)}}
		}
		return []Evidence{{Kind: "cam_wheel_seat", Value: b.pick(words, 0.965, 0.01, 0.025)}}
	case "measure the valve timing":
		return []Evidence{b.read("valve_timing_error_deg", b.valves()-b.trusted(), 1, 2, -360, 360, 720)}
	case "take the damper off and look at the crank wheel":
		return []Evidence{b.look("wheel_side", "wheel back to front", "right", "back to front"),
			b.look("wheel_number", "wheel of another part number", "right", "other"), b.look("wheel_seat", "wheel slipped", "tight", "moved")}
	case "measure the dowel from the keyway":
		return []Evidence{b.read("dowel_error_deg", b.dowel, 0, 0.4, -180, 180, 360)}
	case "hold the crankshaft's nose against the old one":
		return []Evidence{b.look("dowel_side", "dowel mirrored", "same side", "other side")}
	case "open the front and look at the gear marks":
		return []Evidence{b.marks("crank_gear_marks_teeth", b.crankOut), b.marks("cam_gear_marks_teeth", b.camOut)}
	case "open the front and look at the crank gear's key":
		return []Evidence{b.look("crank_key", "key sheared or stepped", "good", "sheared")}
	case "measure the keyway from the No. 1 throw":
		return []Evidence{b.read("keyway_error_deg", b.keyway, 0, 0.4, -180, 180, 360)}
	}
	panic("no bench for " + name)
}

func (b *bench) marks(kind string, out int) Evidence {
	if b.r.Float64() < 0.03 { // miscounted
		out += 1 - 2*b.r.IntN(2)
	}
	return Evidence{Kind: kind, Value: float64(out)}
}

func (b *bench) code() string {
	var set []string
	add := func(name string, p float64) {
		if b.r.Float64() < p {
			set = append(set, name)
		}
	}
	p := 0.02
	if apart := math.Abs(short360(b.delta()-b.gamma(), 720)); apart > 9 && b.crankState != "none" && b.camState != "none" {
		p = 0.58
	}
	if b.dark() && b.r.IntN(3) > 0 {
		return "none"
	}
	add("correlation", p)
	bySignal := map[string]float64{"good": 0.02, "weak": 0.45, "wrong pattern": 0.45, "none": 0.8}
	add("crank sensor", bySignal[b.crankState])
	add("cam sensor", bySignal[b.camState])
	p = 0.02
	switch {
	case b.bad["controller without power or immobilised"]:
	case b.noSpeed(), b.bad["cranks too slowly"]:
		p = 0.25
	case b.reached < 0.55:
		p = 0.6
	}
	add("rail pressure", p)
	if len(set) == 0 {
		return "none"
	}
	return set[b.r.IntN(len(set))]
}

func (b *bench) smokes() string {
	words := []string{"none", "white", "black"}
	switch {
	case b.bad[TimingRight]:
		return b.pick(words, 0.4, 0.4, 0.2)
	case b.starts(true, true):
		return b.pick(words, 0.6, 0.22, 0.18)
	case b.locked, b.reached < 0.2, b.crankState == "none":
		return b.pick(words, 0.9, 0.08, 0.02)
	case b.bad["bad fuel"]:
		return b.pick(words, 0.4, 0.55, 0.05)
	case b.bad["injectors or their leads crossed"], b.bad["wrong firing order set"]:
		return b.pick(words, 0.12, 0.6, 0.28)
	}
	return b.pick(words, 0.16, 0.76, 0.08)
}

// trusted is what a reading from true top dead centre is out by when somebody went by
// the damper's mark.
func (b *bench) trusted() float64 {
	if b.r.IntN(2) == 0 {
		return 0
	}
	return b.damper
}

// cured is the engine with some faults put right for the time of a try.
func (b *bench) cured(works bool, faults ...string) *bench {
	if !works || b.r.IntN(10) == 0 {
		return b
	}
	c := *b
	c.bad = map[string]bool{}
	for name, is := range b.bad {
		c.bad[name] = is
	}
	for _, name := range faults {
		if b.bad[name] {
			c.bad[name], c.reached = false, 0.97
		}
	}
	return &c
}

// tested is a sensor tested by itself.
func (b *bench) tested(kind, state string, bad bool) Evidence {
	words := []string{"good", "open or shorted", "gap wrong"}
	switch {
	case bad && state == "none":
		return Evidence{Kind: kind, Value: b.pick(words, 0.1, 0.86, 0.04)}
	case bad:
		return Evidence{Kind: kind, Value: b.pick(words, 0.13, 0.07, 0.8)}
	}
	return Evidence{Kind: kind, Value: b.pick(words, 0.975, 0.01, 0.015)}
}

// synced tells whether the controller knows where the crank is.
func (b *bench) synced() bool {
	crank, cam := b.serves(b.crankState), b.serves(b.camState)
	switch {
	case b.dark():
		return b.r.IntN(40) == 0
	case b.bad[TimingRight]:
		return b.r.IntN(4) > 0
	case crank && cam:
		return math.Abs(short360(b.delta()-b.gamma(), 720)) < 15 || b.r.IntN(3) == 0
	}
	return crank && b.crankAble
}

func (b *bench) fires() bool {
	switch {
	case b.bad[TimingRight]:
		return b.r.Float64() < 0.6
	case b.locked, b.noSpeed(), !b.synced():
		return b.r.IntN(30) == 0
	case b.reached < 0.5:
		return b.r.IntN(10) > 3
	}
	return b.r.IntN(30) > 0
}

// shows is what the controller shows while cranking.
func (b *bench) shows() []Evidence {
	words := []string{"as cranked", "erratic", "none"}
	speed := b.pick(words, 0.95, 0.03, 0.02)
	switch {
	case b.dark():
		speed = b.pick(words, 0.03, 0.04, 0.93)
	case b.crankState == "none":
		speed = b.pick(words, 0.2, 0.06, 0.74)
	case b.crankState == "wrong pattern":
		speed = b.pick(words, 0.2, 0.6, 0.2)
	case b.crankState == "weak":
		speed = b.pick(words, 0.45, 0.5, 0.05)
	}
	return []Evidence{{Kind: "synchronised", Value: b.synced()}, {Kind: "controller_speed", Value: speed}}
}

// complaint is what the customer says.
func (b *bench) complaint() []Evidence {
	return []Evidence{{Kind: "starts", Value: b.starts(true, true)}}
}
