package job

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
)

// angleWay is one angle, read off.
type angleWay struct{}

func (angleWay) takes() []string { return []string{"angle_deg", "side", "u_deg"} }

func (angleWay) check(c *checker, e end, r *Reading) {
	c.needs(e.key("angle_deg"), r.AngleDeg.Given, "is missing: give the angle, 0 to 180")
	if a := r.AngleDeg; a.Value != 0 && a.Value != 180 {
		c.needsSide(e.key("side"), r, a.Given)
	}
}

func (angleWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	return part.Angle{Deg: timing.Deg(r.AngleDeg.Value), Again: r.AngleAgainDeg, Side: r.side(), U: given(r.UDeg)}
}

func (angleWay) move(r *Reading, _ part.Reading, to timing.Deg, v timing.View) {
	size, side := v.Seen(to)
	shift(&r.AngleDeg, &r.AngleAgainDeg, float64(size), 100, 0, 180) // hundredths of a degree
	r.Side = side.String()
}

func (angleWay) fields(string) []Field {
	return fields(field("angle_deg", "Angle"), unsure("u_deg", "± (standard)", float64(part.DefaultEyeU)))
}

func (angleWay) ends(*Reading, string) (from, to string) { return "", "" }

// degreeWheelWay is a degree wheel read at both features.
type degreeWheelWay struct{}

func (degreeWheelWay) takes() []string {
	return []string{"keyway_deg", "dowel_deg", "counts", "u_deg"}
}

func (degreeWheelWay) check(c *checker, e end, r *Reading) {
	c.needs(e.key("keyway_deg"), r.KeywayDeg.Given, "is missing: give what the degree wheel says at the keyway")
	c.needs(e.key(e.other+"_deg"), e.number(r, "deg").Given,
		e.pick("is missing: give what the degree wheel says at the dowel", "is missing: give what the degree wheel says at the throw"))
	c.word(e.key("counts"), r.Counts)
	if r.Counts == "" && !c.Has(e.key("counts")) {
		c.missing(e.key("counts"), `is missing: say which way the wheel's numbers grow as seen: "clockwise" or "anticlockwise"`)
	}
}

func (degreeWheelWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	counts, _ := timing.ParseSense(r.Counts)
	d := part.DegreeWheel{Counts: counts, U: given(r.UDeg)}
	if section == "keyway" {
		d.FromDeg, d.FromAgain, d.ToDeg, d.ToAgain = r.ThrowDeg.Value, r.ThrowAgainDeg, r.KeywayDeg.Value, r.KeywayAgainDeg
	} else {
		d.FromDeg, d.FromAgain, d.ToDeg, d.ToAgain = r.KeywayDeg.Value, r.KeywayAgainDeg, r.DowelDeg.Value, r.DowelAgainDeg
	}
	return d
}

// move is of a dowel: what the wheel says there, to a hundredth of a degree.
func (degreeWheelWay) move(r *Reading, as part.Reading, to timing.Deg, v timing.View) {
	d := as.(part.DegreeWheel)
	at := timing.Wrap(timing.Deg(d.FromMean())+v.Signed(to, d.Counts), timing.Turn)
	r.DowelDeg, r.DowelAgainDeg = Num(math.Round(float64(at)*100)/100), nil
}

func (degreeWheelWay) fields(section string) []Field {
	keyway, each := field("keyway_deg", "At the keyway"), unsure("u_deg", "± of each", float64(part.DefaultAngleU))
	if section == "keyway" {
		return fields(field("throw_deg", "At the throw"), keyway, each)
	}
	return fields(keyway, field("dowel_deg", "At the dowel"), each)
}

func (degreeWheelWay) ends(_ *Reading, section string) (from, to string) {
	if section == "keyway" {
		return "throw_deg", "keyway_deg"
	}
	return "keyway_deg", "dowel_deg"
}

// arcWay is a tape along a rim.
type arcWay struct{}

func (arcWay) takes() []string {
	return []string{"arc_mm", "rim_radius_mm", "side", "u_mm", "u_radius_mm"}
}

func (arcWay) check(c *checker, e end, r *Reading) {
	c.needs(e.key("arc_mm"), r.ArcMM.Given, "is missing: give the length along the rim")
	c.needs(e.key("rim_radius_mm"), r.RimRadiusMM.Given, "is missing: give the radius of the rim the arc was measured along")
	c.needsSide(e.key("side"), r, true)
	half := math.Pi * r.RimRadiusMM.Value
	for _, arc := range repeated(&r.ArcMM, &r.ArcAgainMM).All() {
		if r.RimRadiusMM.Given && c.OK(e.key("arc_mm"), e.key("rim_radius_mm")) && arc > half {
			c.fault(e.key("arc_mm"), "is %s; the short way round a rim of %s radius is at most %s", phrase.MM(arc), phrase.MM(r.RimRadiusMM.Value), phrase.MM(math.Floor(100*half)/100))
		}
	}
}

func (arcWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	return part.Arc{ArcMM: r.ArcMM.Value, Again: r.ArcAgainMM, RimRadiusMM: r.RimRadiusMM.Value, Side: r.side(), UArc: given(r.UMM), URadiusOwn: own(r.URadiusMM)}
}

// move makes the arc another, to a thousandth of a millimetre.
func (arcWay) move(r *Reading, as part.Reading, to timing.Deg, v timing.View) {
	a := as.(part.Arc)
	size, side := v.Seen(to)
	shift(&r.ArcMM, &r.ArcAgainMM, part.ArcFor(size, a.RimRadiusMM), 1000, 0.001, math.Pi*a.RimRadiusMM)
	r.Side = side.String()
}

func (arcWay) fields(string) []Field {
	return fields(field("arc_mm", "Length"), field("rim_radius_mm", "Rim radius"), unsure("u_mm", "± (standard)", part.DefaultArcMM), field("u_radius_mm", "± of the radius"))
}

func (arcWay) ends(*Reading, string) (from, to string) { return "", "" }

// side is on which side the reading was seen to lie.
func (r *Reading) side() timing.Sense {
	side, _ := timing.ParseSense(r.Side)
	return side
}

// shift makes "to" the mean of what was read once or several times, each rounded to so
// many steps of a unit and kept within lo and hi.
func shift(first *Number, again *[]float64, to, steps, lo, hi float64) {
	by := to - uncertainty.Series(append([]float64{first.Value}, *again...)).Mean()
	moved := func(v float64) float64 {
		return math.Min(math.Max(math.Round((v+by)*steps)/steps, lo), hi)
	}
	first.Value = moved(first.Value)
	for i, v := range *again {
		(*again)[i] = moved(v)
	}
}

func fields(list ...Field) []Field { return list }

// unsure is a value that is an uncertainty, and what it is taken to be where none is given.
func unsure(key string, label phrase.Text, empty float64) Field {
	f := field(key, label)
	f.Empty = empty
	return f
}

// field is a value with its label.
func field(key string, label phrase.Text) Field {
	v, ok := ValueOf(key)
	if !ok {
		panic("job: a reading has no key " + key)
	}
	return Field{Value: v, Label: label}
}
