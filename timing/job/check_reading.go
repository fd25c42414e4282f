package job

import (
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// methodKeys are the keys each method of measuring takes besides method and
// seen_from. In [keyway] the throw takes the place of the dowel.
func methodKeys(method string) []string {
	switch method {
	case "angle":
		return []string{"angle_deg", "side", "u_deg"}
	case "degree_wheel":
		return []string{"keyway_deg", "dowel_deg", "counts", "u_deg"}
	case "chord":
		return []string{"chord_mm", "over", "on", "pin_mm", "key_mm", "dowel_radius_mm", "keyway_radius_mm", "side", "u_mm", "u_radius_mm", "u_size_mm"}
	case "arc":
		return []string{"arc_mm", "rim_radius_mm", "side", "u_mm", "u_radius_mm"}
	case "xy":
		return []string{"centre", "keyway", "dowel", "u_mm"}
	case "photo":
		return []string{"file", "rim", "keyway", "dowel", "bolts", "centre", "side", "u_px"}
	}
	return nil
}

// feature checks [dowel] or [keyway].
func (c *checker) feature(name string, f *Feature) {
	if f == nil {
		return
	}
	c.word(name+".seen_from", f.SeenFrom)
	c.reading(name+".drawing", f.Drawing)
	c.reading(name+".measured", f.Measured)
}

// reading checks one reading by the rules of its method.
func (c *checker) reading(at string, r *Reading) {
	if r == nil || !c.OK(at) {
		return
	}
	key := func(name string) string { return at + "." + name }
	// The other end of the angle: the dowel's in [dowel], the throw's in [keyway].
	other, otherRadius, foreign := "dowel", "dowel_radius_mm", "throw"
	otherPoints, radius := r.Dowel, r.DowelRadiusMM
	if strings.HasPrefix(at, "keyway") {
		other, otherRadius, foreign = "throw", "throw_radius_mm", "dowel"
		otherPoints, radius = r.Throw, r.ThrowRadiusMM
	}
	method := r.Method
	if method == "" && !c.Has(key("method")) {
		method = "angle"
	}
	c.word(key("method"), r.Method)
	c.word(key("seen_from"), r.SeenFrom)
	if !c.OK(key("method")) || !c.onlyOf(at, method, foreign, r) {
		return
	}
	c.numbers(at, r.slots())
	c.word(key("side"), r.Side)

	switch method {
	case "angle":
		c.needs(key("angle_deg"), r.AngleDeg.Given, "is missing: give the angle, 0 to 180")
		if a := r.AngleDeg; a.Value != 0 && a.Value != 180 {
			c.needsSide(key("side"), r, a.Given)
		}
	case "chord":
		c.needsSide(key("side"), r, true)
		c.word(key("over"), r.Over)
		c.word(key("on"), r.On)
		if r.Over == "outside" || r.Over == "inside" {
			c.caliper(at, other, otherRadius, r, radius)
			return
		}
		c.needs(key("chord_mm"), r.ChordMM.Given, "is missing: give the distance from centre to centre")
		if c.OK(key("over")) {
			c.onlyOver(at, r)
		}
		c.chord(at, otherRadius, r, radius)
	case "arc":
		c.needs(key("arc_mm"), r.ArcMM.Given, "is missing: give the length along the rim")
		c.needs(key("rim_radius_mm"), r.RimRadiusMM.Given, "is missing: give the radius of the rim the arc was taken along")
		c.needsSide(key("side"), r, true)
		half := math.Pi * r.RimRadiusMM.Value
		for _, arc := range repeated(&r.ArcMM, &r.ArcAgainMM).All() {
			if r.RimRadiusMM.Given && c.OK(key("arc_mm"), key("rim_radius_mm")) && arc > half {
				c.fault(key("arc_mm"), "is %s; the short way round a rim of %s radius is at most %s", phrase.MM(arc), phrase.MM(r.RimRadiusMM.Value), phrase.MM(math.Floor(100*half)/100))
			}
		}
	case "degree_wheel":
		c.needs(key("keyway_deg"), r.KeywayDeg.Given, "is missing: give what the degree wheel says at the keyway")
		otherDeg := r.DowelDeg
		if other == "throw" {
			otherDeg = r.ThrowDeg
		}
		c.needs(key(other+"_deg"), otherDeg.Given, map[string]phrase.Text{
			"dowel": "is missing: give what the degree wheel says at the dowel", "throw": "is missing: give what the degree wheel says at the throw"}[other])
		c.word(key("counts"), r.Counts)
		if r.Counts == "" && !c.Has(key("counts")) {
			c.missing(key("counts"), `is missing: say which way the wheel's numbers grow as seen: "clockwise" or "anticlockwise"`)
		}
	case "xy":
		c.points(key("centre"), r.Centre, "the centre of the shaft", 1)
		c.points(key("keyway"), r.Keyway, "the middle of the keyway", 1)
		c.points(key(other), otherPoints, map[string]phrase.Text{"dowel": "the middle of the dowel", "throw": "the middle of the throw"}[other], 1)
		c.offCentre(key("keyway"), key("centre"), r.Keyway, r.Centre)
		c.offCentre(key(other), key("centre"), otherPoints, r.Centre)
	case "photo":
		c.photo(key, r, other, otherPoints)
	}
}

// onlyOf tells of every key that does not belong to the method; foreign is the
// feature that the other section measures. Whether the method can be applied at
// all is the result: not when none of its own keys is given.
func (c *checker) onlyOf(at, method, foreign string, r *Reading) bool {
	own := methodKeys(method)
	if foreign == "dowel" {
		own = swapped(own)
	}
	var strange []string
	found := false
	for _, s := range r.slots() {
		key := at + "." + s.Name
		switch {
		case s.Name == "method" || s.Name == "seen_from" || !s.Given() && !c.Has(key):
		case slices.Contains(own, s.Name):
			found = found || s.Name != "side" && !strings.HasPrefix(s.Name, "u_")
		default:
			strange = append(strange, s.Name)
		}
	}
	if r.Method == "" && len(strange) > 0 && !found && !c.Has(at+".method") {
		// A reading that says its method by its keys but not by name: one fault.
		for _, m := range []string{"chord", "arc", "photo", "xy", "degree_wheel"} {
			keys := methodKeys(m)
			if foreign == "dowel" {
				keys = swapped(keys)
			}
			if slices.Contains(keys, strange[0]) {
				c.missing(at+".method", "is missing: without it an angle in degrees is taken; for %s write method = %q", strange[0], m)
				return false
			}
		}
	}
	for _, name := range strange {
		key := at + "." + name
		if !c.OK(key) {
			continue
		}
		if name == foreign || name == foreign+"_radius_mm" || name == foreign+"_deg" {
			home := "[dowel]"
			if foreign == "throw" {
				home = "[keyway]"
			}
			c.fault(key, "belongs to %s only; %s takes %s", home, at, strings.Join(own, ", "))
		} else {
			c.fault(key, "does not belong to method %s, which takes %s", method, strings.Join(own, ", "))
		}
	}
	return true
}

// swapped are a method's keys in [keyway]: the throw's for the dowel's.
func swapped(keys []string) []string {
	list := slices.Clone(keys)
	for i, k := range list {
		if k == "dowel" || k == "dowel_radius_mm" || k == "dowel_deg" {
			list[i] = strings.Replace(k, "dowel", "throw", 1)
		}
	}
	return list
}

func (c *checker) needs(key string, given bool, what phrase.Text) {
	if !given {
		c.missing(key, what)
	}
}

// needsSide asks for the side of a reading whose size is given.
func (c *checker) needsSide(key string, r *Reading, sized bool) {
	if r.Side == "" && sized && !c.Has(key) {
		c.missing(key, `is missing: say on which side of the other it lies as seen: "clockwise" or "anticlockwise"`)
	}
}

// chord checks that a chord can join its two radii: no shorter than their
// difference, no longer than their sum (Euclid, Elements, book I, proposition 20).
func (c *checker) chord(at, otherRadius string, r *Reading, radius Number) {
	keyway := r.KeywayRadiusMM
	keys := []string{at + ".chord_mm", at + "." + otherRadius, at + ".keyway_radius_mm"}
	if !radius.Given && !keyway.Given {
		// Either may be meant: hidden behind either, it is not missing.
		if c.OK(keys...) {
			c.missing(keys[2], "is missing: give at least one radius, %s or keyway_radius_mm; with one they are taken as equal", otherRadius)
		}
		return
	}
	a, b := radius.Or(keyway.Value), keyway.Or(radius.Value)
	lo, hi := math.Abs(a-b), a+b
	for _, chord := range repeated(&r.ChordMM, &r.ChordAgainMM).All() {
		if c.OK(keys...) && !(chord >= lo && chord <= hi) {
			c.fault(keys[0], "is %s; between radii of %s and %s it is at least %s and at most %s",
				phrase.MM(chord), phrase.MM(a).Plain(), phrase.MM(b), phrase.MM(lo).Plain(), phrase.MM(hi))
		}
	}
}

// caliper checks a chord taken over or between pin and key.
func (c *checker) caliper(at, other, otherRadius string, r *Reading, radius Number) {
	key := func(name string) string { return at + "." + name }
	c.needs(key("chord_mm"), r.ChordMM.Given, "is missing: give what the caliper reads")
	c.needs(key("pin_mm"), r.PinMM.Given, map[string]phrase.Text{"dowel": "is missing: give the diameter of the dowel or its hole", "throw": "is missing: give the diameter of the crankpin"}[other])
	c.needs(key("key_mm"), r.KeyMM.Given, "is missing: give the width of the key or keyway")
	c.needs(key(otherRadius), radius.Given, map[string]phrase.Text{
		"dowel": "is missing: give how far the middle of the dowel is from the shaft's axis", "throw": "is missing: give how far the middle of the throw is from the shaft's axis"}[other])
	on := part.OnKey
	if r.On == "keyway" {
		on = part.OnKeyway
		c.needs(key("keyway_radius_mm"), r.KeywayRadiusMM.Given, "is missing: give the radius of the shaft at the edges of the keyway")
	}
	if !c.OK(key("chord_mm"), key("pin_mm"), key("key_mm"), key(otherRadius), key("keyway_radius_mm"), key("on")) {
		return
	}
	over := part.Outside
	if r.Over == "inside" {
		over = part.Inside
	}
	err := part.Caliper{
		ReadingMM: r.ChordMM.Value, Again: r.ChordAgainMM, Over: over, On: on, PinMM: r.PinMM.Value, KeyMM: r.KeyMM.Value,
		Radius1: radius.Value, Radius2: r.KeywayRadiusMM.Value,
	}.Check()
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
			c.fault(at+"."+s.Name, `counts only for a caliper held over pin and key: write over = "outside" or "inside"`)
		}
	}
}

