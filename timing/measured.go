package timing

import "math"

// Measured is an angle with its standard uncertainty (JCGM 100:2008, 3.1: a
// result of measurement is complete only with its uncertainty). U is never
// negative; 0 means taken as exact.
type Measured struct {
	Value Deg
	U     Deg
}

// normal95 is the two-sided 95 % coverage factor of a normal distribution
// (JCGM 100:2008, table G.1, to more digits).
const normal95 = 1.959963984540054

// Plus adds two independent measured angles; their uncertainties add in
// quadrature (JCGM 100:2008, eq. 10 with coefficients of 1).
func (m Measured) Plus(o Measured) Measured {
	return Measured{m.Value + o.Value, m.quadrature(o)}
}

// Minus subtracts an independent measured angle; uncertainties add as in
// [Measured.Plus].
func (m Measured) Minus(o Measured) Measured {
	return Measured{m.Value - o.Value, m.quadrature(o)}
}

func (m Measured) quadrature(o Measured) Deg {
	return Deg(math.Hypot(float64(m.U), float64(o.U)))
}

// Interval95 returns the 95 % coverage interval of a normal distribution around
// the value.
func (m Measured) Interval95() (lo, hi Deg) {
	return m.Value - normal95*m.U, m.Value + normal95*m.U
}
