package cause

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Fault is one thing that can be wrong.
type Fault struct {
	Name  string      // for programs: "dowel mirrored"
	Title phrase.Text // for people, in a few words
	Says  phrase.Text // what it is, in a sentence
	Prior float64     // how probable it is alone among all that can be wrong; see [PairShare]
	part  string      // what can be wrong in only one way at a time
	make  func(e *Engine, pair bool) []branch
}

// branch is one way in which a fault can be: a state, and for an angle that is
// not known the direction in which it moves and its spread.
type branch struct {
	weight float64
	state  State
	dir    State
	spread spread
}

func fixed(s State) func(*Engine, bool) []branch {
	return func(*Engine, bool) []branch { return []branch{{weight: 1, state: s}} }
}

func unknown(s, dir State, sp spread) func(*Engine, bool) []branch {
	return func(*Engine, bool) []branch { return []branch{{weight: 1, state: s, dir: dir, spread: sp}} }
}

// TimingRight is the name of the cause that nothing is wrong with timing.
const TimingRight = "timing right, look elsewhere"

// faults are all that this package knows, with how probable each is alone before
// anything is seen, on an engine that was worked on and then gave trouble. They
// add up to 1. Every prior, and how an unknown angle is spread, is common
// practice, no source: change them where you know better.
var faults = []Fault{
	{Name: TimingRight, Title: "timing correct, look elsewhere", Says: "Timing is correct: the trouble is something else.", Prior: 0.08, part: "all",
		make: fixed(State{Wrong: Elsewhere})},
	{Name: "dowel mirrored", Title: "dowel mirrored", Says: "The dowel is on the other side of the keyway than drawn.", Prior: 0.045, part: "dowel", make: mirrored},
	{Name: "dowel at a wrong angle", Title: "dowel at the wrong angle", Says: "The dowel is at the wrong angle to the keyway.", Prior: 0.03, part: "dowel",
		make: unknown(State{}, State{Dowel: 1}, nearZero(0.6, 15, 180))},
	{Name: "keyway off", Title: "keyway at the wrong angle", Says: "The keyway is at the wrong angle to the No. 1 throw.", Prior: 0.015, part: "keyway", make: keywayOff},
	{Name: "key sheared or stepped", Title: "key sheared or partly sheared", Says: "The crankshaft gear's key is sheared or partly sheared, and the gear has slipped on the crankshaft.", Prior: 0.025, part: "key",
		make: unknown(State{Wrong: KeyBroken}, State{Slip: 1}, nearZero(0.6, 8, 180))},
	{Name: "wheel back to front", Title: "crank sensor wheel back to front", Says: "The crank sensor wheel is fitted back to front.", Prior: 0.03, part: "wheel",
		make: unknown(State{Wrong: WheelTurned}, State{Wheel: 1}, even(180))},
	{Name: "wheel of another part number", Title: "crank sensor wheel with another part number", Says: "The crank sensor wheel has another part number, and its reference tooth is elsewhere.", Prior: 0.04, part: "wheel", make: otherWheel},
	{Name: "wheel slipped", Title: "crank sensor wheel slipped", Says: "The crank sensor wheel has slipped on its seat.", Prior: 0.03, part: "wheel",
		make: unknown(State{Wrong: WheelMoved}, State{Wheel: 1}, nearZero(0.5, 12, 180))},
	{Name: "wheel tooth bent", Title: "tooth of the crank sensor wheel bent", Says: "A tooth of the crank sensor wheel is bent or broken.", Prior: 0.025, part: "teeth",
		make: fixed(State{Wrong: ToothBent})},
	{Name: "crank gear out by teeth", Title: "crankshaft gear one or more teeth out", Says: "The crankshaft gear is fitted one or more teeth out.", Prior: 0.04, part: "crank mesh",
		make: teeth(func(k int) State { return State{CrankOut: k} })},
	{Name: "cam gear out by teeth", Title: "camshaft gear one or more teeth out", Says: "The camshaft gear is fitted one or more teeth out.", Prior: 0.05, part: "cam mesh",
		make: teeth(func(k int) State { return State{CamOut: k} })},
	{Name: "cam wheel half a turn out", Title: "cam sensor wheel half a turn out", Says: "The cam sensor wheel sits half a turn out on the camshaft.", Prior: 0.025, part: "cam wheel",
		make: func(e *Engine, _ bool) []branch {
			return []branch{{weight: 1, state: State{CamWheel: e.cycle() / 2, Wrong: CamWheelHalf}}}
		}},
	{Name: "cam wheel slipped", Title: "cam sensor wheel slipped", Says: "The cam sensor wheel has slipped on the camshaft.", Prior: 0.025, part: "cam wheel",
		make: func(e *Engine, _ bool) []branch {
			return []branch{{weight: 1, state: State{Wrong: CamWheelMoved}, dir: State{CamWheel: 1}, spread: nearZero(0.6, 20, float64(e.cycle()/2))}}
		}},
	{Name: "cam gear moved on its shaft", Title: "camshaft gear moved on its shaft", Says: "The camshaft gear has moved on the camshaft: its key or its bolts have given way.", Prior: 0.02, part: "cam gear",
		make: unknown(State{Wrong: CamGearMoved}, State{CamGear: 1}, nearZero(0.6, 10, 180))},
	{Name: "damper ring slipped", Title: "vibration damper's ring slipped", Says: "The vibration damper's ring has slipped: its TDC mark is wrong, timing itself is not.", Prior: 0.01, part: "damper",
		make: damperSlipped},
	{Name: "sensor supply or earth", Title: "sensor supply or earth", Says: "The supply or the earth that the sensors share is missing.", Prior: 0.015, part: "sensor supply",
		make: func(*Engine, bool) []branch {
			return []branch{{weight: railCut, state: State{Wrong: SupplyLost | RailCut}}, {weight: 1 - railCut, state: State{Wrong: SupplyLost}}}
		}},
	{Name: "sensor connectors swapped", Title: "sensor connectors swapped", Says: "The connectors of crankshaft sensor and camshaft sensor are swapped.", Prior: 0.015, part: "sensor plugs",
		make: badly(PlugsSwapped, RailCut, weakCut)},
	{Name: "crank sensor wires reversed", Title: "crankshaft sensor wires swapped", Says: "The wires of the crankshaft sensor are swapped (polarity reversed).", Prior: 0.03, part: "crank wires", make: reversed},
	{Name: "crank sensor dead or its gap wrong", Title: "crankshaft sensor dead or its air gap wrong", Says: "The crankshaft sensor is dead or its air gap is wrong.", Prior: 0.06, part: "crank sensor",
		make: crankSensor},
	{Name: "cam sensor dead or its gap wrong", Title: "camshaft sensor dead or its air gap wrong", Says: "The camshaft sensor is dead or its air gap is wrong.", Prior: 0.04, part: "cam sensor",
		make: camSensor},
	{Name: "injectors or their leads crossed", Title: "injectors or their wiring swapped", Says: "Injectors or their wiring are swapped: cylinders get fuel in the wrong order.", Prior: 0.03, part: "leads",
		make: fixed(State{Wrong: LeadsCrossed})},
	{Name: "wrong firing order set", Title: "wrong firing order set", Says: "The firing order set in the ECU is wrong.", Prior: 0.015, part: "order",
		make: fixed(State{Wrong: OrderWrong})},
	{Name: "no fuel pressure", Title: "no fuel pressure", Says: "There is no fuel pressure to inject with.", Prior: 0.07, part: "fuel pressure",
		make: fixed(State{Wrong: NoPressure})},
	{Name: "injector leaking back", Title: "injector leaking back", Says: "An injector returns its fuel to the tank, and the rail does not reach its pressure.", Prior: 0.035, part: "injector",
		make: badly(InjectorLeak, LeakMuch, 0.6)},
	{Name: "air in the fuel or a blocked filter", Title: "air in the fuel or a blocked filter", Says: "There is air in the fuel, or its filter is blocked.", Prior: 0.045, part: "fuel lines",
		make: badly(FuelStarved, NoFlow, 0.6)},
	{Name: "controller without power or immobilised", Title: "ECU without power or immobilised", Says: "The ECU (engine control unit) has no power or no earth, or its immobiliser blocks it.", Prior: 0.02, part: "controller",
		make: controllerOut},
	{Name: "bent valves", Title: "bent valves", Says: "Valves are bent, and their cylinders do not hold compression.", Prior: 0.02, part: "valves",
		make: fixed(State{Wrong: ValvesBent})},
	{Name: "poor compression", Title: "low compression", Says: "Compression is low.", Prior: 0.05, part: "compression",
		make: fixed(State{Wrong: PoorCompression})},
	{Name: "bad fuel", Title: "bad fuel", Says: "The fuel is bad: water, petrol, gelled or none at all.", Prior: 0.025, part: "fuel",
		make: badly(BadFuel, NoFlow, 0.3)},
	{Name: "cranks too slowly", Title: "cranks too slowly", Says: "The engine is cranked too slowly for the fuel to ignite.", Prior: 0.04, part: "starter",
		make: fixed(State{Wrong: SlowCranking})},
}

