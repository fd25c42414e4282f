package snap

import (
	"math"

	"pinphase.org/pinphase/timing/part/photo"
)

// leastAlike is how alike a hole must look to the one that was clicked, as a correlation.
const leastAlike = 0.55

// mostHoles is how many holes a circle is thought to have at most.
const mostHoles = 16

// Holes looks for the other holes of an evenly spaced circle about a rim's middle, from a
// click on one of them: the middle of each in the order in which they follow clockwise,
// that of the clicked one first. It is false where fewer than four look alike.
func (g *Grey) Holes(rim photo.Ellipse, click photo.Point) ([]photo.Point, bool) {
	rim.Centre.X, rim.Centre.Y, rim.Major, rim.Minor = rim.Centre.X*g.k, rim.Centre.Y*g.k, rim.Major*g.k, rim.Minor*g.k
	face := onFace(rim)
	start := face.of(photo.Point{X: click.X * g.k, Y: click.Y * g.k})
	radius, first := math.Hypot(start.X, start.Y), math.Atan2(start.Y, start.X)
	if radius < 0.15 || radius > 2.5 {
		return nil, false
	}
	radius, first = g.steady(face, radius, first)
	like := g.patch(face, radius, first)
	// A hole may lie beside its even place by the perspective that a rim alone leaves.
	find := func(angle float64) (at photo.Point, alike float64) {
		for da := -0.12; da <= 0.1201; da += 0.015 {
			for dr := -0.15; dr <= 0.1501; dr += 0.025 {
				if a := correlation(like, g.patch(face, radius*(1+dr), angle+da)); a > alike {
					alike, at = a, photo.Point{X: radius * (1 + dr) * math.Cos(angle+da), Y: radius * (1 + dr) * math.Sin(angle+da)}
				}
			}
		}
		return at, alike
	}
	for n := mostHoles; n >= 4; n-- { // a circle of twelve looks like one of six as well
		var list []photo.Point
		for i := range n {
			p := photo.Point{X: radius * math.Cos(first), Y: radius * math.Sin(first)}
			if i > 0 {
				at, alike := find(first + 2*math.Pi*float64(i)/float64(n))
				if alike < leastAlike {
					list = nil
					break
				}
				p = at
			}
			r, a := g.steady(face, math.Hypot(p.X, p.Y), math.Atan2(p.Y, p.X))
			p = face.at(photo.Point{X: r * math.Cos(a), Y: r * math.Sin(a)})
			list = append(list, photo.Point{X: p.X / g.k, Y: p.Y / g.k})
		}
		if list != nil && apart(list) {
			return list, true
		}
	}
	return nil, false
}

// apart tells whether no two places are the same hole.
func apart(list []photo.Point) bool {
	for i, p := range list {
		q := list[(i+1)%len(list)]
		if math.Hypot(p.X-q.X, p.Y-q.Y) < 4 {
			return false
		}
	}
	return true
}

// plane is the face of the shaft, on which the rim has the radius 1, but for perspective.
type plane struct {
	e        photo.Ellipse
	sin, cos float64
}

func onFace(e photo.Ellipse) plane {
	sin, cos := math.Sincos(e.Turned.Radians())
	return plane{e, sin, cos}
}

// of is a place of the picture on the face, and at the inverse. Both keep the picture's
// directions where the rim is a circle.
func (f plane) of(p photo.Point) photo.Point {
	dx, dy := p.X-f.e.Centre.X, p.Y-f.e.Centre.Y
	x, y := (dx*f.cos+dy*f.sin)/f.e.Major, (dy*f.cos-dx*f.sin)/f.e.Minor
	return photo.Point{X: x*f.cos - y*f.sin, Y: x*f.sin + y*f.cos}
}

func (f plane) at(p photo.Point) photo.Point {
	x, y := (p.X*f.cos+p.Y*f.sin)*f.e.Major, (p.Y*f.cos-p.X*f.sin)*f.e.Minor
	return photo.Point{X: f.e.Centre.X + x*f.cos - y*f.sin, Y: f.e.Centre.Y + x*f.sin + y*f.cos}
}

// patchHalf is how far a patch reaches to either side, in rim radii, in so many steps.
const (
	patchHalf  = 0.11
	patchSteps = 6
)

// patch is what is round a place of the face, seen as from the middle.
func (g *Grey) patch(f plane, radius, angle float64) []float64 {
	sin, cos := math.Sincos(angle)
	list := make([]float64, 0, (2*patchSteps+1)*(2*patchSteps+1))
	for i := -patchSteps; i <= patchSteps; i++ {
		for j := -patchSteps; j <= patchSteps; j++ {
			r, s := radius+patchHalf*float64(i)/patchSteps, patchHalf*float64(j)/patchSteps
			p := f.at(photo.Point{X: r*cos - s*sin, Y: r*sin + s*cos})
			list = append(list, g.at(p.X, p.Y))
		}
	}
	return list
}

