package snap

import (
	"math"

	"pinphase.org/pinphase/timing/part/photo"
)

// leastSlope is how many grey levels to the pixel an edge has at least, and leastClear how
// many times the slope that is usual round it. Chosen for this program on rendered noses.
const (
	leastSlope = 2.0
	leastClear = 3.0
)

// Edge moves a click onto the edge next to it, no further than reach pixels of the marks.
// It is false where there is none that is clear.
func (g *Grey) Edge(click photo.Point, reach float64) (photo.Point, bool) {
	p := photo.Point{X: click.X * g.k, Y: click.Y * g.k}
	reach = max(2, reach*g.k)
	const ways = 16
	best, n := 0.0, photo.Point{}
	at := 0.0
	var usual []float64
	for i := range ways {
		sin, cos := math.Sincos(math.Pi * float64(i) / ways)
		way := photo.Point{X: cos, Y: sin}
		for _, c := range g.crossings(p, way, reach, 1.2, 2) {
			usual = append(usual, math.Abs(c.slope))
			near := 1 - 0.6*(c.at/reach)*(c.at/reach)
			if s := math.Abs(c.slope) * near; s > best {
				best, n, at = s, way, c.at
			}
		}
	}
	if best < leastSlope || best < leastClear*middle(usual) && len(usual) > 2*ways {
		return click, false
	}
	found := photo.Point{X: p.X + at*n.X, Y: p.Y + at*n.Y}
	// Along the edge's own normal, which is that of the fastest change, the place is exact.
	n = g.normal(found)
	least := math.Inf(1)
	shift := 0.0
	for _, c := range g.crossings(found, n, 3, 1, 2) {
		if math.Abs(c.slope) >= 0.5*best && math.Abs(c.at) < least {
			least, shift = math.Abs(c.at), c.at
		}
	}
	return photo.Point{X: (found.X + shift*n.X) / g.k, Y: (found.Y + shift*n.Y) / g.k}, true
}

// normal is the direction in which the grey level changes fastest.
func (g *Grey) normal(p photo.Point) photo.Point {
	var x, y float64
	for j := -3; j <= 3; j++ {
		for i := -3; i <= 3; i++ {
			w := math.Exp(-float64(i*i+j*j) / 6)
			v := g.at(p.X+float64(i), p.Y+float64(j))
			x += w * float64(i) * v
			y += w * float64(j) * v
		}
	}
	l := math.Hypot(x, y)
	if l == 0 {
		return photo.Point{X: 1}
	}
	return photo.Point{X: x / l, Y: y / l}
}
