package form

import (
	"slices"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// measuring is a way of measuring that the forms offer.
type measuring struct {
	name, short      phrase.Text // as the reader sees it; short below its picture
	how              phrase.Text // what is done, in a sentence
	Kind             figure.MethodKind
	Method, over, on string // as the job says it
	side             bool   // the user says on which side the feature lies
	counts           bool   // the user says which way the degree wheel counts
	fields           func(section string) []readingField
}

// Words are a way of measuring in the reader's language: what it is called, what stands
// below its picture, and how it is done.
func (m measuring) Words() (name, short, how string) { return tr(m.name), tr(m.short), tr(m.how) }

// readingField is a value of a reading: one number, that number read several
// times, or a point.
type readingField struct {
	key         string
	label, unit phrase.Text
	at          func(*job.Reading) *job.Number
	sizes       func() []size                 // standard sizes to pick from; nil: none
	again       func(*job.Reading) *[]float64 // nil: read once
	point       func(*job.Reading) *[]job.Point
}

// Measurings are the ways, in the order in which they are offered.
var Measurings = []measuring{
	{name: "angle, read off", short: "angle",
		how:  "One angle, read off a protractor or a dividing head.",
		Kind: figure.MethodAngle, Method: "angle", side: true, fields: angleFields},
	{name: "degree wheel, read at both", short: "degree wheel",
		how:  "Turn a degree wheel with the shaft and read it at both features.",
		Kind: figure.MethodDegreeWheel, Method: "degree_wheel", counts: true, fields: degreeWheelFields},
	{name: "caliper, centre to centre", short: "caliper, centres",
		how:  "Straight across, from centre to centre.",
		Kind: figure.MethodChord, Method: "chord", side: true, fields: chordFields},
	{name: "caliper over pin and key", short: "over pin and key",
		how:  "Jaws over the far sides of pin and key.",
		Kind: figure.MethodOutside, Method: "chord", over: "outside", side: true, fields: caliperFields},
	{name: "caliper between pin and key", short: "between pin and key",
		how:  "Jaws between the near sides of pin and key.",
		Kind: figure.MethodInside, Method: "chord", over: "inside", side: true, fields: caliperFields},
	{name: "caliper over pin and keyway edge", short: "over pin, keyway edge",
		how:  "Jaws over the far side of the pin and the far edge of the empty keyway.",
		Kind: figure.MethodOutsideKeyway, Method: "chord", over: "outside", on: "keyway", side: true, fields: caliperFields},
	{name: "caliper between pin and keyway edge", short: "between pin, keyway edge",
		how:  "Jaws between the near side of the pin and the near edge of the empty keyway.",
		Kind: figure.MethodInsideKeyway, Method: "chord", over: "inside", on: "keyway", side: true, fields: caliperFields},
	{name: "tape along a rim", short: "tape on a rim",
		how:  "A tape laid along a rim, from one feature to the other.",
		Kind: figure.MethodArc, Method: "arc", side: true, fields: arcFields},
	{name: "coordinates", short: "coordinates",
		how:  "Points from a measuring table: the centre and both features.",
		Kind: figure.MethodXY, Method: "xy", fields: xyFields},
	{name: "photograph", short: "photograph",
		how:  "Points marked on a picture of the shaft’s end.",
		Kind: figure.MethodPhoto, Method: "photo", fields: photoFields},
}

// PhotoMeasuring is the place of the photograph in measurings, the last.
var PhotoMeasuring = len(Measurings) - 1

// MeasuringOf returns the index in measurings of how a reading was taken, -1 for
// none of them.
func MeasuringOf(r *job.Reading) int {
	if r == nil {
		return -1
	}
	method, over, on := r.Method, r.Over, r.On
	if method == "" {
		method = "angle"
	}
	if over == "centres" {
		over = ""
	}
	if on == "key" || over == "" {
		on = ""
	}
	return slices.IndexFunc(Measurings, func(m measuring) bool { return m.Method == method && m.over == over && m.on == on })
}

// An empty text in a field for u takes the method's default.

func u(key string, label, unit phrase.Text, at func(*job.Reading) *job.Number) readingField {
	return readingField{key: key, label: label, unit: unit, at: at}
}

func angleFields(string) []readingField {
	return []readingField{
		{key: "angle_deg", label: "Angle", unit: "°", at: func(r *job.Reading) *job.Number { return &r.AngleDeg }, again: func(r *job.Reading) *[]float64 { return &r.AngleAgainDeg }},
		u("u_deg", "± (standard)", "°", func(r *job.Reading) *job.Number { return &r.UDeg }),
	}
}

func degreeWheelFields(section string) []readingField {
	throw := readingField{key: "throw_deg", label: "At the throw", unit: "°", at: func(r *job.Reading) *job.Number { return &r.ThrowDeg }, again: func(r *job.Reading) *[]float64 { return &r.ThrowAgainDeg }}
	keyway := readingField{key: "keyway_deg", label: "At the keyway", unit: "°", at: func(r *job.Reading) *job.Number { return &r.KeywayDeg }, again: func(r *job.Reading) *[]float64 { return &r.KeywayAgainDeg }}
	dowel := readingField{key: "dowel_deg", label: "At the dowel", unit: "°", at: func(r *job.Reading) *job.Number { return &r.DowelDeg }, again: func(r *job.Reading) *[]float64 { return &r.DowelAgainDeg }}
	each := u("u_deg", "± of each", "°", func(r *job.Reading) *job.Number { return &r.UDeg })
	if section == "keyway" {
		return []readingField{throw, keyway, each}
	}
	return []readingField{keyway, dowel, each}
}

func radii(section string) []readingField {
	own := readingField{key: "dowel_radius_mm", label: "Dowel radius", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.DowelRadiusMM }}
	if section == "keyway" {
		own = readingField{key: "throw_radius_mm", label: "Throw radius", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.ThrowRadiusMM }}
	}
	return []readingField{own, {key: "keyway_radius_mm", label: "Keyway radius", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.KeywayRadiusMM }}}
}

