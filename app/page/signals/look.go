package signals

import (
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// loadWays offers the ways of looking that there are.
func (p *page) loadWays() {
	for i, b := range p.ways.Buttons {
		kit.Able(b, p.board.Can(chart.Way(i)))
	}
	if !p.board.Can(p.way) {
		p.way = chart.OverTime
		if p.board.Can(chart.OneCycle) {
			p.way = chart.OneCycle
		}
	}
}

// look looks at the signals in a way; at the same one again, at the same window of
// it.
func (p *page) look(way chart.Way) {
	p.way = way
	p.ways.Set(int(way))
	if spread := p.board.Spread(way); spread != p.spread {
		p.spread = spread
		p.view.SetAxis(spread.Lo, spread.Hi, spread.Least)
		p.view.ShowRange(spread.Lo, spread.Lo+spread.First)
	}
	p.view.Reload()
	p.Moved()
}

// grain is how finely the crank's angle is taken from a figure, in degrees.
const grain = 0.1

// pointed puts the crank where the figure is pointed at.
func (p *page) pointed(at float64) {
	truth, _, ok := p.board.Angle(p.way, at)
	if !ok {
		return
	}
	p.view.MoveCursor(at, "") // the cycle pointed at is the one the cursor stays in
	p.u.SetAt(widgets.Tidy(truth, grain))
}

// Moved puts the cursor where the crank stands.
func (p *page) Moved() {
	near, _ := p.view.CursorAt()
	at, ok := p.board.Place(p.way, p.u.At, near)
	if !ok {
		p.view.HideCursor()
		return
	}
	p.view.MoveCursor(at, p.reading(at))
}

// reading is what the cursor's tag says.
func (p *page) reading(at float64) string {
	_, counted, _ := p.board.Angle(p.way, at)
	cycle := timing.Deg(p.board.Predicted.Found.CycleDeg)
	data := map[string]any{"At": phrase.Num{Value: float64(p.u.At), Decimals: 1},
		"Counted": phrase.Num{Value: float64(timing.Wrap(timing.Deg(counted), cycle)), Decimals: 1}}
	if data["At"] == data["Counted"] {
		return with("crankshaft {{.At}}°", data)
	}
	return with("crankshaft {{.At}}°, ECU counts {{.Counted}}°", data)
}
