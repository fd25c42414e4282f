package cause

import (
	"math"

	"pinphase/timing"
)

// scale cuts a number into bins.
type scale struct {
	kind   *Kind
	lo     float64
	width  float64
	n      int
	period bool
	flat   float64 // a misreading's share of each bin
	bells  []share // the rest, in the state looked at last
}

// Numbers are cut into bins of the width of a usual reading's uncertainty, but
// not more than so many.
const mostBins = 720

func newScale(k *Kind, e *Engine) *scale {
	s := &scale{kind: k, lo: k.Min}
	span := k.Max - k.Min
	width := math.Max(k.U, 1)
	switch {
	case k.Whole:
		s.lo, span, width = -4.5, 9, 1 // further out counts as the last
	case k.period != nil:
		span = float64(k.period(e))
		s.lo, s.period = -span/2, true
		if span > float64(timing.Turn) {
			s.lo = -span / 3 // half a cycle out is in one piece then
		}
	case k.Unit == "bar" && k.Max > 100:
		span, width = 3*e.RailBar, 0.05*e.RailBar
	case k.Unit == "bar":
		span, width = 3*e.CompressionBar, 0.03*e.CompressionBar
	case k.Unit == "rpm":
		span, width = 2*e.CrankingRPM, 0.04*e.CrankingRPM
	}
	s.n = max(min(int(math.Round(span/width)), mostBins), 1)
	s.width = span / float64(s.n)
	s.flat = k.Misread / float64(s.n)
	return s
}

// spread puts how probable each bin is in a state into the bells and the flat
// rest.
func (s *scale) spread(e *Engine, st *State) {
	x := s.kind.number(e, st)
	sd := math.Max(math.Hypot(x.sd, s.kind.U), s.width/2)
	if s.kind.Whole {
		sd = math.Hypot(x.sd, s.kind.U)
	}
	middle := (x.at - s.lo) / s.width
	reach := int(math.Ceil(5 * sd / s.width))
	first := int(math.Floor(middle)) - reach
	s.bells = s.bells[:0]
	sum := 0.0
	// exp(-z²/2) at even steps h of z: each is the one before times exp(-zh - h²/2),
	// and that factor falls by exp(-h²) a step. No exponential is needed inside.
	h := s.width / sd
	z := (float64(first) + 0.5 - middle) * h
	p, q, fall := math.Exp(-z*z/2), math.Exp(-z*h-h*h/2), math.Exp(-h*h)
	for i := first; i <= first+2*reach+1; i++ {
		k := min(max(i, 0), s.n-1)
		if s.period {
			k = ((i % s.n) + s.n) % s.n
		}
		s.bells = append(s.bells, share{k, p})
		sum += p
		p, q = p*q, q*fall
	}
	for i := range s.bells {
		s.bells[i].p *= (1 - s.kind.Misread) / sum
	}
}

// share is the probability of one bin.
type share struct {
	bin int
	p   float64
}

// dense is how probable every bin is.
func (s *scale) dense() []float64 {
	row := make([]float64, s.n)
	for i := range row {
		row[i] = s.flat
	}
	for _, b := range s.bells {
		row[b.bin] += b.p
	}
	return row
}
