package piston

import "pinphase.org/pinphase/timing"

// KickBack is how long before top dead centre a cranked engine must not light:
// its starter then has to carry it over against the fire. 10 degrees is common
// practice, no source.
const KickBack timing.Deg = 10

// SprayK is the temperature below which fuel put into the cylinder can do
// nothing yet but wet its walls: the lowest at which No. 2 diesel fuel lights by
// itself in a test that gives it minutes, 254 °C (254 to 285 °C: WHO,
// Environmental Health Criteria 171, 1996). A few milliseconds need more; this
// is only the early end of what is worth injecting.
const SprayK = 254 + 273.15

// Window is the band of starts of injection that light, as a cylinder's own
// angles: negative is before top dead centre.
type Window struct {
	Early, Late timing.Deg
	Limit       EarlyLimit // what sets Early
}

// EarlyLimit is the reason for the early end of a window. The integral itself
// has no early end: fuel that waits longer has only gained.
type EarlyLimit int

// The limits.
const (
	ByCold     EarlyLimit = iota // before it the charge is colder than [SprayK]
	ByKickBack                   // before it fuel lights more than [KickBack] before top dead centre
	ByClosing                    // the charge never comes to SprayK: the cylinder's closing
)

// String returns "cold", "kick-back" or "closing".
func (l EarlyLimit) String() string {
	return [...]string{"cold", "kick-back", "closing"}[l]
}

// Window returns the window of one correlation along its path, and false when
// there is none: nothing lights, or only what comes too early.
func (p Path) Window(t Integral) (Window, bool) {
	late, ok := t.Latest()
	if !ok {
		return Window{}, false
	}
	w := Window{Early: p.charge.Closes, Late: late, Limit: ByClosing}
	if at, ok := p.FirstAtLeast(SprayK); ok {
		w.Early, w.Limit = at, ByCold
	}
	if at, ok := t.LightsBefore(-KickBack); ok && at > w.Early {
		w.Early, w.Limit = at, ByKickBack
	}
	return w, w.Early <= w.Late
}

// Holds tells whether a start of injection lies in the window.
func (w Window) Holds(start timing.Deg) bool { return start >= w.Early && start <= w.Late }
