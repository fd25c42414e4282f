package snap

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/internal/render"
)

// spoils are what a workshop's light and parts do to a picture. What is true of a scene
// stays as it was: the rendered camera is another program than what is tested.
var spoils = []struct {
	name string
	do   func(img []float64, s *render.Scene, r *rand.Rand)
}{
	{"clean", func([]float64, *render.Scene, *rand.Rand) {}},
	{"glare", func(img []float64, s *render.Scene, r *rand.Rand) { // two bright patches that burn out
		for range 2 {
			p := s.At(360*r.Float64(), 0.4+0.7*r.Float64())
			size := (0.15 + 0.2*r.Float64()) * rimPx(s)
			each(img, s, func(x, y, v float64) float64 {
				d := math.Hypot(x-p.X, y-p.Y) / size
				return v + 230*math.Exp(-d*d)
			})
		}
	}},
	{"rust", func(img []float64, s *render.Scene, r *rand.Rand) { // rough and spotted at every scale
		for _, scale := range []float64{0.012, 0.03, 0.08} {
			cell := max(1.5, scale*rimPx(s))
			w := int(float64(s.Width)/cell) + 2
			grid := make([]float64, w*(int(float64(s.Height)/cell)+2))
			for i := range grid {
				grid[i] = r.NormFloat64()
			}
			each(img, s, func(x, y, v float64) float64 {
				i, j := int(x/cell), int(y/cell)
				fx, fy := x/cell-float64(i), y/cell-float64(j)
				n := (grid[j*w+i]*(1-fx)+grid[j*w+i+1]*fx)*(1-fy) + (grid[(j+1)*w+i]*(1-fx)+grid[(j+1)*w+i+1]*fx)*fy
				return v * (1 + 0.13*n)
			})
		}
	}},
	{"shadow", func(img []float64, s *render.Scene, r *rand.Rand) { // a hand's edge across the face
		a := 2 * math.Pi * r.Float64()
		p := s.At(360*r.Float64(), 0.5*r.Float64())
		soft := 0.02 * rimPx(s)
		each(img, s, func(x, y, v float64) float64 {
			d := ((x-p.X)*math.Cos(a) + (y-p.Y)*math.Sin(a)) / soft
			return v * (0.4 + 0.6/(1+math.Exp(-d)))
		})
	}},
	{"soft", func(img []float64, s *render.Scene, _ *rand.Rand) { blurred(img, s.Width, s.Height, 3) }},
}

func rimPx(s *render.Scene) float64 {
	a, b := s.At(0, 1), s.At(180, 1)
	return math.Hypot(a.X-b.X, a.Y-b.Y) / 2
}

func each(img []float64, s *render.Scene, f func(x, y, v float64) float64) {
	for i := range img {
		img[i] = f(float64(i%s.Width)+0.5, float64(i/s.Width)+0.5, img[i])
	}
}

// blurred smears by a box three times over, nearly a Gaussian.
func blurred(img []float64, w, h, radius int) {
	line := func(n, from, by int) {
		old := make([]float64, n)
		for i := range n {
			old[i] = img[from+i*by]
		}
		for i := range n {
			sum := 0.0
			for k := -radius; k <= radius; k++ {
				sum += old[min(max(i+k, 0), n-1)]
			}
			img[from+i*by] = sum / float64(2*radius+1)
		}
	}
	for range 3 {
		for y := range h {
			line(w, y*w, 1)
		}
		for x := range w {
			line(h, x, w)
		}
	}
}

// nose is a rendered picture of a nose, from a few rim diameters off.
func nose(r *rand.Rand, spoil int) (render.Scene, *Grey) {
	s := render.Scene{Width: 720, Height: 540, Tilt: 25 * r.Float64(), Azimuth: 360 * r.Float64(), Roll: 360 * r.Float64(),
		Distance: 2.2 + 1.2*r.Float64(), OffX: 6*r.Float64() - 3, OffY: 4*r.Float64() - 2,
		Key: 360 * r.Float64(), KeyHalf: 5 + 4*r.Float64(), Dowel: 300*r.Float64() + 30, DowelAt: 0.5 + 0.2*r.Float64(), DowelR: 0.07 + 0.03*r.Float64()}
	if r.IntN(2) == 0 {
		s.Bolts, s.BoltsAt = 4+r.IntN(5), 1.2
	}
	s.F = render.Focal(26, s.Width, s.Height)
	s.Set()
	img := s.Render(r.Uint64())
	values := make([]float64, s.Width*s.Height)
	for i := range values {
		values[i] = float64(img.Pix[4*i])
	}
	spoils[spoil].do(values, &s, r)
	for i, v := range values {
		g := uint8(min(max(v, 0), 255))
		img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2] = g, g, g
	}
	return s, FromRGBA(img, s.Width)
}

// clicked is where somebody clicks who means a place: two pixels beside it.
func clicked(r *rand.Rand, p render.Point) photo.Point {
	return photo.Point{X: p.X + 2*r.NormFloat64(), Y: p.Y + 2*r.NormFloat64()}
}

