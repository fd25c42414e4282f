package chart

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// Window is what is shown of the axis, and which of the controller's angles lie in
// it. Angles are not wrapped.
type Window struct {
	From, To float64 // of the axis
	Axis     figure.SignalAxis
	Angles   []float64 // of the ends of the columns, one more than there are columns; NaN where not known
	Times    []float64 // of the same, in a recording's seconds; nil where every cycle is meant

	// Place returns where an angle lies on the axis; ok is false where it lies
	// nowhere on it. nil: the axis is the angle.
	Place func(angle float64) (x float64, ok bool)
}

// AngleWindow is a window on the controller's angle itself, in n columns; numbers
// begin anew after wrap degrees, unless it is 0.
func AngleWindow(from, to float64, n int, wrap float64) Window {
	angles := floats.Span(make([]float64, n+1), from, to)
	return Window{From: from, To: to, Axis: figure.SignalAxis{Unit: "°", Wrap: wrap, Degrees: true}, Angles: angles}
}

// columns is how many there are.
func (w Window) columns() int { return max(len(w.Angles)-1, 0) }

// reach is which angles the window holds.
func (w Window) reach() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, a := range w.Angles {
		if !math.IsNaN(a) {
			from, to = min(from, a), max(to, a)
		}
	}
	return from, to
}

// each calls at for every angle of a list, repeated each cycle, that lies in the
// window, in rising order for a rising list, with where it lies; not when there
// would be more of them than one for so many columns.
func (w Window) each(list []float64, cycle float64, apart int, at func(i int, angle, x float64)) {
	from, to := w.reach()
	if !(to > from) || (to-from)/cycle*float64(len(list)*apart) > float64(w.columns()) {
		return
	}
	for turn := math.Floor(from/cycle) - 1; turn*cycle <= to; turn++ {
		for i, a := range list {
			angle := a + turn*cycle
			if angle < from || angle > to {
				continue
			}
			if x, ok := w.x(angle); ok {
				at(i, angle, x)
			}
		}
	}
}

// x is where an angle lies on the axis.
func (w Window) x(angle float64) (float64, bool) {
	if w.Place != nil {
		return w.Place(angle)
	}
	return angle, true
}

// span is where a range of angles lies on the axis.
func (w Window) span(from, to float64) (figure.SignalSpan, bool) {
	a, okA := w.x(from)
	b, okB := w.x(to)
	return figure.SignalSpan{From: a, To: b}, okA && okB
}

// arrow adds the way from where an edge belongs to the angle where it is, unless
// it is where it belongs.
func (w Window) arrow(list []figure.SignalArrow, at, late float64, say Say) []figure.SignalArrow {
	by := phrase.Num{Value: math.Abs(late), Decimals: 1}
	text := wordSignalLate
	if late < 0 {
		text = wordSignalEarly
	}
	s, ok := w.span(at-late, at)
	if by.String() == "0" || !ok {
		return list
	}
	return append(list, figure.SignalArrow{From: s.From, To: s.To, Label: say.with(text, map[string]any{"By": by})})
}

// deadCentres are the firing dead centres: where they truly are, at their angle and
// offset, and where the controller counts them if that is elsewhere or the truth is
// not known.
func (w Window) deadCentres(e timing.Scheme, offset *float64, say Say) []figure.SignalLine {
	var list []figure.SignalLine
	add := func(shift float64, counted bool) {
		var at []float64
		for c := 1; c <= e.Cylinders(); c++ {
			at = append(at, float64(timing.Wrap(e.FiresAt(c)+timing.Deg(shift), e.Cycle())))
		}
		order := rising(at)
		w.each(at, float64(e.Cycle()), 28, func(i int, _, x float64) {
			list = append(list, figure.SignalLine{At: x, Counted: counted, Label: say.with(wordSignalTDC, map[string]any{"N": order[i] + 1})})
		})
	}
	if offset != nil {
		add(*offset, false)
	}
	if offset == nil || (phrase.Num{Value: *offset, Decimals: 1}).String() != "0" {
		add(0, true)
	}
	return list
}

// seconds is from when to when the window lies in a recording.
func (w Window) seconds() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, s := range w.Times {
		if !math.IsNaN(s) {
			from, to = min(from, s), max(to, s)
		}
	}
	return from, to
}
