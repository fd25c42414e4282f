package piston

import "pinphase.org/pinphase/timing"

// KickBack is how long before top dead centre a cranked engine must not light:
// its starter then has to carry it over against the fire. 10 degrees is common
// practice, no source.
const KickBack timing.Deg = 10

// SprayK is the temperature below which fuel put into the cylinder does nothing but
// wet its walls: the middle of what No. 2 diesel fuel needs to light by itself in a
// test that gives it minutes, 254 to 285 °C (WHO, Environmental Health Criteria 171,
// 1996); SprayKSpread is half of that range. It is what limits the early side.
//
// An integral of delay alone has no early side: it lets every earlier injection
// light. Cold engines do not behave so. Phatak and Nakamura (SAE P-130, 1983) found
// that retarded injection improves cold starting, and Kook, Park and Bae (Energy &
// Fuels 22, 2008) that early injection lengthens the delay and wets bowl and wall
// (abstracts of both). That the limit is a temperature, and this one, is our choice.
const (
	SprayK       = 269.5 + 273.15
	SprayKSpread = 15.5
)

// Wets tells whether fuel injected at an angle only wets the walls: the charge has not
// come to [SprayK] yet, or never does.
func (p Path) Wets(start timing.Deg) bool {
	at, ok := p.FirstAtLeast(SprayK)
	return !ok || start < at
}

// Lights returns the angle at which fuel injected at start lights by a correlation's
// integral along the path, and false when it does not: where it only wets the walls,
// and where the integral does not come to 1.
func (p Path) Lights(t Integral, start timing.Deg) (timing.Deg, bool) {
	if p.Wets(start) {
		return 0, false
	}
	return t.Lights(start)
}

// Window is the band of starts of injection that light, as a cylinder's own
// angles: negative is before top dead centre.
type Window struct {
	Early, Late timing.Deg
	Limit       EarlyLimit // what sets Early
}

// EarlyLimit is the reason for the early end of a window.
type EarlyLimit int

// The limits.
const (
	ByCold     EarlyLimit = iota // before it the charge is colder than [SprayK]
	ByKickBack                   // before it fuel lights more than [KickBack] before top dead centre
	ByClosing                    // the charge is as warm as that when the cylinder closes
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
	at, ok := p.FirstAtLeast(SprayK)
	if !ok {
		return Window{}, false
	}
	w := Window{Early: at, Late: late, Limit: ByCold}
	if at <= p.charge.Closes {
		w.Limit = ByClosing
	}
	if at, ok := t.LightsBefore(-KickBack); ok && at > w.Early {
		w.Early, w.Limit = at, ByKickBack
	}
	return w, w.Early <= w.Late
}

// Holds tells whether a start of injection lies in the window.
func (w Window) Holds(start timing.Deg) bool { return start >= w.Early && start <= w.Late }
