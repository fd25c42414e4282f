package cause

import "math"

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
	s := &scale{kind: k, period: k.period != nil}
	lo, span := k.span(e)
	s.lo = lo
	width := math.Max(k.U, 1)
	switch {
	case k.Unit == "bar" && k.Max > 100:
		width = 0.05 * e.RailBar
	case k.Unit == "bar":
		width = 0.03 * e.CompressionBar
	case k.Unit == "rpm":
		width = 0.04 * e.CrankingRPM
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
	s.bells = s.bells[:0]
	weight := 1 - s.kind.Misread
	if slip := s.kind.Slip; slip > 0 {
		s.bell(x.at-1, sd, weight*slip/2)
		s.bell(x.at+1, sd, weight*slip/2)
		weight *= 1 - slip
	}
	s.bell(x.at, sd, weight)
}

// bell adds a normal share of a weight about a number.
func (s *scale) bell(at, sd, weight float64) {
	middle := (at - s.lo) / s.width
	reach := int(math.Ceil(5 * sd / s.width))
	first := int(math.Floor(middle)) - reach
	from, sum := len(s.bells), 0.0
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
	for i := range s.bells[from:] {
		s.bells[from+i].p *= weight / sum
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
