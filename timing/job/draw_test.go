package job

import (
	"math"
	"strings"

	"pgregory.net/rapid"
)

func optionalNumber(t *rapid.T, label string, lo, hi float64) Number {
	if !rapid.Bool().Draw(t, label+" given") {
		return Number{}
	}
	// Round numbers as people write them, and any others.
	v := rapid.OneOf(
		rapid.Float64Range(lo, hi),
		rapid.Custom(func(t *rapid.T) float64 {
			return math.Min(hi, math.Max(lo, math.Round(10*rapid.Float64Range(lo, hi).Draw(t, "tenths"))/10))
		}),
		rapid.Just(lo), rapid.Just(hi),
	).Draw(t, label)
	return Num(v)
}

func someText() *rapid.Generator[string] {
	return rapid.OneOf(rapid.SampledFrom([]string{"", "a", "a\nb", "\n", "\"\"\"", "\\", "\r\n", "# no comment", "x = 1\n[engine]\n", "'''\n", "− ü \t\x00\x7f"}),
		rapid.Map(rapid.String(), func(s string) string { return strings.ToValidUTF8(s, "?") }))
}

func sideWord() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{"clockwise", "anticlockwise"})
}

func endWord() *rapid.Generator[string] { return rapid.SampledFrom([]string{"", "nose", "flywheel"}) }

func somePoints(t *rapid.T, label string, lo, hi int) []Point {
	list := make([]Point, rapid.IntRange(lo, hi).Draw(t, label))
	for i := range list {
		// Each in a column of its own: no two are the same.
		list[i] = Point{X: float64(10*i) + rapid.Float64Range(0, 9).Draw(t, "x"), Y: rapid.Float64Range(-1e3, 1e3).Draw(t, "y")}
	}
	return list
}

// someReadings are one or several readings of the same thing.
func someReadings(t *rapid.T, label string, lo, hi float64) (Number, []float64) {
	list := rapid.SliceOfN(rapid.Float64Range(lo, hi), 1, 4).Draw(t, label)
	return Num(list[0]), list[1:]
}