// Of every ten rims, nine are proposed within a pixel of the true one, rms, from three
// clicks two pixels beside it, whatever was done to the picture: the true rim is that of
// the camera that drew it.
func TestRimsFromThreeClicks(t *testing.T) {
	const each = 10
	r := rand.New(rand.NewPCG(7, 1))
	for k, spoil := range spoils {
		good, proposed, sum := 0, 0, 0.0
		for range each {
			s, g := nose(r, k)
			start := 360 * r.Float64()
			var clicks []photo.Point
			for i := range 3 {
				clicks = append(clicks, clicked(r, s.At(start+float64(i)*110+20*r.Float64(), 1)))
			}
			rim, ok := g.Rim(clicks)
			if !ok {
				continue
			}
			proposed++
			off := 0.0
			for i := range 72 {
				d := distance(rim.Ellipse, photo.Point(s.At(5*float64(i), 1)))
				off += d * d / 72
			}
			if off = math.Sqrt(off); off <= 1 {
				good++
				sum += off
			}
		}
		t.Logf("%s: %d of %d proposed, %d within a pixel, %.2f px rms on average", spoil.name, proposed, each, good, sum/float64(max(good, 1)))
		if 10*good < 9*each {
			t.Errorf("%s: %d of %d rims are within a pixel", spoil.name, good, each)
		}
	}
}

// A click beside an edge comes onto it, and a corner of the keyway onto the corner.
func TestClicksSnap(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	for k, spoil := range spoils {
		var edges, corners, clicks []float64
		for range 4 {
			s, g := nose(r, k)
			rim, ok := g.Rim([]photo.Point{clicked(r, s.At(s.Key+60, 1)), clicked(r, s.At(s.Key+180, 1)), clicked(r, s.At(s.Key+300, 1))})
			for i := range 8 {
				angle := 45 * float64(i)
				p, found := g.Edge(clicked(r, s.DowelEdge(angle, 1)), 10)
				if !found {
					continue
				}
				least := math.Inf(1)
				for a := range 720 {
					q := s.DowelEdge(float64(a)/2, 1)
					least = min(least, math.Hypot(p.X-q.X, p.Y-q.Y))
				}
				edges = append(edges, least)
			}
			for _, side := range []float64{-1, 1} {
				at := s.At(s.Key+side*s.KeyHalf, 1)
				click := clicked(r, at)
				clicks = append(clicks, math.Hypot(click.X-at.X, click.Y-at.Y))
				if p, found := g.Corner(rim.Ellipse, click, 8); ok && found {
					corners = append(corners, math.Hypot(p.X-at.X, p.Y-at.Y))
				}
			}
		}
		t.Logf("%s: %d of 32 dowel edges, median %.2f px off; %d of 8 corners, median %.2f px off, clicked %.2f px off", spoil.name, len(edges), middle(edges), len(corners), middle(corners), middle(clicks))
		// Out of focus the edge of a small circle comes to lie inside of it, by about the
		// blur's variance over its diameter (from memory: the bias of a gradient's edge at a curved boundary): here some 0.8 px.
		most := 0.4
		if spoil.name == "soft" {
			most = 1
		}
		if len(edges) < 20 || middle(edges) > most {
			t.Errorf("%s: %d edges, the median is %.2f px off", spoil.name, len(edges), middle(edges))
		}
		if len(corners) < 5 || middle(corners) > 0.6 {
			t.Errorf("%s: %d corners, the median is %.2f px off", spoil.name, len(corners), middle(corners))
		}
	}
}

// From one hole the others are found, as many as there are.
func TestHolesOfACircle(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	right, all := 0, 0
	for k := range spoils {
		for all < 3*(k+1) {
			s, g := nose(r, k)
			if s.Bolts == 0 {
				continue
			}
			all++
			rim, ok := g.Rim([]photo.Point{clicked(r, s.At(0, 1)), clicked(r, s.At(120, 1)), clicked(r, s.At(240, 1))})
			if !ok {
				continue
			}
			list, ok := g.Holes(rim.Ellipse, clicked(r, s.Bolt(0)))
			worst := 0.0
			for _, p := range list {
				least := math.Inf(1)
				for i := range s.Bolts {
					q := s.Bolt(i)
					least = min(least, math.Hypot(p.X-q.X, p.Y-q.Y))
				}
				worst = max(worst, least)
			}
			if ok && len(list) == s.Bolts && worst < 2.5 {
				right++
			} else {
				t.Logf("%s: %d holes of %d, the worst %.1f px off", spoils[k].name, len(list), s.Bolts, worst)
			}
		}
	}
	t.Logf("%d of %d circles found whole", right, all)
	if 10*right < 8*all {
		t.Errorf("%d of %d circles found whole", right, all)
	}
}

// An even picture has no edges, and no rim is proposed in it; nothing panics at its rim.
func TestNothingThere(t *testing.T) {
	g := FromRGBA(image.NewRGBA(image.Rect(0, 0, 40, 30)), 40)
	if _, ok := g.Edge(photo.Point{X: 1, Y: 29}, 10); ok {
		t.Error("an edge in the dark")
	}
	if _, ok := g.Rim([]photo.Point{{X: 5, Y: 5}, {X: 30, Y: 6}, {X: 20, Y: 25}}); ok {
		t.Error("a rim in the dark")
	}
	if _, ok := g.Rim([]photo.Point{{X: 5, Y: 5}, {X: 6, Y: 6}, {X: 7, Y: 7}}); ok {
		t.Error("a rim on a line")
	}
	if _, ok := g.Holes(photo.Ellipse{Centre: photo.Point{X: 20, Y: 15}, Major: 10, Minor: 10}, photo.Point{X: 25, Y: 15}); ok {
		t.Error("holes in the dark")
	}
}
