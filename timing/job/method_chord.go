package job

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// chordWay is the straight distance between the centres of two features.
type chordWay struct{}

// takes are the keys of every way of taking a chord.
func (chordWay) takes() []string {
	return []string{"chord_mm", "over", "on", "pin_mm", "key_mm", "dowel_radius_mm", "keyway_radius_mm", "side", "u_mm", "u_radius_mm", "u_size_mm"}
}

// check is of a chord taken in any way.
func (chordWay) check(c *checker, e end, r *Reading) {
	c.needsSide(e.key("side"), r, true)
	c.word(e.key("over"), r.Over)
	c.word(e.key("on"), r.On)
	if r.Over == "outside" || r.Over == "inside" {
		caliperWay{}.check(c, e, r)
		return
	}
	c.needs(e.key("chord_mm"), r.ChordMM.Given, "is missing: give the distance from centre to centre")
	if c.OK(e.key("over")) {
		c.onlyOver(e.at, r)
	}
	c.chord(e, r)
}

// chord checks that a chord can join its two radii: no shorter than their
// difference, no longer than their sum (Euclid, Elements, book I, proposition 20).
func (c *checker) chord(e end, r *Reading) {
	radius, keyway := e.number(r, "radius_mm"), r.KeywayRadiusMM
	keys := []string{e.key("chord_mm"), e.key(e.radius), e.key("keyway_radius_mm")}
	if !radius.Given && !keyway.Given {
		// Either may be meant: hidden behind either, it is not missing.
		if c.OK(keys...) {
			c.missing(keys[2], "is missing: give at least one distance from the shaft axis, %s or keyway_radius_mm; with one both are taken as equal", e.radius)
		}
		return
	}
	a, b := radius.Or(keyway.Value), keyway.Or(radius.Value)
	lo, hi := math.Abs(a-b), a+b
	for _, chord := range repeated(&r.ChordMM, &r.ChordAgainMM).All() {
		if c.OK(keys...) && !(chord >= lo && chord <= hi) {
			c.fault(keys[0], "is %s; at distances of %s and %s from the axis it must be at least %s and at most %s",
				phrase.MM(chord), phrase.MM(a).Plain(), phrase.MM(b), phrase.MM(lo).Plain(), phrase.MM(hi))
		}
	}
}

func (chordWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	first := radiusOf(r, section)
	a, b := first.Value, r.KeywayRadiusMM.Value
	if !first.Given {
		a, b = b, 0
	}
	return part.Chord{ChordMM: r.ChordMM.Value, Again: r.ChordAgainMM, Radius1: a, Radius2: b, Side: r.side(), UChord: given(r.UMM), URadiusOwn: own(r.URadiusMM)}
}

// radiusOf is that of the feature a section measures.
func radiusOf(r *Reading, section string) Number {
	if section == "keyway" {
		return r.ThrowRadiusMM
	}
	return r.DowelRadiusMM
}

// move makes the chord another, finer than to a thousandth of a millimetre: near the
// keyway's line that is more than a tenth of a degree.
func (chordWay) move(r *Reading, as part.Reading, to timing.Deg, v timing.View) {
	c := as.(part.Chord)
	size, side := v.Seen(to)
	r2 := c.Radius2
	if r2 == 0 {
		r2 = c.Radius1
	}
	least := math.Max(math.Abs(c.Radius1-r2), 0.001) // a length of 0 is no reading
	shift(&r.ChordMM, &r.ChordAgainMM, part.ChordFor(size, c.Radius1, r2), 100_000, least, c.Radius1+r2)
	r.Side = side.String()
}

func (chordWay) fields(section string) []Field {
	return slices.Concat(fields(field("chord_mm", "Distance")), radii(section), fields(unsure("u_mm", "± (standard)", part.DefaultChordMM), field("u_radius_mm", "± of the distances from the axis")))
}

// radii are those of the two features.
func radii(section string) []Field {
	first := field("dowel_radius_mm", "Dowel to shaft axis")
	if section == "keyway" {
		first = field("throw_radius_mm", "Crank radius")
	}
	return fields(first, field("keyway_radius_mm", "Keyway to shaft axis"))
}