func drawReading(t *rapid.T, keyway bool) *Reading {
	r := &Reading{
		Method:   rapid.SampledFrom([]string{"", "angle", "degree_wheel", "chord", "caliper", "arc", "xy", "photo"}).Draw(t, "method"),
		SeenFrom: endWord().Draw(t, "end"),
	}
	other, radius, wheel, wheelAgain := &r.Dowel, &r.DowelRadiusMM, &r.DowelDeg, &r.DowelAgainDeg
	if keyway {
		other, radius, wheel, wheelAgain = &r.Throw, &r.ThrowRadiusMM, &r.ThrowDeg, &r.ThrowAgainDeg
	}
	switch r.Method {
	case "", "angle":
		r.AngleDeg, r.AngleAgainDeg = someReadings(t, "angle", 0, 180)
		r.Side = sideWord().Draw(t, "side")
		r.UDeg = optionalNumber(t, "u_deg", 0, 5)
	case "chord":
		a := rapid.Float64Range(1, 100).Draw(t, "radius")
		b := rapid.Float64Range(1, 100).Draw(t, "keyway radius")
		*radius, r.KeywayRadiusMM = Num(a), Num(b)
		switch rapid.IntRange(0, 2).Draw(t, "radii") {
		case 0:
			*radius, a = Number{}, b
		case 1:
			r.KeywayRadiusMM, b = Number{}, a
		}
		// Inside the ends, so that rounding cannot lead out of them.
		lo, hi := math.Abs(a-b), a+b
		r.ChordMM, r.ChordAgainMM = someReadings(t, "chord", lo+0.01*(hi-lo), lo+0.99*(hi-lo))
		r.Over = rapid.SampledFrom([]string{"", "centres"}).Draw(t, "over")
		r.Side = sideWord().Draw(t, "side")
		r.UMM, r.URadiusMM = optionalNumber(t, "u_mm", 0, 1), optionalNumber(t, "u_radius_mm", 0, 1)
	case "degree_wheel":
		r.KeywayDeg, r.KeywayAgainDeg = someReadings(t, "at the keyway", 0, 360)
		*wheel, *wheelAgain = someReadings(t, "at the other", 0, 360)
		r.Counts = sideWord().Draw(t, "counts")
		r.UDeg = optionalNumber(t, "u_deg", 0, 5)
	case "caliper":
		// Edges and radii that leave room for the reading either way.
		r.Method = "chord"
		r.Over = rapid.SampledFrom([]string{"outside", "inside"}).Draw(t, "over")
		r.On = rapid.SampledFrom([]string{"", "key", "keyway"}).Draw(t, "on")
		r.PinMM, r.KeyMM = Num(rapid.Float64Range(2, 8).Draw(t, "pin")), Num(rapid.Float64Range(2, 8).Draw(t, "key"))
		*radius, r.KeywayRadiusMM = Num(40), Num(24)
		r.ChordMM, r.ChordAgainMM = someReadings(t, "chord", 21, 30)
		r.Side = sideWord().Draw(t, "side")
		r.UMM, r.USizeMM = optionalNumber(t, "u_mm", 0, 1), optionalNumber(t, "u_size_mm", 0, 1)
	case "arc":
		r.RimRadiusMM = Num(rapid.Float64Range(1, 100).Draw(t, "rim"))
		r.ArcMM, r.ArcAgainMM = someReadings(t, "arc", 0.01*r.RimRadiusMM.Value, 3.14*r.RimRadiusMM.Value)
		r.Side = sideWord().Draw(t, "side")
		r.UMM = optionalNumber(t, "u_mm", 0, 1)
	case "xy":
		p := somePoints(t, "three", 3, 3)
		r.Centre, r.Keyway, *other = p[:1], p[1:2], p[2:]
		r.UMM = optionalNumber(t, "u_mm", 0, 1)
	case "photo":
		r.File = "photo.png"
		r.Rim, r.Keyway = somePoints(t, "rim", 5, 12), somePoints(t, "keyway", 2, 2)
		if *other = somePoints(t, "other", 1, 6); len(*other) == 2 {
			*other = (*other)[:1]
		}
		if rapid.Bool().Draw(t, "bolted") {
			r.Bolts = somePoints(t, "bolts", 4, 8)
		}
		r.Centre = somePoints(t, "centre", 0, 1)
		r.Side = rapid.OneOf(rapid.Just(""), sideWord()).Draw(t, "side")
		r.UPx = optionalNumber(t, "u_px", 0, 9)
	}
	return r
}

func drawFeature(t *rapid.T, keyway bool) *Feature {
	f := &Feature{SeenFrom: endWord().Draw(t, "end")}
	if rapid.Bool().Draw(t, "drawn") {
		f.Drawing = drawReading(t, keyway)
	}
	if rapid.Bool().Draw(t, "measured") {
		f.Measured = drawReading(t, keyway)
	}
	return f
}

