package photo

import (
	"math"
	"math/rand/v2"
)

// scene is a pinhole camera before the end of a crankshaft: a second way to the
// picture that shares no formula with the package. Lengths are in rim radii,
// angles in degrees, clockwise as seen.
type scene struct {
	width, height int
	f             float64    // px
	offX, offY    float64    // direction of the face's centre from the optical axis
	distance      float64    // camera to the face's centre, rim diameters
	tilt, azimuth float64    // of the face's axis off the line of sight, and towards where
	roll          float64    // of the face about its axis
	key           float64    // direction of the keyway
	keyHalf       float64    // half its width
	dowel         float64    // direction of the dowel from the keyway: the angle to be found
	dowelAt       float64    // its distance from the axis
	dowelR        float64    // its radius
	bolts         int        // number of bolts
	boltsAt       float64    // their distance from the axis
	base          [3]float64 // filled in by set
	ex, ey        [3]float64
}

// set works out where the face stands. The camera looks along z, x to the
// right, y down.
func (s *scene) set() {
	rad := math.Pi / 180
	d := unit([3]float64{math.Tan(s.offX * rad), math.Tan(s.offY * rad), 1})
	right := unit(cross([3]float64{0, 1, 0}, d))
	down := cross(d, right)
	// Where the axis leans to.
	sa, ca := math.Sincos(s.azimuth * rad)
	lean := sum(right, ca, down, sa)
	st, ct := math.Sincos(s.tilt * rad)
	away := sum(d, ct, lean, st) // along the shaft, away from the camera
	x := unit(cross([3]float64{0.3, 0.9, 0.1}, away))
	y := cross(away, x)
	sr, cr := math.Sincos(s.roll * rad)
	s.ex, s.ey = sum(x, cr, y, sr), sum(y, cr, x, -sr)
	s.base = sum(d, 2*s.distance, d, 0)
}

// at projects the point of the face at an angle and a distance from the axis.
func (s *scene) at(angle, radius float64) Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return s.project(radius*cos, radius*sin)
}

func (s *scene) project(x, y float64) Point {
	p := sum(s.base, 1, sum(s.ex, x, s.ey, y), 1)
	return Point{float64(s.width)/2 + s.f*p[0]/p[2], float64(s.height)/2 + s.f*p[1]/p[2]}
}

// dowelEdge projects a point on the dowel's edge.
func (s *scene) dowelEdge(angle float64) Point {
	c, r := (s.key+s.dowel)*math.Pi/180, angle*math.Pi/180
	return s.project(s.dowelAt*math.Cos(c)+s.dowelR*math.Cos(r), s.dowelAt*math.Sin(c)+s.dowelR*math.Sin(r))
}

// marks places clicks, scattered by u pixels, as a user would.
func (s *scene) marks(r *rand.Rand, u float64, rim, edge int, basis Basis) Marks {
	click := func(p Point) Point { return Point{p.X + u*r.NormFloat64(), p.Y + u*r.NormFloat64()} }
	var m Marks
	for i := range rim {
		m.Rim = append(m.Rim, click(s.at(360/float64(rim)*(float64(i)+0.6*r.Float64()), 1)))
	}
	m.Keyway = []Point{click(s.at(s.key-s.keyHalf, 1)), click(s.at(s.key+s.keyHalf, 1))}
	if edge == 0 {
		m.Dowel = []Point{click(s.at(s.key+s.dowel, s.dowelAt))}
	}
	for i := range edge {
		m.Dowel = append(m.Dowel, click(s.dowelEdge(360/float64(edge)*(float64(i)+0.5*r.Float64()))))
	}
	switch basis {
	case RimAndCentre:
		m.Centre = []Point{click(s.at(0, 0))}
	case BoltCircle:
		for i := range s.bolts {
			m.Bolts = append(m.Bolts, click(s.at(17+360*float64(i)/float64(s.bolts), s.boltsAt)))
		}
	}
	return m
}

// anyScene is a phone held at the given tilt, some way off.
func anyScene(r *rand.Rand, tilt float64) scene {
	s := scene{width: 4000, height: 3000, tilt: tilt, azimuth: 360 * r.Float64(), roll: 360 * r.Float64()}
	if r.IntN(2) == 0 {
		s.width, s.height = s.height, s.width
	}
	s.f = (24 + 4*r.Float64()) / math.Hypot(24, 36) * math.Hypot(float64(s.width), float64(s.height))
	s.distance = 4 * math.Pow(15.0/4, r.Float64())
	s.offX, s.offY = 16*r.Float64()-8, 16*r.Float64()-8
	s.key, s.keyHalf = 360*r.Float64(), 5+5*r.Float64()
	s.dowel = 360*r.Float64() - 180
	s.dowelAt, s.dowelR = 0.5+0.3*r.Float64(), 0.06+0.06*r.Float64()
	s.bolts, s.boltsAt = 4+r.IntN(5), 0.7+0.5*r.Float64()
	s.set()
	return s
}

func sum(a [3]float64, ka float64, b [3]float64, kb float64) [3]float64 {
	return [3]float64{ka*a[0] + kb*b[0], ka*a[1] + kb*b[1], ka*a[2] + kb*b[2]}
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func unit(a [3]float64) [3]float64 {
	l := math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2])
	return sum(a, 1/l, a, 0)
}