// correlation is how alike two patches are, from -1 to 1, whatever their light; 0 where
// one of them is even.
func correlation(a, b []float64) float64 {
	var sa, sb float64
	for i := range a {
		sa += a[i]
		sb += b[i]
	}
	sa, sb = sa/float64(len(a)), sb/float64(len(b))
	var ab, aa, bb float64
	for i := range a {
		ab += (a[i] - sa) * (b[i] - sb)
		aa += (a[i] - sa) * (a[i] - sa)
		bb += (b[i] - sb) * (b[i] - sb)
	}
	const even = 4.0 // grey levels, rms: less is noise
	if n := float64(len(a)); aa < even*even*n || bb < even*even*n {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}

// steady is the middle of a hole about a place: of the edges round it, on lines outwards
// from it, the ellipse; the place itself where they are none.
func (g *Grey) steady(f plane, radius, angle float64) (r, a float64) {
	p := f.at(photo.Point{X: radius * math.Cos(angle), Y: radius * math.Sin(angle)})
	reach := patchHalf * f.e.Minor
	for range 3 {
		var edges []found
		side := 0.0
		for _, sign := range []float64{1, -1} { // a hole is dark, a bolt's head may be light
			var list []found
			total := 0.0
			for i := range normals / 5 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / (normals / 5))
				n := photo.Point{X: cos, Y: sin}
				middle := photo.Point{X: p.X + reach/2*n.X, Y: p.Y + reach/2*n.Y}
				best, at := 0.0, 0.0
				for _, c := range g.crossings(middle, n, reach/2, 1.2, 1) {
					if s := c.slope * sign; s > best {
						best, at = s, c.at
					}
				}
				if best > leastSlope {
					total += best
					list = append(list, found{photo.Point{X: middle.X + at*n.X, Y: middle.Y + at*n.Y}, best})
				}
			}
			if total > side {
				side, edges = total, list
			}
		}
		m, ok := roundMiddle(edges)
		if !ok || math.Hypot(m.X-p.X, m.Y-p.Y) > reach {
			break
		}
		p = m
	}
	q := f.of(p)
	return math.Hypot(q.X, q.Y), math.Atan2(q.Y, q.X)
}

// roundMiddle is the middle of the ellipse through edges, without those far off it.
func roundMiddle(edges []found) (photo.Point, bool) {
	var points []photo.Point
	for _, e := range edges {
		points = append(points, e.Point)
	}
	for range 4 {
		if len(points) < 12 {
			return photo.Point{}, false
		}
		e, _, err := photo.FitEllipse(points)
		if err != nil {
			return photo.Point{}, false
		}
		off := make([]float64, len(points))
		for i, p := range points {
			off[i] = distance(e, p)
		}
		within := max(0.7, 3*1.4826*middle(off))
		next := points[:0:0]
		for i, p := range points {
			if off[i] <= within {
				next = append(next, p)
			}
		}
		if len(next) == len(points) {
			return e.Centre, true
		}
		points = next
	}
	return photo.Point{}, false
}

// Corner moves a click near a corner of a keyway to where its wall meets the rim: the wall
// is followed a little inside the rim, and led on to it.
func (g *Grey) Corner(rim photo.Ellipse, click photo.Point, reach float64) (photo.Point, bool) {
	rim.Centre.X, rim.Centre.Y, rim.Major, rim.Minor = rim.Centre.X*g.k, rim.Centre.Y*g.k, rim.Major*g.k, rim.Minor*g.k
	face := onFace(rim)
	at := face.of(photo.Point{X: click.X * g.k, Y: click.Y * g.k})
	if math.Abs(math.Hypot(at.X, at.Y)-1) > 0.15 {
		return click, false
	}
	angle := math.Atan2(at.Y, at.X)
	reach = max(3, reach*g.k)
	wall := func(radius float64) (photo.Point, bool) { // on the face
		p := face.at(photo.Point{X: radius * math.Cos(angle), Y: radius * math.Sin(angle)})
		q := face.at(photo.Point{X: radius * math.Cos(angle+0.01), Y: radius * math.Sin(angle+0.01)})
		l := math.Hypot(q.X-p.X, q.Y-p.Y)
		n := photo.Point{X: (q.X - p.X) / l, Y: (q.Y - p.Y) / l}
		best, shift := 0.0, 0.0
		for _, c := range g.crossings(p, n, reach, 1.2, 1) {
			if s := math.Abs(c.slope) * (1 - 0.5*(c.at/reach)*(c.at/reach)); s > best {
				best, shift = s, c.at
			}
		}
		return face.of(photo.Point{X: p.X + shift*n.X, Y: p.Y + shift*n.Y}), best >= leastSlope
	}
	inner, ok := wall(0.90)
	outer, too := wall(0.96)
	if !ok || !too {
		return click, false
	}
	// The line through both, on to the circle of radius 1.
	dx, dy := outer.X-inner.X, outer.Y-inner.Y
	a, b, c := dx*dx+dy*dy, outer.X*dx+outer.Y*dy, outer.X*outer.X+outer.Y*outer.Y-1
	root := b*b - a*c
	if a == 0 || root < 0 {
		return click, false
	}
	t := (-b + math.Sqrt(root)) / a
	p := face.at(photo.Point{X: outer.X + t*dx, Y: outer.Y + t*dy})
	if math.Hypot(p.X-click.X*g.k, p.Y-click.Y*g.k) > 2*reach {
		return click, false
	}
	return photo.Point{X: p.X / g.k, Y: p.Y / g.k}, true
}
