package photo

import (
	"math"
	"math/rand/v2"

	"pinphase.org/pinphase/timing"
)

// mostLost is the share of draws that may be impossible before the marks are
// refused: then they say too little for any interval.
const mostLost = 0.1

// drawSteps brings the circle of a dowel's edge to a hundredth of the click
// scatter, which is enough in a draw.
const drawSteps = 2

// scatter fills in the uncertainties by Monte Carlo (JCGM 101:2008, clause 7):
// every click is moved by normal noise of UPx, camera and lens are drawn from
// what is plausible, and, for the rim alone, both poses of the circle count
// alike. Ellipse and homography follow their clicks to first order; all that
// comes after is worked out anew in each draw. The uncertainty is the root mean
// square departure from the estimate.
func (s *sight) scatter(o Options, r *Result) error {
	n := o.Draws
	if n <= 0 {
		n = DefaultDraws
	}
	rng := rand.New(rand.NewPCG(o.Seed, 0x70686f746f))
	for i, cam := range s.lens.ends() {
		if p, ok := s.poses(s.nominal(), cam); ok {
			r.Distance[i] = p[0].distance
		}
	}
	moved := s.marks.copyPlaced()
	var sum, tilts, apart float64
	lost := 0
	for range n {
		c := s.draw(rng, r.UPx)
		moved.shake(s.marks, rng, r.UPx)
		p, ok := s.poses(c, s.lens.draw(rng))
		if !ok {
			lost++
			continue
		}
		first, ok1 := s.departure(c, p[0].centre, moved, r.Clockwise.Value)
		second, ok2 := first, ok1
		if s.basis == RimOnly {
			second, ok2 = s.departure(c, p[1].centre, moved, r.Clockwise.Value)
		}
		if !ok1 || !ok2 {
			lost++
			continue
		}
		sum += (first*first + second*second) / 2
		apart += (first - second) * (first - second) / 4
		d := float64(timing.FromRadians((p[0].tilt+p[1].tilt)/2) - r.Tilt.Value)
		tilts += d * d
	}
	if float64(lost) > mostLost*float64(n) {
		key, _ := s.marks.feature()
		if s.basis == RimAndCentre {
			key = "centre"
		}
		return fault(key, "clicks scattered by %.3g px leave the angle open; mark more points, farther apart", r.UPx)
	}
	kept := float64(n - lost)
	r.Clockwise.U = timing.Deg(math.Sqrt(sum / kept))
	r.PerspectiveU = timing.Deg(math.Sqrt(apart / kept))
	r.Tilt.U = timing.Deg(math.Sqrt(tilts / kept))
	return nil
}

// departure returns by how much one draw's angle differs from the estimate, in
// degrees.
func (s *sight) departure(c clicks, centre Point, moved Marks, from timing.Deg) (float64, bool) {
	face, err := s.face(c, centre)
	if err != nil {
		return 0, false
	}
	at, err := moved.place(face, drawSteps)
	if err != nil {
		return 0, false
	}
	return float64(timing.Difference(from, moved.signed(at), timing.Turn)), true
}

// draw returns the fitted numbers as scattered clicks would have made them.
func (s *sight) draw(rng *rand.Rand, u float64) clicks {
	c := s.nominal()
	if s.basis == BoltCircle {
		for _, g := range s.bolts.gain {
			x, y := u*rng.NormFloat64(), u*rng.NormFloat64()
			for k := range c.h {
				c.h[k] += x*g[0][k] + y*g[1][k]
			}
		}
		return c
	}
	var d [8]float64
	for _, g := range s.rim.gain {
		out := u * rng.NormFloat64()
		for k := range g {
			d[k] += out * g[k]
		}
	}
	c.oval = c.oval.plus(d)
	if s.basis == RimAndCentre {
		c.centre = shaken(c.centre, rng, u)
	}
	return c
}

// copyPlaced returns marks with lists of their own for what is placed on the
// face.
func (m Marks) copyPlaced() Marks {
	return Marks{Keyway: make([]Point, len(m.Keyway)), Dowel: make([]Point, len(m.Dowel)), Throw: make([]Point, len(m.Throw))}
}

func (m Marks) shake(from Marks, rng *rand.Rand, u float64) {
	for _, l := range [][2][]Point{{m.Keyway, from.Keyway}, {m.Dowel, from.Dowel}, {m.Throw, from.Throw}} {
		for i, p := range l[1] {
			l[0][i] = shaken(p, rng, u)
		}
	}
}

func shaken(p Point, rng *rand.Rand, u float64) Point {
	return Point{p.X + u*rng.NormFloat64(), p.Y + u*rng.NormFloat64()}
}