var (
	chordField = readingField{key: "chord_mm", label: "Distance", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.ChordMM }, again: func(r *job.Reading) *[]float64 { return &r.ChordAgainMM }}
	lengthU    = u("u_mm", "± (standard)", "mm", func(r *job.Reading) *job.Number { return &r.UMM })
	radiusU    = u("u_radius_mm", "± of the radii", "mm", func(r *job.Reading) *job.Number { return &r.URadiusMM })
)

func chordFields(section string) []readingField {
	return slices.Concat([]readingField{chordField}, radii(section), []readingField{lengthU, radiusU})
}

func caliperFields(section string) []readingField {
	pin := readingField{key: "pin_mm", label: "Pin diameter", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.PinMM }, sizes: pinSizes}
	if section == "keyway" {
		pin.label, pin.sizes = "Crankpin diameter", nil
	}
	key := readingField{key: "key_mm", label: "Key width", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.KeyMM }, sizes: keySizes}
	size := u("u_size_mm", "± of pin and key", "mm", func(r *job.Reading) *job.Number { return &r.USizeMM })
	return slices.Concat([]readingField{chordField, pin, key}, radii(section), []readingField{lengthU, radiusU, size})
}

func arcFields(string) []readingField {
	return []readingField{
		{key: "arc_mm", label: "Length", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.ArcMM }, again: func(r *job.Reading) *[]float64 { return &r.ArcAgainMM }},
		{key: "rim_radius_mm", label: "Rim radius", unit: "mm", at: func(r *job.Reading) *job.Number { return &r.RimRadiusMM }},
		lengthU,
		u("u_radius_mm", "± of the radius", "mm", func(r *job.Reading) *job.Number { return &r.URadiusMM }),
	}
}

func xyFields(section string) []readingField {
	centre := readingField{key: "centre", label: "Centre x, y", point: func(r *job.Reading) *[]job.Point { return &r.Centre }}
	throw := readingField{key: "throw", label: "Throw x, y", point: func(r *job.Reading) *[]job.Point { return &r.Throw }}
	keyway := readingField{key: "keyway", label: "Keyway x, y", point: func(r *job.Reading) *[]job.Point { return &r.Keyway }}
	dowel := readingField{key: "dowel", label: "Dowel x, y", point: func(r *job.Reading) *[]job.Point { return &r.Dowel }}
	each := u("u_mm", "± (standard)", "", func(r *job.Reading) *job.Number { return &r.UMM })
	if section == "keyway" {
		return []readingField{centre, throw, keyway, each}
	}
	return []readingField{centre, keyway, dowel, each}
}

func photoFields(string) []readingField {
	return []readingField{u("u_px", "± of a click", "px", func(r *job.Reading) *job.Number { return &r.UPx })}
}
