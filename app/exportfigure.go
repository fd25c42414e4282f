package app

import (
	"slices"

	"pinphase.org/pinphase/timing/figure"
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

// drawn is one of the figures as its page has it.
func (u *ui) drawn(name string, box figure.Box) (figure.Drawing, error) {
	for i, k := range u.pages.kinds {
		if slices.Contains(k.figures, name) {
			if p, ok := u.pages.at(i).(drawer); ok {
				return p.drawn(name, box)
			}
		}
	}
	return plate.Drawing(name, u.shown(), u.figureOptions(box))
}

// figureAtHand is the figure of the page that is shown.
func (u *ui) figureAtHand() string {
	if list := u.pages.kind().figures; len(list) > 0 {
		return list[0]
	}
	return plate.Names[0]
}
