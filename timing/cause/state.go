package cause

import "pinphase.org/pinphase/timing"

// State is what one or more faults have made of an engine. Angles are crank
// degrees, positive where the part is ahead.
type State struct {
	Keyway   timing.Deg // of the keyway from the No. 1 throw
	Dowel    timing.Deg // of the dowel from the keyway
	Wheel    timing.Deg // of the crank wheel on its dowel
	Slip     timing.Deg // of the crank gear on its key
	CamGear  timing.Deg // of the camshaft in its gear
	CamWheel timing.Deg // of the cam wheel on the camshaft
	Damper   timing.Deg // of the damper's TDC mark
	CrankOut int        // teeth out where the crank gear meshes
	CamOut   int        // teeth out where the cam gear meshes
	Wrong    Wrong
}

// Wrong is a set of things that are wrong and that no angle tells.
type Wrong uint64

// What can be wrong.
const (
	OtherSide   Wrong = 1 << iota // dowel
	KeyBroken                     // crank gear's key
	WheelTurned                   // crank wheel back to front
	WheelOther                    // crank wheel of another part number
	WheelMoved                    // crank wheel loose on its seat
	ToothBent                     // crank wheel
	CamWheelHalf
	CamWheelMoved
	WiresReversed // crank sensor
	CrankWeak     // gap too wide
	CrankDead
	CamWeak
	CamDead
	LeadsCrossed
	OrderWrong
	NoPressure
	PoorCompression
	BadFuel
	SlowCranking
	CamGearMoved // on the camshaft
	DamperMoved  // its ring, and with it the mark
	ByMark       // true top dead centre was read off the mark
	SupplyLost   // supply or earth that both sensors share
	PlugsSwapped // the crank sensor's connector on the cam sensor, and the other way round
	InjectorLeak // an injector lets its fuel back to the tank
	LeakMuch     // so much that the rail stays low
	FuelStarved  // air in the fuel, or a blocked filter
	NoFlow       // so little fuel reaches the pump that the rail stays low
	ValvesBent
	ControllerOff // without power or earth
	Locked        // by the immobiliser: all but injection works
	RailCut       // the controller builds no rail pressure, because it sees no speed or is locked
	Elsewhere     // timing is right, and what is wrong is none of these
)

func (w Wrong) any(of Wrong) bool { return w&of != 0 }

// without is the state with some of what is wrong put right, as far as no angle
// tells it.
func (s State) without(w Wrong) State {
	s.Wrong &^= w
	return s
}

// plus is the state that two faults make together.
func (s State) plus(o State) State {
	s.Keyway += o.Keyway
	s.Dowel += o.Dowel
	s.Wheel += o.Wheel
	s.Slip += o.Slip
	s.CamGear += o.CamGear
	s.CamWheel += o.CamWheel
	s.Damper += o.Damper
	s.CrankOut += o.CrankOut
	s.CamOut += o.CamOut
	s.Wrong |= o.Wrong
	return s
}

// along is the state further on in a direction, whose angles are per degree.
func (s State) along(dir State, x timing.Deg) State {
	s.Keyway += x * dir.Keyway
	s.Dowel += x * dir.Dowel
	s.Wheel += x * dir.Wheel
	s.Slip += x * dir.Slip
	s.CamGear += x * dir.CamGear
	s.CamWheel += x * dir.CamWheel
	s.Damper += x * dir.Damper
	return s
}

// wheelError is how far the crank wheel is ahead, not wrapped: injection comes
// that much early.
func (s State) wheelError() timing.Deg { return s.Keyway + s.Dowel + s.Wheel }

// valveError is how far the camshaft is ahead, not wrapped.
func (s State) valveError(e *Engine) timing.Deg {
	return s.Keyway + s.Slip + s.CamGear + timing.Deg(s.CrankOut+s.CamOut)*e.tooth()
}

// camError is how far the cam wheel is ahead, not wrapped.
func (s State) camError(e *Engine) timing.Deg { return s.valveError(e) + s.CamWheel }

// Errors returns how far wheel, cam and valves are ahead in a state of an engine,
// the short way round.
func (s State) Errors(e Engine) (wheel, cam, valves timing.Deg) {
	e = e.withDefaults()
	return timing.WrapSigned(s.wheelError(), timing.Turn), timing.WrapSigned(s.camError(&e), e.cycle()), timing.WrapSigned(s.valveError(&e), e.cycle())
}
