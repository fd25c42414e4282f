package cause

import "pinphase.org/pinphase/timing"

// State is what one or more faults have made of an engine. Angles are crank
// degrees, positive where the part is ahead.
type State struct {
	Keyway   timing.Deg // of the keyway from the No. 1 throw
	Dowel    timing.Deg // of the dowel from the keyway
	Wheel    timing.Deg // of the crank wheel on its dowel
	Slip     timing.Deg // of the crank gear on its key
	CamWheel timing.Deg // of the cam wheel on the camshaft
	CrankOut int        // teeth out where the crank gear meshes
	CamOut   int        // teeth out where the cam gear meshes
	Wrong    Wrong
}

// Wrong is a set of things that are wrong and that no angle tells.
type Wrong uint32

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
	Elsewhere // timing is right, and what is wrong is none of these
)

func (w Wrong) any(of Wrong) bool { return w&of != 0 }

// plus is the state that two faults make together.
func (s State) plus(o State) State {
	s.Keyway += o.Keyway
	s.Dowel += o.Dowel
	s.Wheel += o.Wheel
	s.Slip += o.Slip
	s.CamWheel += o.CamWheel
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
	s.CamWheel += x * dir.CamWheel
	return s
}

// wheelError is how far the crank wheel is ahead, not wrapped: injection comes
// that much early.
func (s State) wheelError() timing.Deg { return s.Keyway + s.Dowel + s.Wheel }

// valveError is how far the camshaft is ahead, not wrapped.
func (s State) valveError(e *Engine) timing.Deg {
	return s.Keyway + s.Slip + timing.Deg(s.CrankOut+s.CamOut)*e.tooth()
}

// camError is how far the cam wheel is ahead, not wrapped.
func (s State) camError(e *Engine) timing.Deg { return s.valveError(e) + s.CamWheel }

// Errors returns how far wheel, cam and valves are ahead in a state of an engine,
// the short way round.
func (s State) Errors(e Engine) (wheel, cam, valves timing.Deg) {
	e = e.withDefaults()
	return timing.WrapSigned(s.wheelError(), timing.Turn), timing.WrapSigned(s.camError(&e), e.cycle()), timing.WrapSigned(s.valveError(&e), e.cycle())
}
