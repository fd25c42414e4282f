package timing

import "math"

// Deg is an angle in crank degrees: of the crankshaft, or on a part that turns
// with it. Degrees are what is stored, so that 720 and 360/36 stay exact;
// radians live inside a formula and nowhere else.
type Deg float64

// CamDeg is an angle of the camshaft. The only way from and to crank degrees is
// [CamDeg.Crank] and [Deg.Cam].
type CamDeg float64

// Turn is one turn of the shaft the angle belongs to.
const Turn Deg = 360

// Radians returns the angle in radians, for use inside a formula.
func (d Deg) Radians() float64 { return float64(d) * math.Pi / 180 }

// FromRadians returns the angle of r radians.
func FromRadians(r float64) Deg { return Deg(r * 180 / math.Pi) }

// Crank returns the crank angle during which the camshaft turns by c. The
// camshaft of a four-stroke turns at half crank speed, that of a two-stroke at
// crank speed; cycle says which.
func (c CamDeg) Crank(cycle Deg) Deg { return Deg(c) * cycle / Turn }

// Cam returns the angle by which the camshaft turns during d; see [CamDeg.Crank].
func (d Deg) Cam(cycle Deg) CamDeg { return CamDeg(d * Turn / cycle) }

// Wrap brings d into [0, cycle). A whole number of cycles becomes 0, never
// cycle and never a negative zero. NaN and infinities become NaN. cycle must be
// positive.
func Wrap(d, cycle Deg) Deg {
	w := d
	if !(w > -cycle && w < cycle) {
		// What math.Mod does bit by bit: a quotient that may be 1 off, and one
		// multiplication that rounds once, where there is nothing to round.
		turns := math.Trunc(float64(d / cycle))
		w = Deg(math.FMA(-turns, float64(cycle), float64(d)))
		if !(w > -cycle && w < cycle) { // very many turns away, or no number
			w = Deg(math.Mod(float64(d), float64(cycle)))
		}
	}
	if w < 0 {
		w += cycle
	}
	if w >= cycle || w == 0 { // a tiny negative rounds up to the cycle itself
		return 0
	}
	return w
}

// WrapSigned brings d into (-cycle/2, cycle/2]. Exactly half a cycle stays
// positive. NaN and infinities become NaN. cycle must be positive.
func WrapSigned(d, cycle Deg) Deg {
	w := Wrap(d, cycle)
	if w > cycle/2 {
		w -= cycle
	}
	return w
}

// Difference is the short way round from one angle to another, in
// (-cycle/2, cycle/2]: positive when to lies ahead of from in the direction of
// rotation.
func Difference(from, to, cycle Deg) Deg { return WrapSigned(to-from, cycle) }

// snap is how near to a boundary an angle counts as being on it. It is far below
// anything that can be measured and far above the rounding of the sums that
// lead to an angle.
const snap Deg = 1e-9

// onGrid returns the multiple of step that d lies within [snap] of, else d.
func onGrid(d, step Deg) Deg {
	n := Deg(math.RoundToEven(float64(d / step))) // one instruction, where Round is many
	if math.Abs(float64(d-n*step)) <= float64(snap) {
		return n * step
	}
	return d
}
