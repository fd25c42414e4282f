package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// Way is how signals are looked at.
type Way int

// The ways. The first two lay all cycles of a recording over one another.
const (
	OneCycle Way = iota
	TwoCycles
	Through // on through the cycles of a recording, by the crank angle
	OverTime
)

// Spread is an axis: all of it, what to show of it first, and how little of it a
// window may show.
type Spread struct{ Lo, Hi, First, Least float64 }

// Board is what the signals page draws: a prediction, a recording, or the one over
// the other.
type Board struct {
	Predicted *Predicted // nil: the job lacks something
	Recorded  *Recorded  // nil: none was read
}

// Can tells whether there is anything to look at in a way.
func (b Board) Can(way Way) bool {
	follows := b.Recorded != nil && b.Recorded.Follows()
	switch way {
	case Through:
		return follows
	case OverTime:
		return b.Predicted != nil || b.Recorded != nil
	}
	return b.Predicted != nil || follows
}

// cycle is how long a cycle is.
func (b Board) cycle() float64 {
	if b.Predicted != nil {
		return b.Predicted.Found.CycleDeg
	}
	return b.Recorded.cycle
}

// timeCycles is how many cycles of a prediction are shown over time.
const timeCycles = 2

// Spread returns the axis of a way, which must be one that [Board.Can].
func (b Board) Spread(way Way) Spread {
	c := b.cycle()
	switch way {
	case OneCycle:
		return Spread{0, c, c, 5}
	case TwoCycles:
		return Spread{0, 2 * c, 2 * c, 5}
	case Through:
		from, to := b.Recorded.Angles()
		return Spread{from, to, min(2*c, to-from), 5}
	}
	if b.Recorded == nil {
		end := timeCycles * c / b.Predicted.degreesPerSecond()
		return Spread{0, end, end, end / 500}
	}
	from, to := b.Recorded.Seconds()
	a := b.Recorded.Trace.Analysis
	first := to - from
	if a != nil && a.RPM > 0 {
		first = min(first, timeCycles*c/(6*a.RPM))
	}
	return Spread{from, to, first, min(1e-4, to-from)}
}

// window is a part of a way's axis, in n columns.
func (b Board) window(way Way, from, to float64, n int) Window {
	switch way {
	case OneCycle:
		return AngleWindow(from, to, n, 0)
	case TwoCycles:
		return AngleWindow(from, to, n, b.cycle())
	case Through:
		return b.Recorded.ThroughAngles(from, to, n)
	}
	if b.Recorded != nil {
		return b.Recorded.ThroughTime(from, to, n)
	}
	return b.Predicted.ThroughTime(from, to, n)
}

// Input returns the figure's input for a part of a way's axis, in n columns: the
// prediction as it should be and as supposed; over a recording only what is
// supposed.
func (b Board) Input(way Way, from, to float64, n int, say Say) figure.SignalsInput {
	if !b.Can(way) {
		return figure.SignalsInput{}
	}
	w := b.window(way, from, to, n)
	var in figure.SignalsInput
	if b.Predicted != nil {
		in = b.Predicted.Input(w)
	} else {
		in = figure.SignalsInput{Title: say.text(wordSignalsUntitled), From: w.From, To: w.To, Axis: w.Axis, Words: signalFigureWords(say)}
		in.Axis.Title = say.axisTitle(in.Axis)
	}
	if b.Recorded == nil || way != OverTime && !b.Recorded.Follows() {
		return in
	}
	if n := len(in.Groups); n > 0 {
		in.Groups = in.Groups[n-1:]
	}
	in.Groups = append(in.Groups, b.Recorded.Group(w, say))
	b.Recorded.Words(&in.Words, say)
	return in
}

// Angle returns the true crank angle at a place of a way's axis, and the angle the
// controller counts there, not wrapped; ok is false where that is not known.
func (b Board) Angle(way Way, x float64) (truth timing.Deg, counted float64, ok bool) {
	counted = x
	if way == OverTime {
		if b.Recorded != nil {
			counted = b.Recorded.AngleAt(x)
		} else {
			counted = x * b.Predicted.degreesPerSecond()
		}
	}
	if b.Predicted == nil || math.IsNaN(counted) {
		return 0, counted, false
	}
	return b.Predicted.TrueAt(counted), counted, true
}

// Place returns where the crank's true angle lies on a way's axis: of all the cycles
// that it may lie in, that nearest to a place on the axis.
func (b Board) Place(way Way, truth timing.Deg, near float64) (x float64, ok bool) {
	if b.Predicted == nil || !b.Can(way) {
		return 0, false
	}
	s := b.Spread(way)
	c := b.cycle()
	counted := b.Predicted.Cursor(truth)
	if way == OneCycle {
		return counted, true
	}
	_, about, known := b.Angle(way, near)
	lo, hi := s.Lo, s.Hi
	if way == OverTime {
		_, lo, _ = b.Angle(way, s.Lo)
		_, hi, _ = b.Angle(way, s.Hi)
		if b.Recorded != nil {
			lo, hi = b.Recorded.Angles()
		}
	}
	if !known {
		about = lo
	}
	at := counted + c*math.Round((about-counted)/c)
	for ; at < lo; at += c {
	}
	for ; at > hi; at -= c {
	}
	if at < lo {
		return 0, false
	}
	if way != OverTime {
		return at, true
	}
	if b.Recorded != nil {
		x = b.Recorded.TimeAt(at)
		return x, !math.IsNaN(x)
	}
	return at / b.Predicted.degreesPerSecond(), true
}
