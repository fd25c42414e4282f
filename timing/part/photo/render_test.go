package photo

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
)

// render draws the scene as a picture: the face of a shaft with a keyway, a
// dowel, a centre drilling and bolt holes on a dim bench. Each pixel is the mean
// of nine rays, with a little noise.
func (s *scene) render(seed uint64) *image.RGBA {
	r := rand.New(rand.NewPCG(seed, 5))
	img := image.NewRGBA(image.Rect(0, 0, s.width, s.height))
	normal := cross(s.ex, s.ey)
	h := dot(normal, s.base)
	for y := range s.height {
		for x := range s.width {
			light := 0.0
			for k := range 9 {
				px := float64(x) + (float64(k%3)+0.5)/3 - float64(s.width)/2
				py := float64(y) + (float64(k/3)+0.5)/3 - float64(s.height)/2
				ray := [3]float64{px / s.f, py / s.f, 1}
				d := sum(ray, h/dot(normal, ray), s.base, -1)
				light += s.light(dot(d, s.ex), dot(d, s.ey)) / 9
			}
			v := 255*light*(0.9+0.1*float64(x)/float64(s.width)) + 3*r.NormFloat64()
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

func (s *scene) light(x, y float64) float64 {
	dist := math.Hypot(x, y)
	near := func(angle, at, r float64) bool {
		sin, cos := math.Sincos(angle * math.Pi / 180)
		return math.Hypot(x-at*cos, y-at*sin) <= r
	}
	for i := range s.bolts {
		if near(17+360*float64(i)/float64(s.bolts), s.boltsAt, 0.06) {
			return lightHole
		}
	}
	if dist > 1 {
		if s.bolts > 0 && dist < s.boltsAt+0.18 {
			return lightPlate
		}
		return lightBench
	}
	sin, cos := math.Sincos(s.key * math.Pi / 180)
	along, aside := x*cos+y*sin, y*cos-x*sin
	switch {
	case near(0, 0, 0.06), along > 0.74 && math.Abs(aside) < math.Sin(s.keyHalf*math.Pi/180):
		return lightHole
	case near(s.key+s.dowel, s.dowelAt, s.dowelR):
		return lightDowel
	}
	return lightFace + 0.015*math.Sin(dist*60) // turned in a lathe
}
