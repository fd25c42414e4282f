package cause

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// practice is the source of what has none.
const practice = "rule of thumb, no source"

// kinds is every kind of evidence with its likelihood. A number is read with the
// reading's own uncertainty added in quadrature to the spread in Rule; Misread is
// the share of readings that are worth nothing and may show anything. What is not
// said in the evidence is not known, which is not no.
var kinds = []Kind{
	{Name: "starts", Title: "it starts with everything plugged in", Value: YesNo, Misread: 0.01, word: yes(starts),
		Rule:   "97 of 100 while injection starts in the band that ignites and nothing else is wrong; falls off at its ends, and with each fault",
		Source: practice + "; the band from the ignition estimate where the job has enough for one"},
	{Name: "starts_cam_unplugged", Title: "it starts with the camshaft sensor unplugged", Value: YesNo, Misread: 0.01, word: yes(startsOnCrank),
		Rule: "as starts, but only the wheel's error counts, and 6 of 10 ECUs can", Source: practice},
	{Name: "starts_crank_unplugged", Title: "it starts with the crankshaft sensor unplugged", Value: YesNo, Misread: 0.01, word: yes(startsOnCam),
		Rule: "as starts, but only the cam sensor wheel's error counts, and 5 of 10 ECUs can", Source: practice},
	{Name: "kicks_back", Title: "it kicks back against the starter", Value: YesNo, Misread: 0.02, word: yes(kicks),
		Rule: "6 of 10 where injection comes earlier than the band that ignites, 1 of 4 with cylinders crossed, else 2 of 100", Source: practice},
	{Name: "runs_rough", Title: "it runs, but rough", Value: YesNo, Misread: 0.02, word: yes(runsRough),
		Rule: "9 of 10 with bent valves or cylinders crossed, 55 of 100 with leaks, fuel or a poor signal, and more the further timing is off", Source: practice},
	{Name: "lacks_power", Title: "it lacks power", Value: YesNo, Misread: 0.02, word: yes(lacksPower),
		Rule: "85 of 100 with a blocked filter, 6 of 10 with leaks or bad fuel, and more the further timing is off", Source: practice},
	{Name: "dead_cylinder", Title: "one cylinder does not work", Value: YesNo, Misread: 0.02, word: yes(deadCylinder),
		Rule: "85 of 100 with bent valves, 55 with cylinders crossed, 30 with an injector or rings that leak, else 4", Source: practice},
	{Name: "began", Title: "when the trouble began", Value: Word, Words: []string{"after work on the engine", "suddenly", "slowly", "in the cold", "after filling up"}, Shown: []phrase.Text{"after work on the engine", "suddenly", "slowly", "in the cold", "after filling up"}, Misread: 0.03, word: began,
		Aliases: map[string]string{"after work": "after work on the engine", "after repair": "after work on the engine", "after a repair": "after work on the engine", "sudden": "suddenly", "at once": "suddenly",
			"gradually": "slowly", "cold": "in the cold", "in frost": "in the cold", "after fuelling": "after filling up", "after refuelling": "after filling up"},
		Rule: "86 of 100 after work for what is made or fitted wrong, 55 suddenly for what breaks or slips, half slowly for what wears", Source: practice},
	{Name: "smoke", Title: "exhaust smoke while cranking", Value: Word, Words: []string{"none", "white", "black"}, Shown: []phrase.Text{"none", "white", "black"}, Misread: 0.03, word: smoke,
		Aliases: map[string]string{"no": "none", "no smoke": "none", "grey": "white", "gray": "white", "light": "white", "dark": "black"},
		Rule:    "white in 76 of 100 where fuel goes in and does not ignite, none in 94 of 100 where none goes in", Source: practice},
	{Name: "fault_code", Title: "fault code read", Value: Word, Words: []string{"none", "correlation", "crank sensor", "cam sensor", "rail pressure"}, Shown: []phrase.Text{"none", "correlation", "crankshaft sensor", "camshaft sensor", "rail pressure"}, Misread: 0.02, word: faultCode,
		Aliases: map[string]string{"p0016": "correlation", "p0017": "correlation", "p0018": "correlation", "p0019": "correlation",
			"p0335": "crank sensor", "p0336": "crank sensor", "p0337": "crank sensor", "p0338": "crank sensor", "p0339": "crank sensor",
			"p0340": "cam sensor", "p0341": "cam sensor", "p0342": "cam sensor", "p0343": "cam sensor", "p0344": "cam sensor", "p0087": "rail pressure", "no": "none", "crank": "crank sensor", "cam": "cam sensor", "fuel pressure": "rail pressure", "crank-cam correlation": "correlation"},
		Rule:   "a correlation code in 6 of 10 beyond 9°, a sensor's code in 8 of 10 where its signal does not serve, rail pressure in 65 of 100 without it, each else in 2 of 100",
		Source: "meaning of the codes: SAE J2012 / ISO 15031-6, P0016 to P0019; the others not checked against the source; how often they are set: " + practice},
	{Name: "code_active", Title: "the fault code is active, not only stored", Value: YesNo, Misread: 0.02, word: yes(codeActive),
		Rule: "88 of 100 where what is wrong sets a code, else 35", Source: practice},
	{Name: "synchronised", Title: "the ECU reports that it is synchronised while cranking", Value: YesNo, Misread: 0.02, word: yes(synchronised),
		Rule: "98 of 100 with both signals, less beyond 15° of correlation error, half of that on the crank signal alone", Source: practice},
	{Name: "controller_speed", Title: "speed shown by the ECU while cranking", Value: Word, Words: []string{"as cranked", "erratic", "none"}, Shown: []phrase.Text{"the cranking speed", "erratic", "none"}, Misread: 0.01, word: shownSpeed,
		Aliases: map[string]string{"right": "as cranked", "good": "as cranked", "steady": "as cranked", "jumps": "erratic", "wrong": "erratic", "no": "none", "0": "none", "zero": "none"},
		Rule:    "as cranked in 96 of 100 with a good crank signal, none in 70 of 100 with a dead one: some show the cam's", Source: practice},
	{Name: "injectors_fire", Title: "the injectors are driven while cranking", Value: YesNo, Misread: 0.02, word: yes(injectorsFire),
		Rule: "as synchronised; less without rail pressure, hardly ever without speed or power", Source: practice},
	{Name: "crank_signal", Title: "crankshaft signal in a recording", Value: Word, Words: []string{"good", "weak", "wrong pattern", "none"}, Shown: []phrase.Text{"good", "weak", "wrong pattern", "none"}, Misread: 0.01, word: crankSignal,
		Aliases: map[string]string{"ok": "good", "clean": "good", "noisy": "weak", "low": "weak", "wrong": "wrong pattern", "no": "none", "no signal": "none", "dead": "none", "missing": "none"},
		Rule:    "none in 95 of 100 from a dead sensor, weak in 73 of 100 with a wrong gap, noisy or with a wrong pattern in 79 of 100 with a bent tooth; a wheel back to front shows only where its pattern is not the same seen from behind", Source: practice},
	{Name: "cam_signal", Title: "camshaft signal in a recording", Value: Word, Words: []string{"good", "weak", "wrong pattern", "none"}, Shown: []phrase.Text{"good", "weak", "wrong pattern", "none"}, Misread: 0.01, word: camSignal,
		Aliases: map[string]string{"ok": "good", "clean": "good", "noisy": "weak", "low": "weak", "wrong": "wrong pattern", "no": "none", "no signal": "none", "dead": "none", "missing": "none"},
		Rule:    "none in 96 of 100 from a dead sensor, weak in 3 of 4 with a wrong gap", Source: practice},
	{Name: "correlation_error_deg", Title: "crank–cam correlation error", Unit: "°", Min: -360, Max: 360, U: 1, Misread: 0.01, number: correlation, period: turn, told: (*Engine).cycle,
		Rule: "wheel error − camshaft error, ± 0.5°, the short way round: of a turn, which is all that most recordings tell, but of the cycle where it is more than 180°", Source: "geometry; spread: " + practice},
	{Name: "tdc_offset_deg", Title: "ECU's angle at true TDC", Unit: "°", Min: -360, Max: 360, U: 2, Misread: 0.02, number: tdcOffset, period: (*Engine).interval,
		Rule: "wheel error, known within the firing interval, ± 0.5°", Source: "geometry; spread: " + practice},
	{Name: "dowel_error_deg", Title: "dowel from the keyway, measured − drawing", Unit: "°", Min: -360, Max: 360, U: 0.5, Misread: 0.01, number: dowelError, period: turn,
		Rule: "the dowel's error ± 0.3°", Source: "geometry; spread: " + practice},
	{Name: "keyway_error_deg", Title: "keyway from the No. 1 throw, measured − drawing", Unit: "°", Min: -360, Max: 360, U: 0.5, Misread: 0.01, number: keywayError, period: turn,
		Rule: "the keyway's error ± 0.3°", Source: "geometry; spread: " + practice},
	{Name: "valve_timing_error_deg", Title: "valve timing, measured − manual", Unit: "°", Min: -360, Max: 360, U: 2, Misread: 0.02, number: valveTiming, period: (*Engine).cycle,
		Rule: "keyway + slipped key + teeth out + camshaft gear on its shaft, ± 1°", Source: "geometry; spread: " + practice},
	{Name: "damper_mark_error_deg", Title: "vibration damper's TDC mark from true TDC", Unit: "°", Min: -360, Max: 360, U: 0.5, Misread: 0.01, number: damperMark, period: turn,
		Rule: "how far the ring has slipped, ± 0.3°; half of the readings of true TDC trusted the mark", Source: "geometry; spread: " + practice},
	{Name: "crank_gear_marks_teeth", Title: "crankshaft gear's timing mark, teeth out", Unit: "teeth", Min: -50, Max: 50, Whole: true, U: 0.1, Misread: 0.004, Slip: 0.025, number: crankMarks,
		Rule: "teeth out at the crankshaft gear, camshaft ahead counting positive; without an idler gear, at the one mesh there is; miscounted by one in 25 of 1000", Source: "geometry; miscounting: " + practice},
	{Name: "cam_gear_marks_teeth", Title: "camshaft gear's timing mark, teeth out", Unit: "teeth", Min: -50, Max: 50, Whole: true, U: 0.1, Misread: 0.004, Slip: 0.025, number: camMarks,
		Rule: "teeth out at the camshaft gear, camshaft ahead counting positive; without an idler gear, at the one mesh there is; miscounted by one in 25 of 1000", Source: "geometry; miscounting: " + practice},
	{Name: "compression_bar", Title: "measured compression", Unit: "bar", Min: 0, Max: 100, U: 1, Misread: 0.01, judged: true, number: compression,
		Rule: "what the engine should reach; less by 0.6 % for each degree that the valves are more than 4° off; 58 ± 13 % of it when poor, 85 % when cranked slowly", Source: practice},
	{Name: "compression_weakest_percent", Title: "compression of the weakest cylinder as a share of the strongest", Unit: "%", Min: 0, Max: 100, U: 3, Misread: 0.02, judged: true, number: weakest,
		Rule: "93 ± 4 %; 76 ± 14 % when poor, 35 ± 25 % with bent valves", Source: "makers allow 5 bar of 30, or 3.4 bar of 20.7, between cylinders; spread: " + practice},
	{Name: "rail_pressure_bar", Title: "rail pressure while cranking", Unit: "bar", Min: 0, Max: 3000, U: 15, Misread: 0.01, judged: true, number: railPressure,
		Rule: "330 bar ± 22 %; of it 12 ± 13 % without fuel pressure, 38 % starved, 45 % with an injector that leaks back, 80 % when cranked slowly; 6 in 10 ECUs build none while they see no speed, 1 in 4 while it comes and goes", Source: practice},
	{Name: "rail_reached_percent", Title: "rail pressure reached, share of the set-point", Unit: "%", Min: 0, Max: 200, U: 4, Misread: 0.02, judged: true, number: railReached,
		Rule: "98 ± 5 %; falls as the rail pressure does", Source: practice},
	{Name: "cranking_volts", Title: "battery voltage while cranking", Value: Word, Words: []string{"good", "low"}, Shown: []phrase.Text{"good", "low"}, Misread: 0.01, word: crankingVolts,
		Aliases: map[string]string{"ok": "good", "bad": "low", "weak": "low"},
		Rule:    "low in 7 of 10 that crank too slowly, else in 5 of 100; good is 9.6 V or more of 12 V, 19.2 V or more of 24 V", Source: practice},
	{Name: "starts_boosted", Title: "it starts with a booster battery", Value: YesNo, Misread: 0.01, word: yes(startsBoosted),
		Rule: "as starts, with slow cranking cured in 6 of 10", Source: practice},
	{Name: "starts_clean_fuel", Title: "it starts on clean fuel from a can", Value: YesNo, Misread: 0.01, word: yes(startsOnCleanFuel),
		Rule: "as starts, with bad fuel, air and a blocked filter cured in 85 of 100", Source: practice},
	{Name: "cranking_rpm", Title: "cranking speed", Unit: "rpm", Min: 0, Max: 1000, U: 8, Misread: 0.01, judged: true, number: crankingSpeed,
		Rule: "what the starter gives ± 12 %; about half of it when too slow", Source: practice + "; a diesel wants 80 to 200 rpm (Bosch, Automotive Handbook; not checked against the source)"},
	look("wheel_side", "which way round the crank sensor wheel is", "right", "back to front", WheelTurned, "reversed", "backwards", "turned", "flipped"),
	look("wheel_number", "crank sensor wheel's part number", "right", "other", WheelOther, "different", "another", "other part number"),
	look("wheel_seat", "crank sensor wheel on its seat", "tight", "moved", WheelMoved, "slipped", "loose"),
	look("wheel_teeth", "crank sensor wheel's teeth", "good", "damaged", ToothBent, "bent", "broken", "missing", "chipped"),
	look("dowel_side", "dowel compared with the old crankshaft", "same side", "other side", OtherSide, "other", "opposite", "opposite side", "mirrored"),
	look("crank_key", "crankshaft gear's key", "good", "sheared or partly sheared", KeyBroken, "stepped", "broken", "worn").wrongIs("sheared"),
	{Name: "cam_wheel_seat", Title: "cam sensor wheel on its shaft", Value: Word, Words: []string{"right", "half a turn out", "moved"}, Shown: []phrase.Text{"right", "half a turn out", "moved"}, Misread: 0.003, word: camSeat,
		Aliases: map[string]string{"good": "right", "ok": "right", "tight": "right", "half a turn": "half a turn out", "half turn": "half a turn out", "slipped": "moved", "loose": "moved"},
		Rule:    "what is wrong is seen in 9 of 10", Source: practice},
	look("cam_gear_seat", "camshaft gear on its shaft", "tight", "moved", CamGearMoved, "slipped", "loose"),
	{Name: "crank_sensor_test", Title: "crankshaft sensor tested by itself", Value: Word, Words: []string{"good", "open or shorted", "gap wrong"}, Shown: []phrase.Text{"good", "open or shorted", "air gap wrong"}, Misread: 0.005, word: testedSensor(CrankDead, CrankWeak),
		Aliases: sensorAliases, Rule: "resistance or switching, and the air gap: what is wrong is found in 8 to 9 of 10", Source: practice},
	{Name: "cam_sensor_test", Title: "camshaft sensor tested by itself", Value: Word, Words: []string{"good", "open or shorted", "gap wrong"}, Shown: []phrase.Text{"good", "open or shorted", "air gap wrong"}, Misread: 0.005, word: testedSensor(CamDead, CamWeak),
		Aliases: sensorAliases, Rule: "resistance or switching, and the air gap: what is wrong is found in 8 to 9 of 10", Source: practice},
	look("sensor_supply", "sensors' supply and earth", "good", "missing", SupplyLost, "low", "open", "lost"),
	look("sensor_plugs", "connectors of crank and camshaft sensor", "right", "swapped", PlugsSwapped, "crossed", "exchanged"),
	look("controller_power", "ECU's power, earth and immobiliser", "good", "missing", ControllerOff|Locked, "no power", "immobilised", "locked"),
	look("sensor_wires", "crankshaft sensor's wires", "right", "swapped (polarity reversed)", WiresReversed, "swapped", "crossed").wrongIs("reversed"),
	look("injector_leads", "injector wiring", "right", "connected to the wrong cylinders", LeadsCrossed, "swapped").wrongIs("crossed"),
	look("order_set", "firing order in the ECU", "right", "wrong", OrderWrong),
	look("fuel_lines", "fuel lines and filter", "good", "air or blocked", FuelStarved, "air", "blocked", "clogged", "bubbles"),
	look("injector_return", "injectors' return flow", "even", "too much", InjectorLeak, "high", "uneven", "leaks"),
	{Name: "leak_down", Title: "leak-down test: where the air goes", Value: Word, Words: []string{"tight", "past the rings", "past the valves"}, Shown: []phrase.Text{"tight", "past the rings", "past the valves"}, Misread: 0.003, word: leakDown,
		Aliases: map[string]string{"good": "tight", "ok": "tight", "rings": "past the rings", "crankcase": "past the rings", "valves": "past the valves", "intake": "past the valves", "exhaust": "past the valves"},
		Rule:    "past the valves in 91 of 100 with bent ones, past the rings in 6 of 10 with low compression", Source: practice},
	look("fuel_sample", "fuel sample", "good", "bad", BadFuel, "water", "petrol", "gasoline", "gelled", "contaminated"),
	{Name: "replaced", Title: "replaced just before the fault appeared", Value: Word, Words: partNames(), Shown: partTitles(), Aliases: partAliases, parts: true,
		Rule: "each thing that can be wrong with the new part becomes 4 times as probable", Source: practice},
	{Name: "replaced_in_vain", Title: "replaced since, without effect", Value: Word, Words: partNames(), Shown: partTitles(), Aliases: partAliases, parts: true,
		Rule: "each thing that a new part puts right becomes 7 times less probable", Source: practice},
}

func turn(*Engine) timing.Deg { return timing.Turn }

func (e *Engine) interval() timing.Deg { return e.Interval }

// sensorAliases are other words for what a sensor's test shows.
var sensorAliases = map[string]string{"ok": "good", "right": "good", "open": "open or shorted", "shorted": "open or shorted", "dead": "open or shorted", "bad": "open or shorted", "gap": "gap wrong", "wide": "gap wrong"}

// wrongIs is the kind with another word for what is wrong in job files than people
// read.
func (k Kind) wrongIs(word string) Kind {
	for a := range k.Aliases {
		k.Aliases[a] = word
	}
	k.Words[1] = word
	return k
}

// look is a part that is looked at for one thing, with other words for what is
// wrong.
func look(name string, title, right, wrong phrase.Text, of Wrong, also ...string) Kind {
	aliases := map[string]string{}
	for _, a := range also {
		aliases[a] = string(wrong)
	}
	return Kind{look: true, Aliases: aliases, Name: name, Title: title, Value: Word, Words: []string{string(right), string(wrong)}, Shown: []phrase.Text{right, wrong}, Misread: 0.001, word: found(of),
		Rule: "seen in 93 of 100, and in 1 of 500 where it is not", Source: practice}
}
