package app

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/plate"
)

// figureNames are what the figures are called, in the order of plate.Names.
var figureNames = map[string]string{
	"cycle": "Cycle", "wheel": "Sensor wheel", "light": "Light-off", "light-map": "Light-off map", "part": "Part", "gears": "Gears", "signals": "Signals",
}

// figureName is what a figure is called.
func figureName(name string) string {
	if known, ok := figureNames[name]; ok {
		return tr(known)
	}
	return name
}

// drawn is one of the figures as it is on the screen: at the crank's angle, seen
// from the chosen end, with what its page supposes.
func (u *ui) drawn(name string, box figure.Box) (figure.Drawing, error) {
	j, at := u.shown(), u.at
	o := plate.Options{Cursor: &at, ByNumber: u.byNumber, From: u.from, Box: box, Say: say, Units: voice().Units(), Recorded: u.recorder.drawn()}
	switch name {
	case "light", "light-map":
		if e, err := finding.EngineOf(j); err == nil {
			at = timing.WrapSigned(at, e.Cycle()) // it is drawn round firing TDC
		}
		u.light.begin(j)
		o.Light = u.light.options()
	case "part":
		o.Part = plate.PartOptions{Feature: u.part.feature, Old: u.part.old, Overlay: u.part.overlay.Checked}
	case "gears":
		if u.gears.session == u.session {
			at = u.gears.total
			if n := u.gears.supposed; n != nil && j.Gears != nil {
				j = j.Clone()
				j.Gears.CamTeethOut = *n
			}
		}
	}
	if name == "signals" && u.pages.now() == page(u.signals) && u.signals.room.Objects[0] == u.signals.view {
		return u.signalsShown(box), nil
	}
	return plate.Drawing(name, j, o)
}

// signalsShown is the part of the signals that is on the screen, recorded or
// predicted.
func (u *ui) signalsShown(box figure.Box) figure.Drawing {
	const columns = 1440
	view := u.signals.view
	from, to := view.Shows()
	in := view.Window(from, to, columns)
	in.Heading = u.session.Sound().Title
	if at, ok := view.CursorAt(); ok {
		in.Cursor = &at
	}
	if box.W == 0 {
		box = plate.UsualSize("signals")
	}
	d, _ := figure.Signals(in, box)
	return d
}

// figureAtHand is the figure of the page that is shown.
func (u *ui) figureAtHand() string {
	switch u.pages.now() {
	case page(u.light):
		return "light"
	case page(u.part):
		return "part"
	case page(u.gears):
		return "gears"
	case page(u.signals):
		return "signals"
	}
	return "cycle"
}