// points checks a list that must have one of the given numbers of points, and
// that their coordinates are usable.
func (c *checker) points(key string, points []Point, what phrase.Text, counts ...int) {
	if !c.OK(key) {
		return
	}
	if len(points) == 0 && !slices.Contains(counts, 0) {
		if c.Has(key) {
			c.fault(key, "is empty; give %s", what)
		} else {
			c.missing(key, "is missing: give %s", what)
		}
		return
	}
	if !slices.Contains(counts, len(points)) {
		c.fault(key, "has %d points; give %s", len(points), what)
		return
	}
	c.finite(key, points)
}

func (c *checker) finite(key string, points []Point) {
	for i, p := range points {
		if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate) {
			c.fault(key, "point %d is at [%s, %s]; coordinates go up to %s", i+1, figure(p.X), figure(p.Y), figure(maxCoordinate))
			return
		}
	}
}

// maxCoordinate is far beyond any photograph or measuring table; squares of it
// and their sums still have all their digits.
const maxCoordinate = 1e6

func (c *checker) offCentre(key, centreKey string, p, centre []Point) {
	if c.OK(key, centreKey) && len(p) == 1 && len(centre) == 1 && p[0] == centre[0] {
		c.fault(key, "is the same point as the centre; it has no direction from there")
	}
}

