package photo

import "math"

// circle is a circle on the face or in the picture.
type circle struct {
	c Point
	r float64
}

// fitCircle returns the circle of least squared distance to three or more
// points; perUnit(p, e) is how many pixels one unit along the unit vector e is
// worth at point i, so that clicks scattered evenly in the picture are weighed
// evenly; nil weighs all alike. The start is the linear fit of Kasa (1976), the
// refinement, of so many steps at most, Gauss and Newton's with damping (Gander,
// Golub and Strebel 1994). A step is judged by the weights it was made with: what
// the weights gain by turning the normals is no better fit, and would make the
// answer depend on how the picture is turned. False when the points lie on a line.
func fitCircle(points []Point, perUnit func(i int, e Point) float64, steps int) (circle, bool) {
	k, ok := kasa(points)
	if !ok {
		return circle{}, false
	}
	damping := 1e-6
	var few [16]float64
	weights := k.weights(few[:0], points, perUnit)
	q, cost := k.distances(points, weights)
	for range steps {
		f, ok := q.factor(damping)
		if !ok {
			return circle{}, false
		}
		d := f.solve(q.aty)
		next := circle{Point{k.c.X + d[0], k.c.Y + d[1]}, k.r + d[2]}
		nq, ncost := next.distances(points, weights)
		if next.r > 0 && ncost <= cost {
			fell := cost - ncost
			k, q, cost = next, nq, ncost
			if perUnit != nil {
				weights = k.weights(weights[:0], points, perUnit)
				q, cost = k.distances(points, weights)
			}
			damping = math.Max(damping/10, 1e-14)
			if fell <= 1e-14*cost || cost < 1e-26*k.r*k.r {
				break
			}
			continue
		}
		if damping *= 10; damping > 1e6 {
			break
		}
	}
	return k, true
}

// weights appends what a unit of distance from the circle is worth at each point, 1
// where all are alike.
func (k circle) weights(list []float64, points []Point, perUnit func(int, Point) float64) []float64 {
	for i, p := range points {
		w := 1.0
		d := p.minus(k.c)
		if l := d.length(); perUnit != nil && l > 0 {
			w = perUnit(i, Point{d.X / l, d.Y / l})
		}
		list = append(list, w)
	}
	return list
}

// distances returns the normal equations for a step of the circle's three numbers
// and the weighted sum of squared distances.
func (k circle) distances(points []Point, weights []float64) (q normals, cost float64) {
	q.n = 3
	for i, p := range points {
		d := p.minus(k.c)
		l := d.length()
		if l == 0 {
			continue // no direction from the centre: says nothing about it
		}
		e := Point{d.X / l, d.Y / l}
		w := weights[i]
		row := [3]float64{e.X, e.Y, 1}
		q.add(row[:], l-k.r, w*w)
		cost += w * w * (l - k.r) * (l - k.r)
	}
	return q, cost
}

// kasa returns the circle of least squared x²+y²+Dx+Ey+F.
func kasa(points []Point) (circle, bool) {
	mean, scale, ok := frame(points)
	if !ok {
		return circle{}, false
	}
	q := normals{n: 3}
	for _, p := range points {
		x, y := (p.X-mean.X)/scale, (p.Y-mean.Y)/scale
		row := [3]float64{2 * x, 2 * y, 1}
		q.add(row[:], x*x+y*y, 1)
	}
	f, ok := q.factor(0)
	if !ok {
		return circle{}, false
	}
	s := f.solve(q.aty)
	r2 := s[2] + s[0]*s[0] + s[1]*s[1]
	if !(r2 > 0) {
		return circle{}, false
	}
	return circle{Point{mean.X + scale*s[0], mean.Y + scale*s[1]}, scale * math.Sqrt(r2)}, true
}
