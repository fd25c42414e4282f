package job

import (
	"math"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// xyWay is the places of the shaft's centre and of both features.
type xyWay struct{}

func (xyWay) takes() []string { return []string{"centre", "keyway", "dowel", "u_mm"} }

func (xyWay) check(c *checker, e end, r *Reading) {
	points := e.pointsOf(r)
	c.points(e.key("centre"), r.Centre, "the centre of the shaft", 1)
	c.points(e.key("keyway"), r.Keyway, "the middle of the keyway", 1)
	c.points(e.key(e.points), points, e.pick("the middle of the dowel", "the middle of the throw"), 1)
	c.offCentre(e.key("keyway"), e.key("centre"), r.Keyway, r.Centre)
	c.offCentre(e.key(e.points), e.key("centre"), points, r.Centre)
}

func (xyWay) reading(r *Reading, section string, given func(Number) part.Given) part.Reading {
	from, to := r.Keyway, r.Dowel
	if section == "keyway" {
		from, to = r.Throw, r.Keyway
	}
	return part.Coordinates{Centre: first(r.Centre), From: first(from), To: first(to), U: given(r.UMM)}
}

func first(ps []Point) part.Point {
	if len(ps) == 0 {
		return part.Point{}
	}
	return part.Point{X: ps[0].X, Y: ps[0].Y}
}

// move is of a dowel: it goes round the centre. Its unit is not known, so it is as fine
// against its distance from there as a thousandth of a millimetre at 10 to 100 mm.
func (xyWay) move(r *Reading, as part.Reading, to timing.Deg, v timing.View) {
	c := as.(part.Coordinates)
	p := c.TurnedTo(to, v)
	per := math.Pow(10, 4-math.Floor(math.Log10(math.Hypot(c.To.X-c.Centre.X, c.To.Y-c.Centre.Y))))
	r.Dowel = []Point{{X: math.Round(p.X*per) / per, Y: math.Round(p.Y*per) / per}}
}

func (xyWay) fields(section string) []Field {
	centre, keyway, each := field("centre", "Centre x, y"), field("keyway", "Keyway x, y"), field("u_mm", "± (standard)")
	each.Unit = "" // that of the points
	if section == "keyway" {
		return fields(centre, field("throw", "Throw x, y"), keyway, each)
	}
	return fields(centre, keyway, field("dowel", "Dowel x, y"), each)
}

func (xyWay) ends(_ *Reading, section string) (from, to string) {
	if section == "keyway" {
		return "throw", "keyway"
	}
	return "keyway", "dowel"
}

// How it is known whether a photograph is mirrored, as a front camera may store it: an
// angle in one that is lies on the other side.
const (
	MirrorWriting  = "writing"  // writing in it can be read: it is not
	MirrorRotation = "rotation" // the turning direction is marked on the part and is right: it is not
	MirrorMirrored = "mirrored" // writing in it is reversed: it is, and its angle is turned round
)

// photoWay is points marked on a photograph, from which an angle is worked out before
// anything else sees the reading.
type photoWay struct{}

func (photoWay) takes() []string {
	return []string{"file", "taken", "mirror", "rim", "keyway", "dowel", "bolts", "centre", "side", "u_px"}
}

// check is of the points taken from a photograph.
func (photoWay) check(c *checker, e end, r *Reading) {
	key, other, otherPoints := e.key, e.points, e.pointsOf(r)
	if strings.TrimSpace(r.File) == "" && c.OK(key("file")) {
		if c.Has(key("file")) {
			c.fault(key("file"), "is empty; name the photograph")
		} else {
			c.missing(key("file"), "is missing: name the photograph")
		}
	}
	c.day(key("taken"), r.Taken)
	c.word(key("mirror"), r.Mirror)
	c.atLeast(key("rim"), r.Rim, 5, "points round the rim, five at least, for five fix an ellipse")
	c.points(key("keyway"), r.Keyway, "its two corners, where its walls meet the rim", 2)
	if k := r.Keyway; len(k) == 2 && k[0] == k[1] && c.OK(key("keyway")) {
		c.fault(key("keyway"), "both corners are the same point; give the two where its walls meet the rim")
	}
	what := e.pick("one point, the middle of the dowel, or three or more on its edge", "one point, the middle of the throw, or three or more on its edge")
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
		c.atLeast(key("bolts"), r.Bolts, 4, "all bolt holes of the circle, four at least, or none")
	}
	c.points(key("centre"), r.Centre, "the one point of the centre drilling, or none", 0, 1)
}

// errPhoto is the answer to a photograph that has not been turned into an angle first.
var errPhoto = phrase.Errorf("the photograph has not been evaluated")

type notWorkedOut struct{}

func (notWorkedOut) Measure(timing.View) (part.Result, error) { return part.Result{}, errPhoto }

func (photoWay) reading(*Reading, string, func(Number) part.Given) part.Reading {
	return notWorkedOut{}
}

// move leaves a picture as it is.
func (photoWay) move(*Reading, part.Reading, timing.Deg, timing.View) {}

func (photoWay) fields(string) []Field { return fields(field("u_px", "± of a click")) }

func (photoWay) ends(*Reading, string) (from, to string) { return "", "" }
