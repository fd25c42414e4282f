package photo

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"

	"pinphase.org/pinphase/timing/part/photo/internal/render"
)

// scene is a rendered photograph with its marks.
type scene struct{ render.Scene }

func anyScene(r *rand.Rand, tilt float64) scene { return scene{render.Any(r, tilt)} }
func sampleScene(name string) scene             { return scene{render.Samples()[name]} }

func (s *scene) at(angle, radius float64) Point { return Point(s.At(angle, radius)) }

// marks places clicks, scattered by u pixels, as a user would.
func (s *scene) marks(r *rand.Rand, u float64, rim, edge int, basis Basis) Marks {
	click := func(p Point) Point { return Point{p.X + u*r.NormFloat64(), p.Y + u*r.NormFloat64()} }
	var m Marks
	for i := range rim {
		m.Rim = append(m.Rim, click(s.at(360/float64(rim)*(float64(i)+0.6*r.Float64()), 1)))
	}
	m.Keyway = []Point{click(s.at(s.Key-s.KeyHalf, 1)), click(s.at(s.Key+s.KeyHalf, 1))}
	if edge == 0 {
		m.Dowel = []Point{click(s.at(s.Key+s.Dowel, s.DowelAt))}
	}
	for i := range edge {
		m.Dowel = append(m.Dowel, click(Point(s.DowelEdge(360/float64(edge)*(float64(i)+0.5*r.Float64()), 1))))
	}
	switch basis {
	case RimAndCentre:
		m.Centre = []Point{click(s.at(0, 0))}
	case BoltCircle:
		for i := range s.Bolts {
			m.Bolts = append(m.Bolts, click(Point(s.Bolt(i))))
		}
	}
	return m
}

// unit and cross are the linear algebra of the tests' own second ways.
func unit(a [3]float64) [3]float64 {
	l := floats.Norm(a[:], 2)
	return [3]float64{a[0] / l, a[1] / l, a[2] / l}
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
