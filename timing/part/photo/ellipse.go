package photo

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Ellipse is an ellipse in the picture. Lengths are in pixels.
type Ellipse struct {
	Centre       Point
	Major, Minor float64    // half axes, Major >= Minor > 0
	Turned       timing.Deg // of the major axis, clockwise as seen from x, in (-90, 90]
}

// At returns a point of the ellipse: the one whose eccentric angle, clockwise
// from the major axis, is t.
func (e Ellipse) At(t timing.Deg) Point {
	sin, cos := math.Sincos(t.Radians())
	ts, tc := math.Sincos(e.Turned.Radians())
	x, y := e.Major*cos, e.Minor*sin
	return Point{e.Centre.X + x*tc - y*ts, e.Centre.Y + x*ts + y*tc}
}

// oval is an ellipse as the image of the unit circle under p = c + S u with S
// symmetric, S = [s0 s1; s1 s2], and positive definite. Unlike axes and an
// angle these five numbers are smooth where the ellipse is a circle.
type oval struct {
	c Point
	s [3]float64
}

// axes returns half axes and the angle of the first in radians.
func (o oval) axes() (a, b, angle float64) { return eigen2(o.s[0], o.s[1], o.s[2]) }

// valid tells whether S is positive definite.
func (o oval) valid() bool {
	return o.s[0] > 0 && o.s[0]*o.s[2]-o.s[1]*o.s[1] > 0 && !math.IsInf(o.s[0]+o.s[2]+o.c.X+o.c.Y, 0)
}

// face returns the affine map of the unit circle onto the ellipse.
func (o oval) face() mat3 {
	return mat3{o.s[0], o.s[1], o.c.X, o.s[1], o.s[2], o.c.Y, 0, 0, 1}
}

// scaled returns the oval in a frame where the unit is scale and the origin at.
func (o oval) scaled(at Point, scale float64) oval {
	return oval{Point{at.X + scale*o.c.X, at.Y + scale*o.c.Y}, [3]float64{scale * o.s[0], scale * o.s[1], scale * o.s[2]}}
}

func (o oval) plus(d [8]float64) oval {
	return oval{Point{o.c.X + d[0], o.c.Y + d[1]}, [3]float64{o.s[0] + d[2], o.s[1] + d[3], o.s[2] + d[4]}}
}

func (o oval) ellipse() Ellipse {
	a, b, angle := o.axes()
	turned := timing.WrapSigned(timing.FromRadians(angle), timing.Turn/2)
	return Ellipse{o.c, a, b, turned}
}

// nearest returns the point of the ellipse nearest to p, as the unit circle's
// (cos, sin), and the signed distance of p from it, positive outside, along the
// outward normal n.
func (o oval) nearest(p Point) (u, n Point, distance float64) {
	a, b, angle := o.axes()
	sin, cos := math.Sincos(angle)
	d := p.minus(o.c)
	x, y := d.X*cos+d.Y*sin, d.Y*cos-d.X*sin
	fx, fy := nearestOnAxes(a, b, math.Abs(x), math.Abs(y))
	fx, fy = math.Copysign(fx, x), math.Copysign(fy, y)
	nx, ny := fx/(a*a), fy/(b*b)
	l := math.Hypot(nx, ny)
	nx, ny = nx/l, ny/l
	distance = (x-fx)*nx + (y-fy)*ny
	ux, uy := fx/a, fy/b
	return Point{ux*cos - uy*sin, ux*sin + uy*cos}, Point{nx*cos - ny*sin, nx*sin + ny*cos}, distance
}

// nearestOnAxes returns the point nearest to (x, y), both >= 0, of the ellipse
// with half axes a >= b > 0 along x and y. With the Lagrange condition
// foot = (a²x/(t+a²), b²y/(t+b²)) the unknown is the root t > -b² of a convex
// falling function; Newton's iteration started on its left never overshoots
// (Eberly, Distance from a Point to an Ellipse, 2013; from memory).
func nearestOnAxes(a, b, x, y float64) (fx, fy float64) {
	a2, b2 := a*a, b*b
	if y == 0 {
		if x*a < a2-b2 { // inside the evolute: the foot lies off the axis
			fx = a2 * x / (a2 - b2)
			return fx, b * math.Sqrt(math.Max(0, 1-fx*fx/a2))
		}
		return a, 0
	}
	if x == 0 {
		return 0, b
	}
	t := math.Max(a*x-a2, b*y-b2)
	for range 100 {
		qx, qy := a*x/(t+a2), b*y/(t+b2)
		g := qx*qx + qy*qy - 1
		step := g / (2 * (qx*qx/(t+a2) + qy*qy/(t+b2)))
		if next := t + step; next > t {
			t = next
		} else {
			break
		}
		if step <= 1e-15*a2 {
			break
		}
	}
	qx, qy := a*x/(t+a2), b*y/(t+b2)
	l := math.Hypot(qx, qy) // takes the last rounding off: the foot is on the ellipse
	return a * qx / l, b * qy / l
}
