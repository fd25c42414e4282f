package snap

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/photo"
)

// Rim is a proposed rim.
type Rim struct {
	Ellipse photo.Ellipse
	Shown   float64 // of 1: how much of it the picture shows
	RMS     float64 // of the edges that show it, in pixels of the marks
	Points  []photo.Point
}

// leastShown is how much of a rim must show for it to be proposed.
const leastShown = 0.5

// rimPoints is how many points of a proposed rim are handed back.
const rimPoints = 12

// Rim proposes the rim that goes through three points or more: of the ellipses of a tilted
// circle that do, the one along which the picture changes most, and that moved onto the
// edges beside it. It is false where too little of it shows.
func (g *Grey) Rim(clicks []photo.Point) (Rim, bool) {
	if len(clicks) < 3 {
		return Rim{}, false
	}
	on := make([]photo.Point, len(clicks))
	for i, c := range clicks {
		on[i] = photo.Point{X: c.X * g.k, Y: c.Y * g.k}
	}
	e, side, ok := g.seed(on)
	if !ok {
		return Rim{}, false
	}
	var points []photo.Point
	shown, rms := 0.0, 0.0
	for _, reach := range []float64{0.06 * e.Minor, 0.03 * e.Minor, 0.015 * e.Minor, 5, 4} {
		reach = max(4, reach)
		list := g.along(e, side, reach)
		next, kept, r, ok := fitted(list, max(0.8, reach/6))
		if !ok {
			return Rim{}, false
		}
		e, points, rms = next, kept, r
		shown = float64(len(kept)) / normals
	}
	// Every click must be on it, as far as anybody clicks beside an edge.
	for _, c := range on {
		if distance(e, c) > max(6, 0.04*e.Minor) {
			return Rim{}, false
		}
	}
	if shown < leastShown {
		return Rim{}, false
	}
	e.Centre.X, e.Centre.Y, e.Major, e.Minor = e.Centre.X/g.k, e.Centre.Y/g.k, e.Major/g.k, e.Minor/g.k
	out := Rim{Ellipse: e, Shown: shown, RMS: rms / g.k}
	for i := range rimPoints { // spread over what shows
		p := points[i*len(points)/rimPoints]
		out.Points = append(out.Points, photo.Point{X: p.X / g.k, Y: p.Y / g.k})
	}
	return out, true
}

// seed is the ellipse through the first three points along which the picture changes
// most, and whether it gets lighter (+1) or darker (-1) outwards.
func (g *Grey) seed(on []photo.Point) (best photo.Ellipse, side float64, ok bool) {
	most := 0.0
	for _, ratio := range []float64{1, 0.985, 0.96, 0.93, 0.89, 0.84, 0.78, 0.7, 0.6} {
		for turned := timing.Deg(-75); turned <= 90; turned += 15 {
			e, sound := through(on[0], on[1], on[2], ratio, turned)
			if !sound || e.Major > 2*float64(max(g.W, g.H)) {
				continue
			}
			score := g.changes(e)
			// Further points say which of the ellipses it is.
			for _, p := range on[3:] {
				d := distance(e, p) / e.Minor
				score /= 1 + 400*d*d
			}
			if math.Abs(score) > most {
				most, best, side, ok = math.Abs(score), e, math.Copysign(1, score), true
			}
			if ratio == 1 {
				break
			}
		}
	}
	return best, side, ok
}

// changes is how much the picture changes across an ellipse, with one sign all round:
// what changes a lot in places counts no more than what is usual.
func (g *Grey) changes(e photo.Ellipse) float64 {
	const n = 72
	wide := max(1.5, 0.012*e.Minor)
	var up, down float64
	for i := range n {
		p, q := normalAt(e, timing.Deg(360*i)/n)
		d := 0.0
		for _, k := range []float64{0.5, 1, 1.5} {
			d += g.at(p.X+k*wide*q.X, p.Y+k*wide*q.Y) - g.at(p.X-k*wide*q.X, p.Y-k*wide*q.Y)
		}
		d = min(max(d/3, -30), 30)
		if d > 0 {
			up += d
		} else {
			down -= d
		}
	}
	if up > down {
		return up - 0.5*down
	}
	return -(down - 0.5*up)
}

// normals is on how many lines across an ellipse edges are looked for.
const normals = 180

// found is an edge beside an ellipse.
type found struct {
	photo.Point
	slope float64
}

