package photo

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pinphase.org/pinphase/timing"
)

// Whatever is clicked, there is an angle with a finite uncertainty or an error
// that names the marks.
func FuzzMeasure(f *testing.F) {
	for basis := RimOnly; basis <= BoltCircle; basis++ {
		r := rand.New(rand.NewPCG(1, uint64(basis)))
		s := anyScene(r, 20)
		m := s.marks(r, 1, 8, int(basis)*3, basis)
		var data []byte
		for _, l := range [][]Point{m.Rim, m.Keyway, m.Dowel, m.Bolts, m.Centre} {
			for _, p := range l {
				data = append(data, byte(int(p.X)), byte(int(p.X)>>8), byte(int(p.Y)), byte(int(p.Y)>>8))
			}
		}
		f.Add(data, uint8(len(m.Rim)), uint8(len(m.Dowel)), uint8(len(m.Bolts)), len(m.Centre) > 0, 1.0)
	}
	f.Fuzz(func(t *testing.T, data []byte, rim, dowel, bolts uint8, centre bool, u float64) {
		take := func(n uint8) []Point {
			var ps []Point
			for ; n > 0 && len(data) >= 4; n-- {
				ps = append(ps, Point{float64(int16(data[0]) | int16(data[1])<<8), float64(int16(data[2]) | int16(data[3])<<8)})
				data = data[4:]
			}
			return ps
		}
		m := Marks{Rim: take(rim), Keyway: take(2), Dowel: take(dowel), Bolts: take(bolts)}
		if centre {
			m.Centre = take(1)
		}
		got, err := Measure(m, Options{Picture: Info{Width: 4000, Height: 3000}, UPx: u, Draws: 20})
		var e *MarkError
		switch {
		case err != nil && !errors.As(err, &e):
			t.Errorf("%v", err)
		case err == nil && !(math.Abs(float64(got.Clockwise.Value)) <= 180 && got.Clockwise.U >= 0 && got.Clockwise.U < 360 && !math.IsNaN(float64(got.Tilt.Value))):
			t.Errorf("%+v", got)
		}
	})
}

func TestBoltsWithoutRim(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	s := sampleScene("nose-bolts-tilted.jpg")
	m := s.marks(r, 0.5, 0, 5, BoltCircle)
	got, err := Measure(m, Options{Picture: s.info(true)})
	if err != nil {
		t.Fatal(err)
	}
	if d := apart(got.Clockwise.Value, timing.Deg(s.Dowel)); d > 1.96*float64(got.Clockwise.U) {
		t.Errorf("%v ± %v, true %v", got.Clockwise.Value, got.Clockwise.U, s.Dowel)
	}
	if got.Rim != (Ellipse{}) || got.ArcSpan != 0 {
		t.Errorf("a rim from nowhere: %+v", got.Rim)
	}
	near(t, "distance, bolt circle diameters", got.Distance[0], s.Distance/s.BoltsAt, 0.15*s.Distance)
}
