// Package render draws photographs of a crankshaft's end at known angles, for
// tests. It is a pinhole camera written apart from the package it tests and
// shares no formula with it.
package render

import (
	"math"
	"math/rand/v2"
)

// Point is a position in the picture, px, y down.
type Point struct{ X, Y float64 }

// Scene is a camera before the end of a shaft. Lengths are in rim radii, angles
// in degrees, clockwise as seen. Call Set after the fields are filled in.
type Scene struct {
	Width, Height int
	F             float64 // focal length, px
	OffX, OffY    float64 // direction of the face's centre from the optical axis
	Distance      float64 // camera to the face's centre, rim diameters
	Tilt, Azimuth float64 // of the face's axis off the line of sight, and towards where
	Roll          float64 // of the face about its axis
	Key           float64 // direction of the keyway
	KeyHalf       float64 // half its width
	Dowel         float64 // direction of the dowel from the keyway: the angle to be found
	DowelAt       float64 // its distance from the axis
	DowelR        float64 // its radius
	Bolts         int     // number of bolts
	BoltsAt       float64 // their distance from the axis

	base, ex, ey [3]float64
}

// BoltStart is the direction of the first bolt.
const BoltStart = 17.0

// Set works out where the face stands. The camera looks along z, x to the
// right, y down.
func (s *Scene) Set() {
	const rad = math.Pi / 180
	d := unit([3]float64{math.Tan(s.OffX * rad), math.Tan(s.OffY * rad), 1})
	right := unit(cross([3]float64{0, 1, 0}, d))
	down := cross(d, right)
	sa, ca := math.Sincos(s.Azimuth * rad)
	lean := sum(right, ca, down, sa)
	st, ct := math.Sincos(s.Tilt * rad)
	away := sum(d, ct, lean, st) // along the shaft, away from the camera
	x := unit(cross([3]float64{0.3, 0.9, 0.1}, away))
	y := cross(away, x)
	sr, cr := math.Sincos(s.Roll * rad)
	s.ex, s.ey = sum(x, cr, y, sr), sum(y, cr, x, -sr)
	s.base = sum(d, 2*s.Distance, d, 0)
}

// At projects the point of the face at an angle and a distance from the axis.
func (s *Scene) At(angle, radius float64) Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return s.Project(radius*cos, radius*sin)
}

// Project projects a point of the face.
func (s *Scene) Project(x, y float64) Point {
	p := sum(s.base, 1, sum(s.ex, x, s.ey, y), 1)
	return Point{float64(s.Width)/2 + s.F*p[0]/p[2], float64(s.Height)/2 + s.F*p[1]/p[2]}
}

// DowelEdge projects the point of the dowel's edge in the given direction, at
// so many of its radii from its middle.
func (s *Scene) DowelEdge(angle, radii float64) Point {
	c, r := (s.Key+s.Dowel)*math.Pi/180, angle*math.Pi/180
	k := radii * s.DowelR
	return s.Project(s.DowelAt*math.Cos(c)+k*math.Cos(r), s.DowelAt*math.Sin(c)+k*math.Sin(r))
}

// Bolt projects the middle of a bolt, from 0 on.
func (s *Scene) Bolt(i int) Point {
	return s.At(BoltStart+360*float64(i)/float64(s.Bolts), s.BoltsAt)
}

// Any is a phone of 24 to 28 mm held at the given tilt, 4 to 15 rim diameters
// away and pointed up to 8° past the face each way.
func Any(r *rand.Rand, tilt float64) Scene {
	s := Scene{Width: 4000, Height: 3000, Tilt: tilt, Azimuth: 360 * r.Float64(), Roll: 360 * r.Float64()}
	if r.IntN(2) == 0 {
		s.Width, s.Height = s.Height, s.Width
	}
	s.F = Focal(24+4*r.Float64(), s.Width, s.Height)
	s.Distance = 4 * math.Pow(15.0/4, r.Float64())
	s.OffX, s.OffY = 16*r.Float64()-8, 16*r.Float64()-8
	s.Key, s.KeyHalf = 360*r.Float64(), 5+5*r.Float64()
	s.Dowel = 360*r.Float64() - 180
	s.DowelAt, s.DowelR = 0.5+0.3*r.Float64(), 0.06+0.06*r.Float64()
	s.Bolts, s.BoltsAt = 4+r.IntN(5), 0.7+0.5*r.Float64()
	s.Set()
	return s
}

// Focal returns the focal length in pixels of a 35 mm equivalent.
func Focal(mm float64, width, height int) float64 {
	return mm / math.Hypot(24, 36) * math.Hypot(float64(width), float64(height))
}

// SampleMM is the lens of the samples, 35 mm equivalent.
const SampleMM = 26

// Samples are the scenes of the sample photographs by file name.
func Samples() map[string]Scene {
	base := Scene{OffX: 2, OffY: -1.5, KeyHalf: 7, DowelAt: 0.62, DowelR: 0.085, Distance: 2.6, Width: 1600, Height: 1200}
	square, tilted, portrait := base, base, base
	square.Tilt, square.Azimuth, square.Key, square.Dowel = 5, 60, -80, -12.5
	tilted.Tilt, tilted.Azimuth, tilted.Key, tilted.Dowel = 27, 200, -120, 12.5
	tilted.Bolts, tilted.BoltsAt, tilted.Distance = 6, 1.2, 3.4
	portrait.Width, portrait.Height = 1200, 1600
	portrait.Tilt, portrait.Azimuth, portrait.Key, portrait.Dowel = 14, 310, -95, 37.8
	scenes := map[string]Scene{"nose-square.jpg": square, "nose-bolts-tilted.jpg": tilted, "nose-portrait.jpg": portrait}
	for name, s := range scenes {
		s.F = Focal(SampleMM, s.Width, s.Height)
		s.Set()
		scenes[name] = s
	}
	return scenes
}

// Try are the scenes of the photographs in assets/try, by file name: the old crankshaft's
// end and the new one's, whose dowel is on the other side of the keyway.
func Try() map[string]Scene {
	base := Scene{OffX: 1, OffY: -1, KeyHalf: 7, DowelAt: 27.0 / 41, DowelR: 0.085, Distance: 4, Width: 1200, Height: 900}
	before, after := base, base
	before.Tilt, before.Azimuth, before.Key, before.Dowel = 6, 40, -84, 14
	after.Tilt, after.Azimuth, after.Key, after.Dowel = 9, 250, -97, -14
	scenes := map[string]Scene{"old-nose.jpg": before, "new-nose.jpg": after}
	for name, s := range scenes {
		s.F = Focal(2*SampleMM, s.Width, s.Height) // from further off, with the longer lens of a phone
		s.Set()
		scenes[name] = s
	}
	return scenes
}

func sum(a [3]float64, ka float64, b [3]float64, kb float64) [3]float64 {
	return [3]float64{ka*a[0] + kb*b[0], ka*a[1] + kb*b[1], ka*a[2] + kb*b[2]}
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func unit(a [3]float64) [3]float64 { return sum(a, 1/math.Sqrt(dot(a, a)), a, 0) }