// along are the edges of one sign beside an ellipse, on each normal the one that is large
// and near.
func (g *Grey) along(e photo.Ellipse, side, reach float64) []found {
	var list []found
	for i := range normals {
		p, n := normalAt(e, timing.Deg(360*i)/normals)
		if p.X < 0 || p.Y < 0 || p.X > float64(g.W) || p.Y > float64(g.H) {
			continue
		}
		best, at := 0.0, 0.0
		for _, c := range g.crossings(p, n, reach, min(2, max(1, reach/8)), 2) {
			near := math.Exp(-1.5 * c.at * c.at / (reach * reach))
			if s := c.slope * side * near; s > best {
				best, at = s, c.at
			}
		}
		if best > 0.5*leastSlope {
			list = append(list, found{photo.Point{X: p.X + at*n.X, Y: p.Y + at*n.Y}, best})
		}
	}
	return list
}

// fitted fits an ellipse to edges of which some are others': those that lie far off are
// left out until none does.
func fitted(list []found, least float64) (e photo.Ellipse, kept []photo.Point, rms float64, ok bool) {
	for _, f := range list {
		kept = append(kept, f.Point)
	}
	for range 8 {
		if len(kept) < normals/4 {
			return e, nil, 0, false
		}
		var err error
		if e, rms, err = photo.FitEllipse(kept); err != nil {
			return e, nil, 0, false
		}
		off := make([]float64, len(list))
		for i, f := range list {
			off[i] = distance(e, f.Point)
		}
		within := max(least, 3*1.4826*middle(off)) // the median's size of a normal distribution's sigma
		next := kept[:0:0]
		for i, f := range list {
			if off[i] <= within {
				next = append(next, f.Point)
			}
		}
		same := len(next) == len(kept)
		kept = next
		if same {
			break
		}
	}
	return e, kept, rms, len(kept) >= normals/4
}

// normalAt is a point of an ellipse, by its eccentric angle, and the direction outwards.
func normalAt(e photo.Ellipse, t timing.Deg) (p, n photo.Point) {
	p = e.At(t)
	sin, cos := math.Sincos(t.Radians())
	ts, tc := math.Sincos(e.Turned.Radians())
	x, y := e.Minor*cos, e.Major*sin
	l := math.Hypot(x, y)
	return p, photo.Point{X: (x*tc - y*ts) / l, Y: (x*ts + y*tc) / l}
}

// distance is about how far a point is from an ellipse: to first order in that distance.
func distance(e photo.Ellipse, p photo.Point) float64 {
	ts, tc := math.Sincos(e.Turned.Radians())
	dx, dy := p.X-e.Centre.X, p.Y-e.Centre.Y
	x, y := (dx*tc+dy*ts)/e.Major, (dy*tc-dx*ts)/e.Minor
	f := x*x + y*y - 1
	slope := 2 * math.Hypot(x/e.Major, y/e.Minor)
	if slope == 0 {
		return e.Minor
	}
	return math.Abs(f) / slope
}

// through is the ellipse of a ratio of its axes and a direction of the longer one that
// goes through three points.
func through(a, b, c photo.Point, ratio float64, turned timing.Deg) (photo.Ellipse, bool) {
	sin, cos := math.Sincos(turned.Radians())
	flat := func(p photo.Point) photo.Point { // in which it is a circle
		return photo.Point{X: p.X*cos + p.Y*sin, Y: (p.Y*cos - p.X*sin) / ratio}
	}
	a, b, c = flat(a), flat(b), flat(c)
	d := 2 * (a.X*(b.Y-c.Y) + b.X*(c.Y-a.Y) + c.X*(a.Y-b.Y))
	a2, b2, c2 := a.X*a.X+a.Y*a.Y, b.X*b.X+b.Y*b.Y, c.X*c.X+c.Y*c.Y
	m := photo.Point{X: (a2*(b.Y-c.Y) + b2*(c.Y-a.Y) + c2*(a.Y-b.Y)) / d, Y: (a2*(c.X-b.X) + b2*(a.X-c.X) + c2*(b.X-a.X)) / d}
	r := math.Hypot(a.X-m.X, a.Y-m.Y)
	e := photo.Ellipse{Centre: photo.Point{X: m.X*cos - m.Y*ratio*sin, Y: m.X*sin + m.Y*ratio*cos}, Major: r, Minor: r * ratio, Turned: turned}
	return e, d != 0 && r > 8 && !math.IsNaN(r) && !math.IsInf(r, 0)
}

// middle is the median.
func middle(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	list = slices.Clone(list)
	slices.Sort(list)
	return list[len(list)/2]
}
