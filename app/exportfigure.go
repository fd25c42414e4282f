package app

import (
	"slices"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// figureNames are what the figures are called, in the order of chart.Names.
var figureNames = map[string]phrase.Text{
	"cycle": "Cycle", "wheel": "Sensor wheel", "light": "Fuel ignition", "light-map": "Ignition map", "part": "Part", "gears": "Gears", "signals": "Signals", "engine": "Engine", "valves": "Valves",
	"practice": "Practice question", "board": "Board page",
}

// windowFigures are those that the window has beside [chart.Names].
var windowFigures = []string{"practice", "board"}

// figureName is what a figure is called.
func figureName(name string) string {
	if known, ok := figureNames[name]; ok {
		return tr(known)
	}
	return name
}

// Drawn is one of the figures as its page has it.
func (u *ui) Drawn(name string, box figure.Box) (figure.Drawing, error) {
	if name == "board" {
		return u.board.Drawn(u.Desk, box)
	}
	for i, k := range u.pages.kinds {
		if slices.Contains(k.Figures, name) {
			if p, ok := u.pages.at(i).(desk.Drawer); ok {
				return p.Drawn(name, box)
			}
		}
	}
	return chart.Drawing(name, u.OnPaper(), u.FigureOptions(box))
}

// figureAtHand is the figure of the page that is shown.
func (u *ui) figureAtHand() string {
	if list := u.pages.kind().Figures; len(list) > 0 {
		return list[0]
	}
	return chart.Names[0]
}