// photo checks the points taken from a photograph.
func (c *checker) photo(key func(string) string, r *Reading, other string, otherPoints []Point) {
	if strings.TrimSpace(r.File) == "" && c.OK(key("file")) {
		if c.Has(key("file")) {
			c.fault(key("file"), "is empty; name the photograph")
		} else {
			c.missing(key("file"), "is missing: name the photograph")
		}
	}
	c.atLeast(key("rim"), r.Rim, 5, "points round the rim, five at least, for five fix an ellipse")
	c.points(key("keyway"), r.Keyway, "its two corners, where its walls meet the rim", 2)
	if k := r.Keyway; len(k) == 2 && k[0] == k[1] && c.OK(key("keyway")) {
		c.fault(key("keyway"), "both corners are the same point; give the two where its walls meet the rim")
	}
	what := map[string]phrase.Text{
		"dowel": "one point, the middle of the dowel, or three or more on its edge", "throw": "one point, the middle of the throw, or three or more on its edge"}[other]
	if len(otherPoints) == 1 {
		c.points(key(other), otherPoints, what, 1)
	} else {
		c.atLeast(key(other), otherPoints, 3, what)
	}
	if len(r.Bolts) > 0 {
		// Each point gives two equations and a plane seen in perspective has eight
		// unknowns (Hartley and Zisserman, Multiple View Geometry in Computer
		// Vision, 2nd ed., 2004, section 4.1; from memory), so four bolts and no
		// fewer serve without the rim's help.
		c.atLeast(key("bolts"), r.Bolts, 4, "all bolts of the circle, four at least, or none")
	}
	c.points(key("centre"), r.Centre, "the one point of the centre drilling, or none", 0, 1)
}

// atLeast checks a list that must have n points or more.
func (c *checker) atLeast(key string, points []Point, n int, what phrase.Text) {
	switch {
	case len(points) < n && (len(points) == 0 || !c.OK(key)):
		c.points(key, points, what)
	case len(points) < n:
		c.fault(key, "has %d points; give %s", len(points), what)
	case len(points) > document.MaxItems:
		c.fault(key, "has %d points; at most %d are taken", len(points), document.MaxItems)
	default:
		c.finite(key, points)
	}
}
