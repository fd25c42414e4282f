package part

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// ChordFor returns the straight distance between two features at radii r1 and
// r2 that lie the given angle apart: the inverse of the law of cosines.
func ChordFor(angle timing.Deg, r1, r2 float64) float64 {
	return math.Sqrt(math.Max(0, r1*r1+r2*r2-2*r1*r2*math.Cos(angle.Radians())))
}

// ArcFor returns the length along a rim of radius r that spans the angle.
func ArcFor(angle timing.Deg, r float64) float64 { return r * angle.Radians() }

// TurnedTo returns the point c.To moved round the centre until it lies the
// signed angle from c.From, at its own distance from the centre.
func (c Coordinates) TurnedTo(signed timing.Deg, v timing.View) Point {
	from := math.Atan2(c.From.Y-c.Centre.Y, c.From.X-c.Centre.X)
	r := math.Hypot(c.To.X-c.Centre.X, c.To.Y-c.Centre.Y)
	size, side := v.Seen(signed)
	turn := size.Radians() // anticlockwise with y up as seen
	if side == timing.Clockwise {
		turn = -turn
	}
	sin, cos := math.Sincos(from + turn)
	return Point{c.Centre.X + r*cos, c.Centre.Y + r*sin}
}
