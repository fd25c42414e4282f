package photo

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func (m Marks) moved(f func(Point) Point) Marks {
	list := func(ps []Point) []Point {
		var out []Point
		for _, p := range ps {
			out = append(out, f(p))
		}
		return out
	}
	return Marks{list(m.Rim), list(m.Keyway), list(m.Dowel), list(m.Throw), list(m.Bolts), list(m.Centre)}
}

func TestMarkErrors(t *testing.T) {
	s := sampleScene("nose-square.jpg")
	r := rand.New(rand.NewPCG(1, 1))
	good := s.marks(r, 0.5, 10, 0, RimOnly)
	line := make([]Point, 8)
	hyperbola := make([]Point, 9)
	arc := make([]Point, 12)
	for i := range line {
		line[i] = Point{100 + 90*float64(i), 200 + 30*float64(i)}
	}
	for i := range hyperbola {
		u := float64(i-4) / 2
		hyperbola[i] = Point{800 + 40*math.Cosh(u), 600 + 60*math.Sinh(u)}
	}
	for i := range arc {
		arc[i] = s.at(5*float64(i), 1)
	}
	bolts := sampleScene("nose-bolts-tilted.jpg")
	uneven := bolts.marks(r, 0.5, 10, 0, BoltCircle).Bolts[:5]
	for _, c := range []struct {
		name, key string
		change    func(*Marks)
	}{
		{"four points on the rim", "rim", func(m *Marks) { m.Rim = m.Rim[:4] }},
		{"no point", "rim", func(m *Marks) { m.Rim = nil }},
		{"points on a line", "rim", func(m *Marks) { m.Rim = line }},
		{"all on one spot", "rim", func(m *Marks) { m.Rim = []Point{{5, 5}, {5, 5}, {5, 5}, {5, 5}, {5, 5}} }},
		{"two spots only", "rim", func(m *Marks) { m.Rim = []Point{{5, 5}, {5, 5}, {5, 5}, {9, 5}, {9, 9}} }},
		{"a hyperbola", "rim", func(m *Marks) { m.Rim = hyperbola }},
		{"a short arc", "rim", func(m *Marks) { m.Rim = arc }},
		{"not a number", "rim", func(m *Marks) { m.Rim = append([]Point{{math.NaN(), 0}}, m.Rim...) }},
		{"infinite", "dowel", func(m *Marks) { m.Dowel = []Point{{math.Inf(1), 0}} }},
		{"one corner", "keyway", func(m *Marks) { m.Keyway = m.Keyway[:1] }},
		{"a corner twice", "keyway", func(m *Marks) { m.Keyway = []Point{{700, 300}, {700, 300}} }},
		{"corners opposite", "keyway", func(m *Marks) { m.Keyway = []Point{s.at(0, 1), s.at(180, 1)}; m.Centre = []Point{s.at(0, 0)} }},
		{"no dowel", "dowel", func(m *Marks) { m.Dowel = nil }},
		{"two points of the dowel", "dowel", func(m *Marks) { m.Dowel = []Point{{1, 2}, {3, 4}} }},
		{"the dowel's edge on a line", "dowel", func(m *Marks) { m.Dowel = []Point{{700, 500}, {720, 520}, {740, 540}} }},
		{"dowel in the centre", "dowel", func(m *Marks) { m.Dowel, m.Centre = []Point{{800, 600}}, []Point{{800, 600}} }},
		{"dowel and throw", "throw", func(m *Marks) { m.Throw = m.Dowel }},
		{"two centres", "centre", func(m *Marks) { m.Centre = []Point{{1, 2}, {3, 4}} }},
		{"centre off the rim", "centre", func(m *Marks) { m.Centre = []Point{{10, 10}} }},
		{"three bolts", "bolts", func(m *Marks) { m.Bolts = []Point{{1, 2}, {3, 4}, {5, 9}} }},
		{"a bolt left out", "bolts", func(m *Marks) { m.Bolts = uneven }},
		{"bolts on a line", "bolts", func(m *Marks) { m.Bolts = line }},
	} {
		m := good
		c.change(&m)
		_, err := Measure(m, Options{Picture: s.info(false), Draws: 50})
		var e *MarkError
		if !errors.As(err, &e) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if e.Key != c.key {
			t.Errorf("%s: %v, want it of %s", c.name, e, c.key)
		}
	}
}