func drawEngine(t *rapid.T) Engine {
	e := Engine{Strokes: rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes"), Rotation: rapid.OneOf(rapid.Just(""), sideWord()).Draw(t, "rotation")}
	n := rapid.IntRange(1, 8).Draw(t, "cylinders")
	numbers := make([]int, n)
	for i := range numbers {
		numbers[i] = i + 1
	}
	e.FiringOrder = rapid.Permutation(numbers).Draw(t, "order")
	if rapid.Bool().Draw(t, "uneven") {
		cycle := float64(180 * e.Strokes)
		for range n - 1 {
			e.FiringIntervalsDeg = append(e.FiringIntervalsDeg, cycle/float64(n+1))
		}
		e.FiringIntervalsDeg = append(e.FiringIntervalsDeg, cycle-cycle*float64(n-1)/float64(n+1))
	}
	e.BoreMM = optionalNumber(t, "bore", 1, 500)
	e.StrokeMM = optionalNumber(t, "stroke", 50, 500)
	e.RodMM = optionalNumber(t, "rod", 300, 900)
	e.PinOffsetMM = optionalNumber(t, "offset", -20, 20)
	e.CompressionRatio = optionalNumber(t, "ratio", 2, 100)
	e.PolytropicExponent = optionalNumber(t, "exponent", 1, 1.4)
	e.CompressionGaugeBar = optionalNumber(t, "gauge bar", 1, 100)
	e.CompressionGaugeRPM = optionalNumber(t, "gauge rpm", 1, 1000)
	if rapid.Bool().Draw(t, "valves") {
		least, opens, closes := -180.0, 360.0, 360.0
		if e.Strokes == 2 { // whose intake is shut at TDC
			least, opens, closes = -80, -1, 170
		}
		e.Valves = &Valves{optionalNumber(t, "io", least, opens), optionalNumber(t, "ic", least, closes), optionalNumber(t, "eo", -180, 360), optionalNumber(t, "ec", -180, 360)}
	}
	return e
}

func soundJob() *rapid.Generator[Job] {
	return rapid.Custom(func(t *rapid.T) Job {
		j := Job{Format: 1, Title: someText().Draw(t, "title"), Notes: someText().Draw(t, "notes"), Engine: drawEngine(t)}
		has := func(section string) bool { return rapid.Bool().Draw(t, section) }
		if has("case") {
			j.Format = LatestFormat
			j.Case = &Case{Customer: someText().Draw(t, "customer"), PartNumber: someText().Draw(t, "part"), Hours: optionalNumber(t, "hours", 0, 1e5),
				MeasuredOn: rapid.SampledFrom([]string{"", "2026-03-31", "1999-12-01"}).Draw(t, "day")}
		}
		if has("injection") {
			j.Injection = &Injection{optionalNumber(t, "start", -180, 180), optionalNumber(t, "rpm", 1e-9, 6000), optionalNumber(t, "air", -90, 150), optionalNumber(t, "kpa", 1, 1000), optionalNumber(t, "cetane", 1, 150)}
		}
		if has("crank wheel") {
			n := rapid.IntRange(2, 120).Draw(t, "positions")
			w := &CrankWheel{Positions: n, FirstToothBTDCDeg: optionalNumber(t, "first", -360, 720), Sensor: rapid.SampledFrom([]string{"", "hall", "inductive"}).Draw(t, "sensor")}
			for k := range rapid.IntRange(0, n-1).Draw(t, "missing") {
				w.Missing = append(w.Missing, n-k)
			}
			j.CrankWheel = w
		}
		if has("cam wheel") {
			w := &CamWheel{TeethCamDeg: []float64{0}, FirstToothBTDCDeg: optionalNumber(t, "first", 0, 360)}
			for k := range rapid.IntRange(0, 9).Draw(t, "teeth") {
				w.TeethCamDeg = append(w.TeethCamDeg, float64(30*(k+1))+rapid.SampledFrom([]float64{0, 0, 0.5, 1.0 / 3}).Draw(t, "tooth"))
			}
			j.CamWheel = w
		}
		if has("dowel") {
			j.Dowel = drawFeature(t, false)
		}
		if has("keyway") {
			j.Keyway = drawFeature(t, true)
		}
		if has("gears") {
			g := &Gears{CrankTeeth: rapid.IntRange(1, 99).Draw(t, "crank teeth"), IdlerTeeth: rapid.SliceOfN(rapid.IntRange(1, 99), 0, 3).Draw(t, "idlers")}
			g.CamTeeth = g.CrankTeeth * j.Engine.Strokes / 2
			g.CamTeethOut = rapid.IntRange(-g.CamTeeth, g.CamTeeth).Draw(t, "out")
			j.Gears = g
		}
		for range rapid.IntRange(0, 4).Draw(t, "evidence") {
			j.Evidence = append(j.Evidence, Evidence{
				Kind:  rapid.StringMatching(`[a-z]{1,3}`).Draw(t, "kind"),
				Value: rapid.OneOf(rapid.Just(any(true)), rapid.Map(someText(), func(s string) any { return s }), rapid.Map(rapid.Float64(), func(f float64) any { return f })).Draw(t, "value"),
				U:     optionalNumber(t, "u", 0, 10),
			})
		}
		return j
	})
}
