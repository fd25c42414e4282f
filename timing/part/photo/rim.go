package photo

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// rim is an ellipse fitted to clicks on a rim, with what its scatter needs.
type rim struct {
	oval
	rms  float64 // px
	ssr  float64 // sum of squared distances, px²
	dof  int
	span timing.Deg
	// gain holds for each point how the five numbers of the oval move when the
	// point moves one pixel outwards.
	gain [][5]float64
}

// Bounds beyond which a set of clicks fixes no ellipse worth measuring with.
// Chosen for this program: an axis ratio of 0.2 is a tilt of 78 degrees.
const (
	leastAxisRatio  = 0.2
	leastSpan       = timing.Deg(90)
	mostMisfit      = 0.08 // rms distance over minor half axis
	mostUnsettled   = 0.15 // relative uncertainty of an axis
	mostOutstretch  = 30.0 // major half axis over the spread of the points
	fitSteps        = 200
	settledDecrease = 1e-15
)

// FitEllipse returns the ellipse of least orthogonal distance to five or more
// points and the root mean square distance, in pixels. Errors are of type
// [*MarkError]: too few points, points on a line, on no ellipse, or on so short
// an arc that they fix none.
func FitEllipse(points []Point) (Ellipse, float64, error) {
	if err := (Marks{Rim: points, Keyway: []Point{{0, 0}, {1, 1}}, Dowel: []Point{{}}}).check(); err != nil {
		return Ellipse{}, 0, err
	}
	r, err := fitRim(points)
	if err != nil {
		return Ellipse{}, 0, err
	}
	return r.ellipse(), r.rms, nil
}

func fitRim(points []Point) (rim, error) {
	mean, scale, ok := frame(points)
	if !ok {
		return rim{}, fault("rim", "the points lie on a line or on top of one another; spread them round the rim")
	}
	q := make([]Point, len(points))
	for i, p := range points {
		q[i] = Point{(p.X - mean.X) / scale, (p.Y - mean.Y) / scale}
	}
	c, ok := directFit(q)
	if !ok {
		return rim{}, fault("rim", "no ellipse passes near the points; spread them round the rim")
	}
	start, ok := c.oval()
	if !ok {
		return rim{}, fault("rim", "no ellipse passes near the points; spread them round the rim")
	}
	o, ssr := refine(start, q)
	a, b, _ := o.axes()
	r := rim{oval: o.scaled(mean, scale), ssr: ssr * scale * scale, dof: len(points) - 5}
	r.rms = math.Sqrt(ssr/float64(len(q))) * scale
	r.span = span(r.oval, points)
	switch {
	case !(a <= mostOutstretch):
		return r, fault("rim", "the points lie too nearly on a line; spread them round the rim")
	case b/a < leastAxisRatio:
		return r, fault("rim", "the ellipse is %.1f times as long as wide: seen too much from the side to measure", a/b)
	case math.Sqrt(ssr/float64(len(q))) > mostMisfit*b:
		return r, fault("rim", "the points are not on an ellipse: they miss the nearest one by %.3g px", r.rms)
	case r.span < leastSpan:
		return r, fault("rim", "the points cover only %.0f° of the rim; spread them over more of it", float64(r.span))
	}
	if !r.gains(q, o) {
		return r, fault("rim", "the points do not fix an ellipse; spread them round the rim")
	}
	return r, nil
}

// frame returns the middle of the points and their spread (root mean square
// distance from it over √2, so that a whole circle keeps its radius near 1.4
// units). False when they lie on a line.
func frame(points []Point) (mean Point, scale float64, ok bool) {
	n := float64(len(points))
	for _, p := range points {
		mean.X += p.X / n
		mean.Y += p.Y / n
	}
	var xx, xy, yy float64
	for _, p := range points {
		d := p.minus(mean)
		xx += d.X * d.X
		xy += d.X * d.Y
		yy += d.Y * d.Y
	}
	large, small, _ := eigen2(xx, xy, yy)
	return mean, math.Sqrt(large / n), small > 1e-6*large
}

// refine moves an ellipse to the least sum of squared orthogonal distances
// (Gander, Golub and Strebel 1994) by Levenberg and Marquardt's method. The
// derivative of a distance is that of the foot's own point along the normal,
// since sliding along the ellipse does not change it to first order.
func refine(o oval, points []Point) (oval, float64) {
	damping := 1e-4
	q, cost := distances(o, points)
	for range fitSteps {
		f, ok := q.factor(damping)
		if !ok {
			damping = math.Max(damping*10, 1e-8)
			if damping > 1e8 {
				break
			}
			continue
		}
		next := o.plus(f.solve(q.aty))
		if next.valid() {
			nq, ncost := distances(next, points)
			if ncost <= cost {
				fell := cost - ncost
				o, q, cost = next, nq, ncost
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
	return o, cost
}

// distances returns the normal equations for a step of the oval's five numbers
// and the sum of squared distances.
func distances(o oval, points []Point) (q normals, cost float64) {
	q.n = 5
	for _, p := range points {
		u, n, d := o.nearest(p)
		row := moves(u, n)
		q.add(row[:], d, 1)
		cost += d * d
	}
	return q, cost
}

// moves is how far the ellipse's point that belongs to u moves along n, for a
// unit change of each of the oval's five numbers.
func moves(u, n Point) [5]float64 {
	return [5]float64{n.X, n.Y, n.X * u.X, n.X*u.Y + n.Y*u.X, n.Y * u.Y}
}

// gains fills in how the fit follows its points, by the implicit function of
// the normal equations without their second-order part: click scatter is small
// beside the rim. False when the fit is too loose to be used.
func (r *rim) gains(points []Point, o oval) bool {
	q := normals{n: 5}
	rows := make([][5]float64, len(points))
	for i, p := range points {
		u, n, _ := o.nearest(p)
		rows[i] = moves(u, n)
		q.add(rows[i][:], 0, 1)
	}
	f, ok := q.factor(0)
	if !ok {
		return false
	}
	r.gain = make([][5]float64, len(points))
	for i, row := range rows {
		g := f.solve([8]float64{row[0], row[1], row[2], row[3], row[4]})
		copy(r.gain[i][:], g[:5])
	}
	return true
}

// loose returns the largest relative standard uncertainty of S that clicks
// scattered by u leave.
func (r rim) loose(u float64) float64 {
	var v [3]float64
	for _, g := range r.gain {
		for k := range v {
			v[k] += g[2+k] * g[2+k]
		}
	}
	_, b, _ := r.axes()
	return u * math.Sqrt(max(v[0], v[1], v[2])) / b
}

// span returns how much of the rim the points cover: a turn less the widest gap
// between neighbours.
func span(o oval, points []Point) timing.Deg {
	back, ok := o.face().inverse()
	if !ok {
		return 0
	}
	angles := make([]float64, 0, len(points))
	for _, p := range points {
		u, _ := back.apply(p)
		angles = append(angles, math.Atan2(u.Y, u.X))
	}
	slices.Sort(angles)
	gap := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for i := 1; i < len(angles); i++ {
		gap = math.Max(gap, angles[i]-angles[i-1])
	}
	return timing.FromRadians(2*math.Pi - gap)
}