// Faults returns every fault, the most harmless first.
func Faults() []Fault { return append([]Fault(nil), faults...) }

// PairShare is how probable it is that two things are wrong at once, whatever
// they are; a pair is as probable in it as the product of its two. Common
// practice, no source: who has made one mistake in a job was in a hurry for all of it.
const PairShare = 0.12

// mirrored is a dowel on the other side of its keyway: drawn at a, it is at -a,
// so it is wrong by -2a. A drawing that is not known may have it anywhere up to
// 45 degrees from the keyway; one that has it on the keyway's line, to within what
// making leaves open, cannot be mirrored.
func mirrored(e *Engine, _ bool) []branch {
	s := State{Wrong: OtherSide}
	if e.Dowel == nil {
		return []branch{{weight: 1, state: s, dir: State{Dowel: 1}, spread: even(90)}}
	}
	if s.Dowel = timing.WrapSigned(-2**e.Dowel, timing.Turn); s.Dowel > -1 && s.Dowel < 1 {
		return nil
	}
	return []branch{{weight: 1, state: s}}
}

// keywayOff is a keyway at a wrong angle, whose dowel was set out from it or from
// the throw: then the wheel is right, and only gear and camshaft are off.
func keywayOff(*Engine, bool) []branch {
	sp := nearZero(0.6, 10, 180)
	return []branch{
		{weight: 0.5, dir: State{Keyway: 1}, spread: sp},
		{weight: 0.5, dir: State{Keyway: 1, Dowel: -1}, spread: sp},
	}
}

