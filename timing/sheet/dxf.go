package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Hole is where a dowel belongs on a measured part, for who drills it anew: a template to
// true scale, and a drawing for a machine shop.
type Hole struct {
	remedy finding.Remedy
	view   timing.View
}

// HoleOf is where the dowel of a job belongs, seen from an end. The job has an angle for
// every photograph. Its error is [job.Faults] where the job lacks something, or one line
// where nothing is to be drilled.
func HoleOf(j job.Job, from timing.End) (Hole, error) {
	r, err := finding.RemedyOf(j)
	switch {
	case err != nil:
		return Hole{}, err
	case r == nil:
		return Hole{}, phrase.Errorf("the dowel is where it belongs, as far as the readings can tell: there is nothing to drill")
	case r.RadiusMM == nil:
		return Hole{}, job.Faults{{Key: "dowel.measured.dowel_radius_mm", Message: string(wordNoCircle), Says: phrase.Of(wordNoCircle)}}
	}
	return Hole{*r, finding.ViewOf(j, from.String())}, nil
}

const wordNoCircle phrase.Text = "is missing: a template needs how far the dowel lies from the axis"

// at is a point of the face in mm, the axis at the origin, x to the right and y up as seen,
// the keyway upwards.
func (h Hole) at(deg, radius float64) (x, y float64) {
	by, side := h.view.Seen(timing.Deg(deg))
	if side == timing.Anticlockwise {
		by = -by
	}
	sin, cos := math.Sincos(by.Radians())
	return radius * sin, radius * cos
}

// The layers of the drawing for a machine shop.
const (
	layerAxis   = "AXIS"
	layerKeyway = "KEYWAY"
	layerIs     = "DOWEL_AS_IS"
	layerShould = "DOWEL_NEW"
	layerText   = "TEXT"
)

// DXF is the drawing as DXF R12 (AutoCAD Release 12, AC1009: the entities CIRCLE, LINE and
// TEXT of its DXF reference), a unit a millimetre: the axis at the origin, the keyway at
// 12 o'clock, as seen. Each thing is on a layer of its own.
func (h Hole) DXF() []byte {
	var b bytes.Buffer
	pair := func(code int, value any) { fmt.Fprintf(&b, "%3d\r\n%v\r\n", code, value) }
	num := func(v float64) string { return fmt.Sprintf("%.6f", v+0) }
	entity := func(kind, layer string) {
		pair(0, kind)
		pair(8, layer)
	}
	point := func(code int, x, y float64) {
		pair(code, num(x))
		pair(code+10, num(y))
		pair(code+20, num(0))
	}
	line := func(layer string, x0, y0, x1, y1 float64) {
		entity("LINE", layer)
		point(10, x0, y0)
		point(11, x1, y1)
	}
	circle := func(layer string, x, y, r float64) {
		entity("CIRCLE", layer)
		point(10, x, y)
		pair(40, num(r))
	}
	radius := *h.remedy.RadiusMM
	text := func(y float64, words string) {
		entity("TEXT", layerText)
		point(10, -radius, y)
		pair(40, num(radius/16))
		pair(1, plain(words))
	}
	pair(0, "SECTION")
	pair(2, "HEADER")
	pair(9, "$ACADVER")
	pair(1, "AC1009")
	pair(0, "ENDSEC")
	pair(0, "SECTION")
	pair(2, "ENTITIES")
	line(layerAxis, -radius/8, 0, radius/8, 0)
	line(layerAxis, 0, -radius/8, 0, radius/8)
	circle(layerAxis, 0, 0, radius)
	line(layerKeyway, 0, 0, 0, 1.15*radius)
	for _, d := range []struct {
		layer string
		deg   float64
	}{{layerIs, h.remedy.IsDeg}, {layerShould, h.remedy.ShouldDeg}} {
		x, y := h.at(d.deg, radius)
		fx, fy := h.at(d.deg, 1.15*radius)
		line(d.layer, 0, 0, fx, fy)
		circle(d.layer, x, y, h.dowelMM()/2)
	}
	from := "NOSE"
	if h.view.From == timing.Flywheel {
		from = "FLYWHEEL"
	}
	text(-1.2*radius, "MILLIMETRES. SEEN FROM THE "+from+", KEYWAY UP.")
	text(-1.3*radius, fmt.Sprintf("NEW DOWEL %.2f DEG FROM KEYWAY, RADIUS %.2f, U %.2f DEG", math.Abs(h.remedy.ShouldDeg), radius, h.remedy.UDeg))
	pair(0, "ENDSEC")
	pair(0, "EOF")
	return b.Bytes()
}

// plain keeps what every reader of the format has: printable ASCII.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, s)
}

// usualDowelMM is drawn where the job does not say how thick the dowel is; common
// practice, no source.
const usualDowelMM = 8.0

func (h Hole) dowelMM() float64 {
	if h.remedy.DowelMM != nil {
		return *h.remedy.DowelMM
	}
	return usualDowelMM
}