// ends are the radii; one that is not given is the keyway's.
func (chordWay) ends(r *Reading, section string) (from, to string) {
	switch {
	case !radiusOf(r, section).Given:
		return "keyway_radius_mm", "keyway_radius_mm"
	case section == "keyway":
		return "throw_radius_mm", "keyway_radius_mm"
	}
	return "dowel_radius_mm", "keyway_radius_mm"
}

// caliperWay is a chord taken over a pin and a key, or between them.
type caliperWay struct{ chordWay }

// check is of a chord taken over or between pin and key.
func (caliperWay) check(c *checker, e end, r *Reading) {
	key, radius := e.key, e.number(r, "radius_mm")
	c.needs(key("chord_mm"), r.ChordMM.Given, "is missing: give what the caliper reads")
	c.needs(key("pin_mm"), r.PinMM.Given, e.pick("is missing: give the diameter of the dowel or its hole", "is missing: give the diameter of the crankpin"))
	c.needs(key("key_mm"), r.KeyMM.Given, "is missing: give the width of the key or keyway")
	c.needs(key(e.radius), radius.Given, e.pick(
		"is missing: give how far the middle of the dowel is from the shaft's axis", "is missing: give the crank radius, from the shaft axis to the middle of the crankpin"))
	if r.On == "keyway" {
		c.needs(key("keyway_radius_mm"), r.KeywayRadiusMM.Given, "is missing: give the radius of the shaft at the edges of the keyway")
	}
	if !c.OK(key("chord_mm"), key("pin_mm"), key("key_mm"), key(e.radius), key("keyway_radius_mm"), key("on")) {
		return
	}
	err := caliperOf(r, radius.Value, part.Given{}).Check()
	if err != nil {
		says := phrase.From(err)
		c.fault(key("chord_mm"), says.Text, says.Args...)
	}
}

// onlyOver tells of keys that mean something only where the jaws are held over or
// between pin and key.
func (c *checker) onlyOver(at string, r *Reading) {
	for _, s := range r.slots() {
		if slices.Contains([]string{"on", "pin_mm", "key_mm", "u_size_mm"}, s.Name) && s.Given() && c.OK(at+"."+s.Name) {
			c.fault(at+"."+s.Name, `applies only to a caliper held over dowel and key: write over = "outside" or "inside"`)
		}
	}
}

func (caliperWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	return caliperOf(r, radiusOf(r, section).Value, given(r.UMM))
}

// caliperOf is a chord taken over, or between, a pin at the given radius and a key.
func caliperOf(r *Reading, radius float64, u part.Given) part.Caliper {
	c := part.Caliper{
		ReadingMM: r.ChordMM.Value, Again: r.ChordAgainMM, PinMM: r.PinMM.Value, KeyMM: r.KeyMM.Value,
		Radius1: radius, Radius2: r.KeywayRadiusMM.Value, Side: r.side(), UReading: u,
		URadiusOwn: own(r.URadiusMM), USizeOwn: own(r.USizeMM),
	}
	if r.Over == "inside" {
		c.Over = part.Inside
	}
	if r.On == "keyway" {
		c.On = part.OnKeyway
	}
	return c
}

// move makes what the jaws read another, to a thousandth of a millimetre.
func (caliperWay) move(r *Reading, as part.Reading, to timing.Deg, v timing.View) {
	c := as.(part.Caliper)
	size, side := v.Seen(to)
	reads, err := c.For(size)
	if err != nil {
		return
	}
	shift(&r.ChordMM, &r.ChordAgainMM, reads, 1000, 0.001, math.Inf(1))
	r.Side = side.String()
	if caliperOf(r, c.Radius1, c.UReading).Check() != nil {
		r.ChordMM, r.ChordAgainMM = Num(reads), nil // the scatter led out of what can be read
	}
}

func (caliperWay) fields(section string) []Field {
	pin, key := field("pin_mm", "Dowel diameter"), field("key_mm", "Key width")
	pin.Sizes, key.Sizes = "pin", "key"
	if section == "keyway" {
		pin.Label, pin.Sizes = "Crankpin diameter", ""
	}
	return slices.Concat(fields(field("chord_mm", "Distance"), pin, key), radii(section),
		fields(unsure("u_mm", "± (standard)", part.DefaultChordMM), field("u_radius_mm", "± of the distances from the axis"), field("u_size_mm", "± of dowel and key")))
}