// A warning comes as commanded, and not for a careful picture.
func TestWarnings(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	quiet := sampleScene("nose-square.jpg")
	steep := quiet
	steep.Tilt, steep.Distance = 45, 3.4
	steep.Set()
	close := quiet
	close.Distance = 1.3
	close.Set()
	bolted := sampleScene("nose-bolts-tilted.jpg")
	for _, c := range []struct {
		name   string
		s      scene
		basis  Basis
		change func(*Marks)
		want   []Kind
	}{
		{"careful", quiet, RimAndCentre, nil, nil},
		{"steep", steep, RimAndCentre, nil, []Kind{Oblique, Standing}},
		{"close", close, RimAndCentre, nil, []Kind{Near}},
		{"close and no centre", quiet, RimOnly, nil, []Kind{Near}},
		{"bolts", bolted, BoltCircle, nil, []Kind{Standing}},
		{"half a rim", quiet, RimAndCentre, func(m *Marks) { m.Rim = arcOf(quiet, 150, 20) }, []Kind{ShortArc}},
		{"five points", quiet, RimAndCentre, func(m *Marks) { m.Rim = arcOf(quiet, 288, 5) }, []Kind{NoResidual}},
		{"a point off the rim", quiet, RimAndCentre, func(m *Marks) { m.Rim[3] = quiet.at(110, 1.15) }, []Kind{RimMisfit}},
		{"corners at the bottom", quiet, RimAndCentre, func(m *Marks) { m.Keyway = []Point{quiet.at(quiet.Key-8, 0.75), quiet.at(quiet.Key+8, 0.75)} }, []Kind{CornersOffRim}},
		{"corners far apart", quiet, RimAndCentre, func(m *Marks) { m.Keyway[0] = quiet.at(quiet.Key-80, 1) }, []Kind{WideKeyway}},
		{"centre elsewhere", quiet, RimAndCentre, func(m *Marks) { m.Centre[0].Y += 25 }, []Kind{CentreUnlikely}},
		{"throw", steep, RimAndCentre, func(m *Marks) { m.Throw, m.Dowel = m.Dowel, nil }, []Kind{Oblique, ThrowBehind}},
		{"rim behind the bolts", bolted, BoltCircle, func(m *Marks) {
			for i := range m.Rim {
				m.Rim[i].Y += 15
			}
		}, []Kind{Standing, RimOffBolts}},
		{"rim useless, bolts serve", bolted, BoltCircle, func(m *Marks) {
			for i := range m.Rim {
				m.Rim[i].Y = 10
			}
		}, []Kind{Standing, RimUnfit}},
		{"an uneven bolt", bolted, BoltCircle, func(m *Marks) { m.Bolts[2].Y += 15 }, []Kind{Standing, BoltMisfit}},
		{"another picture's points", quiet, RimAndCentre, func(m *Marks) { *m = m.moved(func(p Point) Point { return Point{2 * p.X, 2 * p.Y} }) }, []Kind{Outside}},
	} {
		m := c.s.marks(r, 0.3, 12, 0, c.basis)
		if c.change != nil {
			c.change(&m)
		}
		got, err := Measure(m, Options{Picture: c.s.info(true), Draws: 100})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		kinds := map[Kind]bool{}
		for _, w := range got.Warnings {
			kinds[w.Kind] = true
			if w.String() == "" {
				t.Errorf("%s: a warning without words: %+v", c.name, w)
			}
		}
		for _, k := range c.want {
			if !kinds[k] {
				t.Errorf("%s: %v, want kind %d", c.name, got.Warnings, k)
			}
		}
		if len(c.want) == 0 && len(got.Warnings) > 0 {
			t.Errorf("%s: %v", c.name, got.Warnings)
		}
	}
}

func arcOf(s scene, arc float64, n int) []Point {
	var ps []Point
	for i := range n {
		p := s.at(arc*float64(i)/float64(n-1), 1)
		ps = append(ps, Point{p.X + 0.3*math.Sin(float64(i*i)), p.Y + 0.3*math.Cos(float64(3*i))})
	}
	return ps
}
