package samples

import (
	"math"
	"math/bits"
)

// pow10 are the powers of ten that a float64 holds exactly.
var pow10 = [23]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// pow5 are the powers of five that 64 bits hold.
var pow5 = func() (list [28]uint64) {
	list[0] = 1
	for i := range len(list) - 1 {
		list[i+1] = list[i] * 5
	}
	return list
}()

// decimal is the float64 nearest to m times ten to the power of exp, of two as near the
// even one. ok is false where it would need more than 128 bits to know it.
//
// Where m and the power of ten are floats themselves one operation rounds once (William
// D. Clinger, How to Read Floating Point Numbers Accurately, 1990, section 3). Otherwise
// ten is taken as five times two, so that the power of five fits 64 bits, and the
// product or quotient is worked out to more bits than a float holds.
func decimal(m uint64, exp int) (v float64, ok bool) {
	switch {
	case m < 1<<53 && exp <= 0 && exp >= -22:
		return float64(int64(m)) / pow10[-exp], true
	case m < 1<<53 && exp > 0 && exp <= 22:
		return float64(int64(m)) * pow10[exp], true
	case m == 0:
		return 0, true
	case exp <= 0 && -exp < len(pow5):
		return quotient(m, -exp), true
	case exp > 0 && exp < len(pow5):
		return product(m, exp), true
	}
	return 0, false
}

// quotient is m over ten to the power of n. m is not 0.
func quotient(m uint64, n int) float64 {
	d := pow5[n]
	up, down := bits.LeadingZeros64(m), bits.LeadingZeros64(d)
	m, d = m<<up, d<<down
	// Half of m is less than d, and the quotient has 63 bits at least.
	q, rest := bits.Div64(m>>1, m<<63, d)
	return nearest(q, rest, down-up-63-n)
}

// product is m times ten to the power of n. m is not 0.
func product(m uint64, n int) float64 {
	high, low := bits.Mul64(m, pow5[n])
	if high == 0 {
		return nearest(low, 0, n)
	}
	up := bits.LeadingZeros64(high)
	return nearest(high<<up|low>>(64-up), low<<up, 64-up+n)
}

// nearest is m, and a little more unless rest is 0, times two to the power of exp, which
// is far from where floats end. With rest, m has 63 bits at least: the last of them lies
// far behind those that a float keeps, and being set stands for what rest holds.
func nearest(m, rest uint64, exp int) float64 {
	if rest != 0 {
		m |= 1
	}
	return float64(m) * math.Float64frombits(uint64(1023+exp)<<52)
}
