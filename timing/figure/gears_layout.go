package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Nearest returns the wheel of which a place on the page is a part, or to whose rim
// it is nearest. −1 where there is no wheel.
func (l GearsLayout) Nearest(x, y float64) int {
	best, found := math.Inf(1), -1
	for i := range l.X {
		if d := math.Hypot(x-l.X[i], y-l.Y[i]) - l.R[i]; d < best {
			best, found = d, i
		}
	}
	return found
}

// FromTop is the angle of a place on the page round a wheel's centre, from the top
// and positive the way the crank turns, in (−180, 180].
func (l GearsLayout) FromTop(wheel int, x, y float64) timing.Deg {
	page := timing.FromRadians(math.Atan2(x-l.X[wheel], l.Y[wheel]-y))
	return timing.WrapSigned(timing.Deg(PageAngle(l.view, page)), timing.Turn)
}

// CrankTurns is by how much the crank turns when a wheel turns by an angle, both
// positive the way the crank turns: neighbours turn against each other.
func (l GearsLayout) CrankTurns(wheel int, by timing.Deg) timing.Deg {
	crank := by * timing.Deg(l.R[wheel]/l.R[0])
	if l.against[wheel] {
		return -crank
	}
	return crank
}
