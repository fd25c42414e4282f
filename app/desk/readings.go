package desk

import (
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// PointsOf is the list of a kind's points in a reading.
func PointsOf(r *job.Reading, kind string) *[]job.Point {
	switch kind {
	case "keyway":
		return &r.Keyway
	case "dowel":
		return &r.Dowel
	case "throw":
		return &r.Throw
	case "centre":
		return &r.Centre
	case "bolts":
		return &r.Bolts
	}
	return &r.Rim
}

// Wanted says how much more of a kind's points a reading of a section needs, ""
// for none; the kind "file" is the picture itself.
func Wanted(r *job.Reading, section, kind string) string {
	n := 0
	if kind != "file" {
		n = len(*PointsOf(r, kind))
	}
	more := func(text phrase.Text, most int) string { return with(text, map[string]any{"N": most - n}) }
	switch own := FeatureKind(section); {
	case kind == "file" && strings.TrimSpace(r.File) == "":
		return tr("a photograph to mark")
	case kind == "rim" && n < 4:
		return more("{{.N}} points on the rim", 5)
	case kind == "rim" && n == 4:
		return tr("one more point on the rim")
	case kind == "keyway" && n == 0:
		return tr("both corners of the keyway")
	case kind == "keyway" && n == 1:
		return tr("the other corner of the keyway")
	case kind == own && n == 0 && own == "throw":
		return tr("the No. 1 throw")
	case kind == own && n == 0:
		return tr("the dowel")
	case kind == own && n == 2:
		return tr("one more point on the edge of the dowel or throw")
	case kind == "bolts" && n == 3:
		return tr("one more bolt hole")
	case kind == "bolts" && n > 0 && n < 3:
		return more("{{.N}} more bolt holes", 4)
	}
	return ""
}

// FeatureKind is the kind of points of the feature that a section measures
// besides the keyway.
func FeatureKind(section string) string {
	if section == "keyway" {
		return "throw"
	}
	return "dowel"
}

// PhotoIn is the photograph that a reading of a section was taken from, nil where it
// was taken otherwise.
func PhotoIn(j *job.Job, section, which string) *job.Reading {
	if r := readingAt(j, section, which); r != nil && r.Method == "photo" {
		return r
	}
	return nil
}

// PartAt is the which of a reading of a part that is not compared.
func PartAt(i int) string { return fmt.Sprintf("part[%d]", i+1) }

// PlaceOfPart is the inverse of [PartAt].
func PlaceOfPart(which string) (i int, ok bool) {
	n, err := fmt.Sscanf(which, "part[%d]", &i)
	return i - 1, err == nil && n == 1 && i > 0 && PartAt(i-1) == which
}

// CutKey takes the key of a reading, or of what it has, apart: "dowel.measured.chord_mm"
// into "dowel", "measured" and "chord_mm", "part[3].dowel.chord_mm" into "dowel",
// "part[3]" and "chord_mm".
func CutKey(key string) (section, which, kind string) {
	section, rest, _ := strings.Cut(key, ".")
	which, kind, _ = strings.Cut(rest, ".")
	if _, ok := PlaceOfPart(section); ok {
		section, which = which, section
	}
	return section, which, kind
}

// readingAt is the reading of a section, nil where there is none.
func readingAt(j *job.Job, section, which string) *job.Reading {
	if section != "dowel" && section != "keyway" {
		return nil
	}
	if i, ok := PlaceOfPart(which); ok {
		if i >= len(j.Parts) {
			return nil
		}
		return j.Parts[i].Reading(section)
	}
	if p := j.PartHolding(section, which); p != nil {
		return p.Reading(section)
	}
	f := *FeatureOf(section)(j)
	switch {
	case f == nil:
		return nil
	case which == "drawing":
		return f.Drawing
	case which == "measured":
		return f.Measured
	}
	return nil
}

// FeatureOf returns where a section stands in a job.
func FeatureOf(section string) func(*job.Job) **job.Feature {
	return func(j *job.Job) **job.Feature {
		if section == "keyway" {
			return &j.Keyway
		}
		return &j.Dowel
	}
}

func HasPhoto(j job.Job) (has bool) {
	j.EachReading(func(_ string, r *job.Reading) { has = has || r.Method == "photo" })
	return has
}

// SectionOf is where a feature stands in a job.
func SectionOf(feature figure.PartFeature) string {
	if feature == figure.KeywayFromThrow {
		return "keyway"
	}
	return "dowel"
}
