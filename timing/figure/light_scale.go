package figure

import (
	"math"
	"strconv"
	"strings"
)

// scale is an axis of round numbers.
type scale struct {
	lo, hi   float64
	step     float64
	ticks    []float64
	decimals int
}

// newScale returns a scale that holds lo and hi in about n steps of 1, 2 or 5
// times a power of ten. Ends as good as the same become 1 apart; ends that are
// no numbers give 0 to 1.
func newScale(lo, hi float64, n int) scale {
	switch {
	case math.IsNaN(hi-lo) || math.IsInf(hi-lo, 0):
		lo, hi = 0, 1
	case hi-lo < 1e-3:
		hi = lo + 1
	}
	raw := (hi - lo) / float64(n)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5, 10} {
		if k*step >= raw*(1-1e-9) {
			step *= k
			break
		}
	}
	s := scale{lo: math.Floor(lo/step+1e-9) * step, hi: math.Ceil(hi/step-1e-9) * step, step: step}
	s.decimals = max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	for i := 0; i <= int(math.Round((s.hi-s.lo)/step)); i++ {
		s.ticks = append(s.ticks, s.lo+float64(i)*step)
	}
	return s
}

// part returns where a value lies: 0 at the low end, 1 at the high one.
func (s scale) part(v float64) float64 { return (v - s.lo) / (s.hi - s.lo) }

// text writes a value of the scale.
func (s scale) text(v float64) string { return plain(v, s.decimals) }

// plain writes a number with a real minus sign.
func plain(v float64, decimals int) string {
	t := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && strconv.FormatFloat(0, 'f', decimals, 64) != t {
		t = "−" + t
	}
	return t
}

// decimal writes a number's decimal sign as a comma where the reader's language
// has one.
func decimal(number string, comma bool) string {
	if comma {
		return strings.Replace(number, ".", ",", 1)
	}
	return number
}

// number writes a value of one of the figure's scales.
func (f *lightFigure) number(s scale, v float64) string { return decimal(s.text(v), f.in.Words.Comma) }
