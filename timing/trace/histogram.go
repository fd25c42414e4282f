package trace

import "math"

// histogram counts values without knowing their range beforehand: its bins grow
// twice as wide whenever a value lies beyond them.
type histogram struct {
	lo, width float64
	bins      [512]int64
	n         int64
	ends      extremes
}

func (h *histogram) add(x float64) {
	h.ends.add(x, h.n == 0)
	if h.n == 0 {
		h.width = max(math.Abs(x)*1e-9, 1e-12)
		h.lo = x - h.width*float64(len(h.bins))/2
	}
	for !(x >= h.lo && x < h.lo+h.width*float64(len(h.bins))) {
		if h.width > 1e300 || h.width == 0 {
			return
		}
		h.grow(x < h.lo)
	}
	i := min(int((x-h.lo)/h.width), len(h.bins)-1)
	h.bins[i]++
	h.n++
}

// grow doubles the width of the bins, downwards or upwards.
func (h *histogram) grow(down bool) {
	n := len(h.bins)
	var merged [512]int64
	shift := 0
	if down {
		shift = n / 2
		h.lo -= h.width * float64(n)
	}
	for i := 0; i < n; i++ {
		merged[shift+i/2] += h.bins[i]
	}
	h.bins = merged
	h.width *= 2
}

// quantile returns the value below which a share of the counts lies.
func (h *histogram) quantile(share float64) float64 {
	need := int64(share * float64(h.n))
	for i, c := range h.bins {
		if need -= c; need < 0 {
			return h.lo + h.width*(float64(i)+0.5)
		}
	}
	return h.lo + h.width*float64(len(h.bins))
}

// between counts the values from one to another, to whole bins.
func (h *histogram) between(from, to float64) int64 {
	var n int64
	for i, c := range h.bins {
		if lo := h.lo + h.width*float64(i); lo+h.width > from && lo <= to {
			n += c
		}
	}
	return n
}

// beside counts the values of the filled bin next to that of a value, downwards or upwards.
func (h *histogram) beside(value float64, down bool) int64 {
	step := 1
	if down {
		step = -1
	}
	for i := int((value-h.lo)/h.width) + step; i >= 0 && i < len(h.bins); i += step {
		if h.bins[i] > 0 {
			return h.bins[i]
		}
	}
	return 0
}
