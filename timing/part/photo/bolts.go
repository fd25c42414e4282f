package photo

import (
	"math"
	"slices"
)

// bolts is the homography from the unit circle, evenly divided, to the clicks
// on a bolt circle.
type bolts struct {
	h     [8]float64 // its last element is 1: the circle's centre is always in view
	mean  Point      // frame of h
	scale float64
	rms   float64 // px
	ssr   float64 // px²
	dof   int
	gain  [][2][8]float64 // by how much h moves when a click moves a pixel in x, in y
}

// mostUneven is the misfit, as a share of the circle's radius in the picture,
// beyond which the bolts are not the circle they are said to be. Chosen for
// this program: leaving one bolt of twelve out gives more.
const mostUneven = 0.05

// fitBolts returns the homography of least squared distance in the picture, by
// the linear transform in a normalised frame and refinement of the distances
// (Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd ed.,
// 2004, algorithms 4.2 and 4.3; from memory). The points may be in any order:
// on a circle seen from before it the order round the middle is the clockwise
// one. A marked centre counts as one more point.
func fitBolts(points, centre []Point) (bolts, error) {
	mean, scale, ok := frame(points)
	if !ok {
		return bolts{}, fault("bolts", "the points lie on a line or on top of one another")
	}
	b := bolts{mean: mean, scale: scale, dof: 2*(len(points)+len(centre)) - 8}
	on := evenly(points, mean, centre)
	q := normals{n: 8}
	for _, p := range on {
		x, y := b.inFrame(p.seen)
		q.add([]float64{p.X, p.Y, 1, 0, 0, 0, -x * p.X, -x * p.Y}, x, 1)
		q.add([]float64{0, 0, 0, p.X, p.Y, 1, -y * p.X, -y * p.Y}, y, 1)
	}
	f, ok := q.factor(0)
	if !ok {
		return bolts{}, fault("bolts", "the points are not on an evenly spaced circle")
	}
	b.h = f.solve(q.aty)
	b.refine(on)
	b.rms = math.Sqrt(b.ssr / float64(len(on)))
	if b.rms > mostUneven*scale || math.IsNaN(b.rms) {
		return b, fault("bolts", "the points miss an evenly spaced circle by %.3g px; mark every bolt hole of the circle once", b.rms)
	}
	if !b.gains(on) {
		return b, fault("bolts", "the points are not on an evenly spaced circle")
	}
	return b, nil
}

// evenPoint is a point of the unit circle (or its centre) and where it is seen.
type evenPoint struct {
	Point
	seen Point
}

func evenly(points []Point, mean Point, centre []Point) []evenPoint {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(p, q Point) int {
		a, b := math.Atan2(p.Y-mean.Y, p.X-mean.X), math.Atan2(q.Y-mean.Y, q.X-mean.X)
		switch {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return 0
	})
	on := make([]evenPoint, 0, len(points)+1)
	for i, p := range sorted {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(points)))
		on = append(on, evenPoint{Point{cos, sin}, p})
	}
	for _, c := range centre {
		on = append(on, evenPoint{Point{}, c})
	}
	return on
}

func (b *bolts) inFrame(p Point) (x, y float64) {
	return (p.X - b.mean.X) / b.scale, (p.Y - b.mean.Y) / b.scale
}

// equations returns the normal equations for a step of h, and the sum of
// squared distances in the frame; infinite when a point lies beyond the horizon.
func (b *bolts) equations(h [8]float64, on []evenPoint, each func(i int, rx, ry [8]float64)) (q normals, cost float64) {
	q.n = 8
	for i, p := range on {
		w := h[6]*p.X + h[7]*p.Y + 1
		if !(w > 0) {
			return q, math.Inf(1)
		}
		sx, sy := (h[0]*p.X+h[1]*p.Y+h[2])/w, (h[3]*p.X+h[4]*p.Y+h[5])/w
		x, y := b.inFrame(p.seen)
		rx := [8]float64{p.X / w, p.Y / w, 1 / w, 0, 0, 0, -sx * p.X / w, -sx * p.Y / w}
		ry := [8]float64{0, 0, 0, p.X / w, p.Y / w, 1 / w, -sy * p.X / w, -sy * p.Y / w}
		q.add(rx[:], x-sx, 1)
		q.add(ry[:], y-sy, 1)
		cost += (x-sx)*(x-sx) + (y-sy)*(y-sy)
		if each != nil {
			each(i, rx, ry)
		}
	}
	return q, cost
}

func (b *bolts) refine(on []evenPoint) {
	q, cost := b.equations(b.h, on, nil)
	damping := 1e-6
	for range fitSteps {
		f, ok := q.factor(damping)
		if ok {
			h := b.h
			for i, d := range f.solve(q.aty) {
				h[i] += d
			}
			if nq, ncost := b.equations(h, on, nil); ncost <= cost {
				fell := cost - ncost
				b.h, q, cost = h, nq, ncost
				damping = math.Max(damping/10, 1e-14)
				if fell <= settledDecrease*cost || cost < 1e-28 {
					break
				}
				continue
			}
		}
		if damping *= 10; damping > 1e8 {
			break
		}
	}
	b.ssr = cost * b.scale * b.scale
}

func (b *bolts) gains(on []evenPoint) bool {
	q, _ := b.equations(b.h, on, nil)
	f, ok := q.factor(0)
	if !ok {
		return false
	}
	b.gain = make([][2][8]float64, len(on))
	// The clicks' order is that of on; scatter is the same for all of them.
	b.equations(b.h, on, func(i int, rx, ry [8]float64) {
		b.gain[i] = [2][8]float64{f.solve(rx), f.solve(ry)}
		for k := range 8 {
			b.gain[i][0][k] /= b.scale
			b.gain[i][1][k] /= b.scale
		}
	})
	return true
}

// face returns the map of the unit circle into the picture.
func (b *bolts) face(h [8]float64) mat3 {
	return mat3{b.scale, 0, b.mean.X, 0, b.scale, b.mean.Y, 0, 0, 1}.
		times(mat3{h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1})
}
