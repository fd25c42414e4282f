package part

import (
	"math"
	"math/rand/v2"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// trial measures one random crankshaft once, with readings off by what their
// uncertainties say: whether the 95 % interval holds the true angle, and whether
// it was drawn. Not ok when the readings fit no crankshaft, as happens in line
// with the centre.
type trial func(r *rand.Rand) (holds, drawn, ok bool)

func judged(truth timing.Deg, m Result, err error) (holds, drawn, ok bool) {
	if err != nil {
		return false, false, false
	}
	lo, hi := m.Interval95()
	// The truth on the turn that the interval is on.
	truth = m.Value + timing.Difference(m.Value, truth, timing.Turn)
	const rounding = 1e-9
	return truth >= lo-rounding && truth <= hi+rounding, m.Drawn != nil, true
}

func between2(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// several reads a value n times with scatter, and with an error of the tool
// common to all.
func several(r *rand.Rand, truth, tool, scatter float64, n int) (first float64, again []float64) {
	off := tool * r.NormFloat64()
	list := make([]float64, n)
	for i := range list {
		list[i] = truth + off + scatter*r.NormFloat64()
	}
	return list[0], list[1:]
}

// crankshafts are the random crankshafts and readings of each method. Angles run
// over all that the method can have; radii, lengths and uncertainties over what
// is found on a bench.
func crankshafts() []struct {
	name string
	trial
} {
	view := noseClockwise
	list := []struct {
		name string
		trial
	}{
		{"angle", func(r *rand.Rand) (bool, bool, bool) {
			a, u := between2(r, 1, 179), between2(r, 0.1, 0.5)
			m, err := Angle{Deg: timing.Deg(a + u*r.NormFloat64()), U: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"degree wheel", func(r *rand.Rand) (bool, bool, bool) {
			a, set, u := between2(r, -180, 180), between2(r, 0, 360), between2(r, 0.1, 0.5)
			says := func(at float64) float64 {
				return float64(timing.Wrap(timing.Deg(set+at+u*r.NormFloat64()), timing.Turn))
			}
			m, err := DegreeWheel{FromDeg: says(0), ToDeg: says(a), U: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"chord, two radii", func(r *rand.Rand) (bool, bool, bool) {
			a, r1, r2, u := between2(r, 0, 180), between2(r, 30, 60), between2(r, 20, 60), between2(r, 0.03, 0.3)
			m, err := Chord{ChordMM: ChordFor(timing.Deg(a), r1, r2) + u*r.NormFloat64(), Radius1: r1 + u*r.NormFloat64(), Radius2: r2 + u*r.NormFloat64(), UChord: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"chord, 5 to 40 degrees", func(r *rand.Rand) (bool, bool, bool) {
			a, r1, r2, u := between2(r, 5, 40), between2(r, 35, 45), between2(r, 22, 30), between2(r, 0.05, 0.15)
			m, err := Chord{ChordMM: ChordFor(timing.Deg(a), r1, r2) + u*r.NormFloat64(), Radius1: r1 + u*r.NormFloat64(), Radius2: r2 + u*r.NormFloat64(), UChord: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"chord, nearly in line", func(r *rand.Rand) (bool, bool, bool) {
			a, r1, r2, u := between2(r, 0, 12), between2(r, 35, 45), between2(r, 22, 30), 0.15
			m, err := Chord{ChordMM: ChordFor(timing.Deg(a), r1, r2) + u*r.NormFloat64(), Radius1: r1 + u*r.NormFloat64(), Radius2: r2 + u*r.NormFloat64(), UChord: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"chord, one radius", func(r *rand.Rand) (bool, bool, bool) {
			a, r1, u := between2(r, 2, 180), between2(r, 20, 60), between2(r, 0.03, 0.3)
			m, err := Chord{ChordMM: ChordFor(timing.Deg(a), r1, r1) + u*r.NormFloat64(), Radius1: r1 + u*r.NormFloat64(), UChord: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"arc", func(r *rand.Rand) (bool, bool, bool) {
			a, rim, u := between2(r, 5, 175), between2(r, 50, 150), between2(r, 0.1, 0.5)
			m, err := Arc{ArcMM: ArcFor(timing.Deg(a), rim) + u*r.NormFloat64(), RimRadiusMM: rim + u*r.NormFloat64(), UArc: known(u)}.Measure(view)
			return judged(timing.Deg(a), m, err)
		}},
		{"coordinates", func(r *rand.Rand) (bool, bool, bool) {
			a, from, rf, rt, u := between2(r, -180, 180), between2(r, 0, 360), between2(r, 15, 60), between2(r, 15, 60), between2(r, 0.02, 0.3)
			at := func(deg, radius float64) Point {
				sin, cos := math.Sincos(deg * math.Pi / 180)
				return Point{radius*cos + u*r.NormFloat64(), radius*sin + u*r.NormFloat64()}
			}
			m, err := Coordinates{Centre: at(0, 0), From: at(from, rf), To: at(from+a, rt), U: known(u)}.Measure(view)
			return judged(timing.Deg(-a), m, err)
		}},
		{"drop of the piston", func(r *rand.Rand) (bool, bool, bool) {
			s := piston.SliderCrank{ThrowMM: between2(r, 40, 70), RodMM: between2(r, 160, 220), OffsetMM: between2(r, -2, 2)}
			a, u := between2(r, 0, 120), between2(r, 0.01, 0.05)
			m, err := Drop{DropMM: s.DropMM(timing.Deg(a)) + u*r.NormFloat64(), Linkage: s, UDrop: known(u)}.Angle()
			return judged(timing.Deg(a), m, err)
		}},
		{"positive stop", func(r *rand.Rand) (bool, bool, bool) {
			s := piston.SliderCrank{ThrowMM: between2(r, 40, 70), RodMM: between2(r, 160, 220), OffsetMM: between2(r, -2, 2)}
			before, after, _ := AnglesAtDrop(s, between2(r, 1, 20))
			set, u, uo := timing.Deg(between2(r, 0, 360)), between2(r, 0.1, 0.5), 0.2
			says := func(at timing.Deg) float64 {
				return float64(timing.Wrap(set+at+timing.Deg(u*r.NormFloat64()), timing.Turn))
			}
			read := s
			read.OffsetMM += uo * r.NormFloat64()
			m, err := Stop{FirstDeg: says(before), SecondDeg: says(after), U: known(u), Linkage: &read, UOffset: known(uo)}.TDC()
			return judged(set, m, err)
		}},
		{"equal drop on a dial", func(r *rand.Rand) (bool, bool, bool) {
			s := piston.SliderCrank{ThrowMM: between2(r, 40, 70), RodMM: between2(r, 160, 220)}
			drop, u, ud := between2(r, 1, 20), between2(r, 0.02, 0.1), 0.03
			at := func() timing.Deg {
				_, after, _ := AnglesAtDrop(s, drop+ud*r.NormFloat64())
				return after + timing.Deg(u*r.NormFloat64())
			}
			m, err := Stop{FirstDeg: float64(-at()), SecondDeg: float64(at()), U: known(u), Linkage: &s, DialMM: drop, UDial: known(ud)}.TDC()
			return judged(0, m, err)
		}},
	}
	for _, c := range []struct {
		name string
		over Over
		on   Seat
	}{
		{"caliper outside, on the key", Outside, OnKey}, {"caliper inside, on the key", Inside, OnKey},
		{"caliper outside, at the keyway", Outside, OnKeyway}, {"caliper inside, at the keyway", Inside, OnKeyway},
	} {
		list = append(list, struct {
			name string
			trial
		}{c.name, func(r *rand.Rand) (bool, bool, bool) {
			a, u := timing.Deg(between2(r, 25, 88)), between2(r, 0.03, 0.2)
			k := Caliper{Over: c.over, On: c.on, PinMM: between2(r, 4, 10), KeyMM: between2(r, 6, 12), Radius1: between2(r, 35, 50), Radius2: between2(r, 22, 30)}
			reading, err := k.For(a)
			if err != nil {
				return false, false, false
			}
			for _, v := range []*float64{&k.PinMM, &k.KeyMM, &k.Radius1, &k.Radius2} {
				*v += u * r.NormFloat64()
			}
			k.ReadingMM, k.UReading = reading+u*r.NormFloat64(), known(u)
			m, err := k.Measure(noseClockwise)
			return judged(a, m, err)
		}})
	}
	for _, n := range []int{2, 3, 5, 10} {
		for _, tool := range []float64{0, 0.05} {
			name := map[float64]string{0: "chord, read several times", 0.05: "the same, and the caliper off"}[tool]
			list = append(list, struct {
				name string
				trial
			}{name + map[int]string{2: ", 2", 3: ", 3", 5: ", 5", 10: ", 10"}[n], func(r *rand.Rand) (bool, bool, bool) {
				a, r1, r2 := timing.Deg(between2(r, 30, 120)), between2(r, 35, 45), between2(r, 22, 30)
				first, again := several(r, ChordFor(a, r1, r2), tool, 0.05, n)
				m, err := Chord{ChordMM: first, Again: again, Radius1: r1, Radius2: r2, UChord: known(tool), URadiusOwn: known(0)}.Measure(noseClockwise)
				return judged(a, m, err)
			}})
		}
	}
	return list
}

// TestIntervalsHoldTheTruth is the promise of every 95 % interval: that of so many
// random crankshafts about 95 in 100 lie in it. The bounds are four standard
// deviations of such a count below 95 %, less what the law of propagation may
// lose up to [BendLimit]; run with -v for the table.
func TestIntervalsHoldTheTruth(t *testing.T) {
	t.Parallel()
	n := 600
	if testing.Short() {
		n = 200
	}
	spread := math.Sqrt(0.95 * 0.05 / float64(n))
	for i, c := range crankshafts() {
		r := rand.New(rand.NewPCG(uint64(i), 7))
		held, drawn, none := 0, 0, 0
		for range n {
			holds, byDraws, ok := c.trial(r)
			switch {
			case !ok:
				none++
				continue
			case holds:
				held++
			}
			if byDraws {
				drawn++
			}
		}
		share := float64(held) / float64(n-none)
		t.Logf("%-40s %5.1f %% held, %5.1f %% drawn, %4.1f %% fit no crankshaft", c.name, 100*share, 100*float64(drawn)/float64(n), 100*float64(none)/float64(n))
		if share < 0.95-0.005-4*spread {
			t.Errorf("%s: only %.1f %% of the intervals hold the true angle", c.name, 100*share)
		}
	}
}
