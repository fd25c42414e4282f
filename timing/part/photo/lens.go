package photo

import (
	"math"
	"math/rand/v2"
)

// What is plausible for the camera when the picture does not say. Chosen for
// this program, no source: every other picture is taken by a phone's main
// camera, near 24 to 28 mm (35 mm equivalent), and left whole; the rest by its
// long ones, 50 to 80, or cut to the middle, which looks like a longer lens.
const (
	shortestLens = 22.0
	usualLens    = 26.0
	longMain     = 30.0
	longestLens  = 90.0
	// Without even the picture's size: the distance, in rim diameters.
	nearestShot  = 3.0
	farthestShot = 15.0
	// The 35 mm equivalent in a picture's data is a whole number, rounded by
	// makers in their own ways, and lens correction cuts the edges.
	statedFocalU = 0.04
	// How far the optical axis may pass from the picture's middle, in focal
	// lengths (radians): hardly at all in a whole picture, some 4° after a cut.
	wholeAxisU = 0.01
	cutAxisU   = 0.07
)

// diagonal35 is the diagonal of a 24 by 36 mm frame, on which the 35 mm
// equivalent rests (CIPA DCG-001; from memory).
var diagonal35 = math.Hypot(24, 36)

// lens is what is known of the camera.
type lens struct {
	least, most float64 // focal length, px
	spread      float64 // relative standard uncertainty on top
	middle      Point
	axisU       float64
	known       bool // the picture says its focal length
	guessed     bool // nothing is known: the range is one of distances
}

// lensOf returns what a picture says of its camera; e is what was marked, for
// a picture that says nothing.
func lensOf(p Info, e Ellipse) lens {
	middle := Point{float64(p.Width) / 2, float64(p.Height) / 2}
	switch {
	case p.Width <= 0 || p.Height <= 0:
		return lens{least: nearestShot * 2 * e.Major, most: farthestShot * 2 * e.Major, middle: e.Centre, axisU: cutAxisU, guessed: true}
	case p.FocalPx > 0:
		return lens{least: p.FocalPx, most: p.FocalPx, spread: statedFocalU, middle: middle, axisU: wholeAxisU, known: true}
	}
	perMM := math.Hypot(float64(p.Width), float64(p.Height)) / diagonal35
	return lens{least: shortestLens * perMM, most: longestLens * perMM, middle: middle, axisU: cutAxisU}
}

// nominal returns the middle of what is plausible.
func (l lens) nominal() camera { return camera{math.Sqrt(l.least * l.most), l.middle} }

// draw returns a plausible camera.
func (l lens) draw(r *rand.Rand) camera {
	least, most := l.least, l.most
	if !l.known && !l.guessed {
		main := l.least * longMain / shortestLens
		if r.IntN(2) == 0 {
			most = main
		} else {
			least = main
		}
	}
	f := least
	if most > least {
		f *= math.Pow(most/least, r.Float64()) // as likely in each octave
	}
	f *= math.Max(0.5, 1+l.spread*r.NormFloat64())
	off := l.axisU * f
	return camera{f, Point{l.middle.X + off*r.NormFloat64(), l.middle.Y + off*r.NormFloat64()}}
}

// ends returns the cameras that give the least and the most distance.
func (l lens) ends() [2]camera {
	return [2]camera{{l.least * (1 - normal95*l.spread), l.middle}, {l.most * (1 + normal95*l.spread), l.middle}}
}

// usual returns the most likely camera.
func (l lens) usual() camera {
	if l.known || l.guessed {
		return l.nominal()
	}
	return camera{l.least * usualLens / shortestLens, l.middle}
}
