package job

import (
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// feature checks [dowel] or [keyway].
func (c *checker) feature(name string, f *Feature) {
	if f == nil {
		return
	}
	c.word(name+".seen_from", f.SeenFrom)
	c.reading(name+".drawing", f.Drawing)
	c.reading(name+".measured", f.Measured)
}

// end is the feature whose angle a reading is, as the checks of its keys want it.
type end struct {
	at             string // "dowel.measured"
	other, foreign string // the other end of the angle, and that of the other section
	points, radius string // their keys
}

func endAt(at string) end {
	e := end{at: at, other: "dowel", foreign: "throw"}
	if strings.HasPrefix(at, "keyway") || strings.HasSuffix(at, ".keyway") {
		e.other, e.foreign = "throw", "dowel"
	}
	e.points, e.radius = e.other, e.other+"_radius_mm"
	return e
}

func (e end) key(name string) string { return e.at + "." + name }

// pick returns the text that is about the other end.
func (e end) pick(dowel, throw phrase.Text) phrase.Text {
	if e.other == "throw" {
		return throw
	}
	return dowel
}

// number and pointsOf are what a reading has of the other end.
func (e end) number(r *Reading, name string) Number {
	v, _ := ValueOf(e.other + "_" + name)
	return *v.Number(r)
}

func (e end) pointsOf(r *Reading) []Point {
	v, _ := ValueOf(e.points)
	return *v.Points(r)
}

// reading checks one reading by the rules of its method.
func (c *checker) reading(at string, r *Reading) {
	if r == nil || !c.OK(at) {
		return
	}
	e := endAt(at)
	method := r.Method
	if method == "" && !c.Has(e.key("method")) {
		method = "angle"
	}
	c.word(e.key("method"), r.Method)
	c.word(e.key("seen_from"), r.SeenFrom)
	if !c.OK(e.key("method")) || !c.onlyOf(at, method, e.foreign, r) {
		return
	}
	c.numbers(at, r.slots())
	c.word(e.key("side"), r.Side)
	for _, m := range Methods {
		if m.Key == method {
			m.check(c, e, r)
			return
		}
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
		for _, m := range methodNames() {
			keys := methodKeys(m)
			if foreign == "dowel" {
				keys = swapped(keys)
			}
			if slices.Contains(keys, strange[0]) {
				c.missing(at+".method", "is missing: without it an angle in degrees is assumed; for %s write method = %q", strange[0], m)
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

// atLeast checks a list that must have n points or more.
func (c *checker) atLeast(key string, points []Point, n int, what phrase.Text) {
	switch {
	case len(points) < n && (len(points) == 0 || !c.OK(key)):
		c.points(key, points, what)
	case len(points) < n:
		c.fault(key, "has %d points; give %s", len(points), what)
	case len(points) > document.MaxItems:
		c.fault(key, "has %d points; at most %d are accepted", len(points), document.MaxItems)
	default:
		c.finite(key, points)
	}
}
