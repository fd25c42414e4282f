package render

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
)

// Render draws the scene as a picture: the face of a shaft with a keyway, a
// dowel, a centre drilling and bolt holes on a dim bench. Each pixel is the mean
// of nine rays, with a little noise.
func (s *Scene) Render(seed uint64) *image.RGBA {
	r := rand.New(rand.NewPCG(seed, 5))
	img := image.NewRGBA(image.Rect(0, 0, s.Width, s.Height))
	normal := cross(s.ex, s.ey)
	h := dot(normal, s.base)
	for y := range s.Height {
		for x := range s.Width {
			light := 0.0
			for k := range 9 {
				px := float64(x) + (float64(k%3)+0.5)/3 - float64(s.Width)/2
				py := float64(y) + (float64(k/3)+0.5)/3 - float64(s.Height)/2
				ray := [3]float64{px / s.F, py / s.F, 1}
				d := sum(ray, h/dot(normal, ray), s.base, -1)
				light += s.light(dot(d, s.ex), dot(d, s.ey)) / 9
			}
			v := 255*light*(0.9+0.1*float64(x)/float64(s.Width)) + 3*r.NormFloat64()
			g := uint8(math.Max(0, math.Min(255, v)))
			img.SetRGBA(x, y, color.RGBA{g, g, uint8(math.Min(255, float64(g)*1.04)), 255})
		}
	}
	return img
}

// Lightness of what is seen.
const (
	lightBench = 0.16
	lightPlate = 0.38 // what carries the bolts, when they lie outside the rim
	lightFace  = 0.72
	lightHole  = 0.05
	lightDowel = 0.30
)

func (s *Scene) light(x, y float64) float64 {
	dist := math.Hypot(x, y)
	near := func(angle, at, r float64) bool {
		sin, cos := math.Sincos(angle * math.Pi / 180)
		return math.Hypot(x-at*cos, y-at*sin) <= r
	}
	for i := range s.Bolts {
		if near(BoltStart+360*float64(i)/float64(s.Bolts), s.BoltsAt, 0.06) {
			return lightHole
		}
	}
	if dist > 1 {
		if s.Bolts > 0 && dist < s.BoltsAt+0.18 {
			return lightPlate
		}
		return lightBench
	}
	sin, cos := math.Sincos(s.Key * math.Pi / 180)
	along, aside := x*cos+y*sin, y*cos-x*sin
	switch {
	case near(0, 0, 0.06), along > 0.74 && math.Abs(aside) < math.Sin(s.KeyHalf*math.Pi/180):
		return lightHole
	case near(s.Key+s.Dowel, s.DowelAt, s.DowelR):
		return lightDowel
	}
	return lightFace + 0.015*math.Sin(dist*60) // turned in a lathe
}

// Arrow is a picture that looks different each way round.
func Arrow(width, height int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetRGBA(x, y, color.RGBA{uint8(255 * x / width), uint8(255 * y / height), uint8(20 * (x * y % 7)), 255})
		}
	}
	return img
}
