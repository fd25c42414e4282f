package snap

import (
	"image"
	"math"

	"pinphase.org/pinphase/timing/part/photo"
)

// Grey is a picture's lightness, 0 to 255.
type Grey struct {
	W, H int
	pix  []uint8
	k    float64 // pixels of it to the pixel of the marks
}

// FromRGBA takes the lightness of a picture whose marks count in pixels of a picture of
// the width given, of which it may be a smaller copy.
func FromRGBA(img *image.RGBA, width int) *Grey {
	b := img.Bounds()
	g := &Grey{W: b.Dx(), H: b.Dy(), pix: make([]uint8, b.Dx()*b.Dy()), k: 1}
	if width > 0 {
		g.k = float64(b.Dx()) / float64(width)
	}
	for y := range g.H {
		row := img.Pix[y*img.Stride:]
		for x := range g.W {
			p := row[4*x : 4*x+3 : 4*x+3]
			g.pix[y*g.W+x] = uint8(0.299*float32(p[0]) + 0.587*float32(p[1]) + 0.114*float32(p[2]) + 0.5) // ITU-R BT.601
		}
	}
	return g
}

// at is the lightness at a place, between the middles of pixels; beyond the picture it
// is that of its edge.
func (g *Grey) at(x, y float64) float64 {
	x, y = min(max(x-0.5, 0), float64(g.W-1)), min(max(y-0.5, 0), float64(g.H-1))
	i, j := min(int(x), g.W-2), min(int(y), g.H-2)
	if i < 0 || j < 0 {
		return float64(g.pix[max(0, j)*g.W+max(0, i)])
	}
	fx, fy := float32(x)-float32(i), float32(y)-float32(j)
	p := g.pix[j*g.W+i:]
	q := g.pix[(j+1)*g.W+i:]
	return float64((float32(p[0])*(1-fx)+float32(p[1])*fx)*(1-fy) + (float32(q[0])*(1-fx)+float32(q[1])*fx)*fy)
}

// crossing is an edge that a line crosses.
type crossing struct {
	at    float64 // along the line, from its middle
	slope float64 // grey levels to the pixel; positive where it gets lighter along the line
}

// Steps along a line, in pixels.
const step = 0.5

// crossings are the edges on a line through p along n, as far as reach to either side, of
// which each is a top of the slope's size. sigma is the Gaussian's, width how far to either
// side of the line it is averaged.
func (g *Grey) crossings(p, n photo.Point, reach, sigma float64, width int) []crossing {
	pad := int(math.Ceil(3 * sigma / step))
	half := int(math.Ceil(reach / step))
	values := make([]float64, 2*(half+pad)+1)
	for i := range values {
		t := float64(i-half-pad) * step
		sum := 0.0
		for w := -width; w <= width; w++ {
			sum += g.at(p.X+t*n.X-float64(w)*n.Y, p.Y+t*n.Y+float64(w)*n.X)
		}
		values[i] = sum / float64(2*width+1)
	}
	kernel := make([]float64, pad+1) // its right half; it is odd
	total := 0.0
	for i := range kernel {
		t := float64(i) * step
		kernel[i] = t * math.Exp(-t*t/(2*sigma*sigma))
		total += 2 * kernel[i] * t
	}
	slopes := make([]float64, 2*half+1)
	for i := range slopes {
		s := 0.0
		for k := 1; k <= pad; k++ {
			s += kernel[k] * (values[i+pad+k] - values[i+pad-k])
		}
		slopes[i] = s / total
	}
	var list []crossing
	for i := 1; i < len(slopes)-1; i++ {
		a, b, c := math.Abs(slopes[i-1]), math.Abs(slopes[i]), math.Abs(slopes[i+1])
		if b <= a || b < c || slopes[i-1]*slopes[i] < 0 || slopes[i+1]*slopes[i] < 0 {
			continue
		}
		top := 0.0
		if d := a - 2*b + c; d < 0 {
			top = 0.5 * (a - c) / d
		}
		list = append(list, crossing{(float64(i-half) + top) * step, slopes[i]})
	}
	return list
}
