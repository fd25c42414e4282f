package finding

import (
	"math"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// near tells whether two numbers differ by no more than tolerance.
func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// maybe draws a number or leaves it out; its ends and round numbers are likely.
func maybe(t *rapid.T, label string, lo, hi float64) job.Number {
	if !rapid.Bool().Draw(t, label+" given") {
		return job.Number{}
	}
	return job.Num(value(t, label, lo, hi))
}

func value(t *rapid.T, label string, lo, hi float64) float64 {
	return rapid.OneOf(
		rapid.Float64Range(lo, hi), rapid.Just(lo), rapid.Just(hi),
		rapid.Custom(func(t *rapid.T) float64 {
			return min(hi, max(lo, math.Round(rapid.Float64Range(lo, hi).Draw(t, "whole"))))
		}),
	).Draw(t, label)
}

func side() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{"clockwise", "anticlockwise"})
}

func end() *rapid.Generator[string] { return rapid.SampledFrom([]string{"", "nose", "flywheel"}) }

// anyReading draws a reading by any of the four methods, up to the very limits
// of what a crankshaft can have.
func anyReading(t *rapid.T, keyway bool) *job.Reading {
	r := &job.Reading{SeenFrom: end().Draw(t, "end"), Side: side().Draw(t, "side")}
	r.Method = rapid.SampledFrom([]string{"", "angle", "chord", "arc", "xy"}).Draw(t, "method")
	radius, other := &r.DowelRadiusMM, &r.Dowel
	if keyway {
		radius, other = &r.ThrowRadiusMM, &r.Throw
	}
	switch r.Method {
	case "", "angle":
		r.AngleDeg, r.UDeg = job.Num(value(t, "angle", 0, 180)), maybe(t, "u", 0, 180)
		return r
	case "chord":
		a, b := value(t, "radius", 1, 100), value(t, "keyway radius", 1, 100)
		*radius, r.KeywayRadiusMM = job.Num(a), job.Num(b)
		switch rapid.IntRange(0, 2).Draw(t, "radii") {
		case 0:
			*radius, a = job.Number{}, b
		case 1:
			r.KeywayRadiusMM, b = job.Number{}, a
		}
		r.ChordMM = job.Num(max(value(t, "chord", math.Abs(a-b), a+b), 1e-3))
		r.URadiusMM = maybe(t, "u radius", 0, 20)
	case "arc":
		r.RimRadiusMM = job.Num(value(t, "rim", 1, 100))
		r.ArcMM = job.Num(value(t, "arc", 1e-3, math.Pi*r.RimRadiusMM.Value))
		r.URadiusMM = maybe(t, "u radius", 0, 20)
	case "xy":
		r.Side = ""
		unit := rapid.SampledFrom([]float64{1, 0.001, 50}).Draw(t, "unit") // millimetres, metres, pixels
		from, to := polar(t, "from", unit), polar(t, "to", unit)
		centre := job.Point{X: unit * value(t, "cx", -300, 300), Y: unit * value(t, "cy", -300, 300)}
		at := func(p job.Point) []job.Point { return []job.Point{{X: centre.X + p.X, Y: centre.Y + p.Y}} }
		r.Centre, r.Keyway, *other = []job.Point{centre}, at(from), at(to)
	}
	r.UMM = maybe(t, "u", 0, 20)
	return r
}

// polar draws a point around the origin.
func polar(t *rapid.T, label string, unit float64) job.Point {
	r, a := unit*value(t, label+" radius", 5, 100), value(t, label+" angle", -180, 180)
	sin, cos := math.Sincos(timing.Deg(a).Radians())
	return job.Point{X: r * cos, Y: r * sin}
}

func anyFeature(t *rapid.T, keyway bool) *job.Feature {
	f := &job.Feature{SeenFrom: end().Draw(t, "section end"), Drawing: anyReading(t, keyway)}
	if rapid.IntRange(0, 3).Draw(t, "measured") > 0 {
		f.Measured = anyReading(t, keyway)
	}
	return f
}

// anyJob draws a sound job with everything a shift needs.
func anyJob() *rapid.Generator[job.Job] {
	return rapid.Custom(func(t *rapid.T) job.Job {
		n := rapid.IntRange(1, timing.MaxCylinders).Draw(t, "cylinders")
		numbers := make([]int, n)
		for i := range numbers {
			numbers[i] = i + 1
		}
		j := job.Job{Engine: job.Engine{
			Strokes:     rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes"),
			FiringOrder: rapid.Permutation(numbers).Draw(t, "order"),
			Rotation:    rapid.OneOf(rapid.Just(""), side()).Draw(t, "rotation"),
			BoreMM:      maybe(t, "bore", 50, 500),
			StrokeMM:    maybe(t, "stroke", 50, 500),
			RodMM:       maybe(t, "rod", 300, 900),
			PinOffsetMM: maybe(t, "offset", -20, 20),
		}}
		if rapid.Bool().Draw(t, "uneven") {
			left := float64(timing.CycleOf(j.Engine.Strokes))
			for k := range n - 1 {
				v := left * rapid.Float64Range(0.2, 1.8).Draw(t, "interval") / float64(n-k)
				j.Engine.FiringIntervalsDeg = append(j.Engine.FiringIntervalsDeg, v)
				left -= v
			}
			j.Engine.FiringIntervalsDeg = append(j.Engine.FiringIntervalsDeg, left)
		}
		if rapid.Bool().Draw(t, "valves") {
			least, opens, closes := -180.0, 360.0, 360.0
			if j.Engine.Strokes == 2 { // whose intake is shut at TDC
				least, opens, closes = -80, -1, 170
			}
			j.Engine.Valves = &job.Valves{
				IntakeOpensBTDCDeg: maybe(t, "io", least, opens), IntakeClosesABDCDeg: maybe(t, "ic", least, closes),
				ExhaustOpensBBDCDeg: maybe(t, "eo", -180, 360), ExhaustClosesATDCDeg: maybe(t, "ec", -180, 360),
			}
		}
		j.Injection = &job.Injection{StartBTDCDeg: job.Num(value(t, "start", -180, 180))}
		if rapid.Bool().Draw(t, "wheel") {
			p := rapid.IntRange(1, 360).Draw(t, "positions")
			j.CrankWheel = &job.CrankWheel{Positions: p, FirstToothBTDCDeg: maybe(t, "first", -360, 720)}
			for k := range rapid.IntRange(0, min(p-1, 4)).Draw(t, "missing") {
				j.CrankWheel.Missing = append(j.CrankWheel.Missing, p-k)
			}
		}
		if rapid.IntRange(0, 4).Draw(t, "has dowel") > 0 {
			j.Dowel = anyFeature(t, false)
		}
		if rapid.Bool().Draw(t, "has keyway") {
			j.Keyway = anyFeature(t, true)
		}
		if faults := job.Check(j); faults != nil {
			t.Fatalf("drew an unsound job: %v", faults)
		}
		return j
	})
}