// wholeTeeth is how often a wheel of another part number has its reference tooth
// elsewhere by whole teeth; else it is made to another dowel altogether.
const wholeTeeth = 0.65

// otherWheel is off by whole teeth or by anything. In a pair, and on a wheel of very
// many teeth, it is taken as off by anything.
func otherWheel(e *Engine, pair bool) []branch {
	s := State{Wrong: WheelOther}
	anywhere := branch{weight: 1, state: s, dir: State{Wheel: 1}, spread: even(180)}
	if pair || e.Positions < 2 || e.Positions > 120 {
		return []branch{anywhere}
	}
	anywhere.weight = 1 - wholeTeeth
	list := []branch{anywhere}
	for k := 1; k < e.Positions; k++ {
		s.Wheel = timing.WrapSigned(timing.Deg(k)*e.pitch(), timing.Turn)
		list = append(list, branch{weight: wholeTeeth / float64(e.Positions-1), state: s})
	}
	return list
}

// teeth are gears put in up to three teeth out: one tooth either way is the usual
// slip.
func teeth(out func(int) State) func(*Engine, bool) []branch {
	return func(*Engine, bool) []branch {
		var list []branch
		for k, p := range []float64{0.42, 0.06, 0.02} {
			list = append(list, branch{weight: p, state: out(k + 1)}, branch{weight: p, state: out(-k - 1)})
		}
		return list
	}
}

// reversed wires turn an inductive signal upside down: the controller takes the
// middle of a slot for that of a tooth, half a pitch early or late. Those of a
// hall sensor give no signal.
func reversed(e *Engine, _ bool) []branch {
	half := e.pitch() / 2
	s := State{Wrong: WiresReversed}
	if e.HallKnown && e.Hall {
		s.Wrong |= CrankDead
		return []branch{{weight: 1, state: s}}
	}
	ahead, behind := s, s
	ahead.Wheel, behind.Wheel = half, -half
	return []branch{{weight: 0.5, state: ahead}, {weight: 0.5, state: behind}}
}

// damperSlipped is a false mark; half of those who read true top dead centre trust it.
// Common practice, no source.
func damperSlipped(*Engine, bool) []branch {
	sp := nearZero(0.6, 15, 180)
	return []branch{
		{weight: 0.5, state: State{Wrong: DamperMoved}, dir: State{Damper: 1}, spread: sp},
		{weight: 0.5, state: State{Wrong: DamperMoved | ByMark}, dir: State{Damper: 1}, spread: sp},
	}
}

// Of a sensor that does not serve, how often it is dead; and how many controllers
// build no rail pressure while they see no speed, and while they see one that comes
// and goes. Common practice, no source.
const (
	deadShare = 0.6
	railCut   = 0.6
	weakCut   = 0.25
)

// controllerOut is a controller that does nothing for want of power, or as often one
// that its immobiliser lets do everything but inject; some of those build no rail
// pressure either. Common practice, no source.
func controllerOut(*Engine, bool) []branch {
	return []branch{
		{weight: 0.5, state: State{Wrong: ControllerOff}},
		{weight: 0.3, state: State{Wrong: Locked}},
		{weight: 0.2, state: State{Wrong: Locked | RailCut}},
	}
}

func crankSensor(*Engine, bool) []branch {
	return []branch{
		{weight: deadShare * railCut, state: State{Wrong: CrankDead | RailCut}},
		{weight: deadShare * (1 - railCut), state: State{Wrong: CrankDead}},
		{weight: (1 - deadShare) * weakCut, state: State{Wrong: CrankWeak | RailCut}},
		{weight: (1 - deadShare) * (1 - weakCut), state: State{Wrong: CrankWeak}},
	}
}

func camSensor(*Engine, bool) []branch {
	return []branch{{weight: deadShare, state: State{Wrong: CamDead}}, {weight: 1 - deadShare, state: State{Wrong: CamWeak}}}
}

// badly is something that may be so bad, in a share of the cases, that more goes wrong
// with it.
func badly(wrong, more Wrong, share float64) func(*Engine, bool) []branch {
	return func(*Engine, bool) []branch {
		return []branch{{weight: share, state: State{Wrong: wrong | more}}, {weight: 1 - share, state: State{Wrong: wrong}}}
	}
}
