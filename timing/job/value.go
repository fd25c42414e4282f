package job

import (
	"strings"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Value is one key of a reading: where it stands in a [Reading], what it is called
// and what it may be. A value that no method had before needs its field there and
// its row in [values]; the file, its limits, the form, the sheet and the budget of
// the uncertainty walk the table.
type Value struct {
	Key    string
	Unit   phrase.Text // "°", "mm", "px"; "" for coordinates
	Name   phrase.Text // on paper; "" where paper does not tell of it
	Better phrase.Text // what to do where most of the uncertainty comes from it

	// Where it stands: a number, perhaps with further readings of it, points, or words.
	Number func(*Reading) *Number
	Again  func(*Reading) *[]float64
	Points func(*Reading) *[]Point
	words  func(*Reading) *string

	section string  // the only one it belongs to; "": both
	source  string  // what package part calls its share of an uncertainty
	most    float64 // of a number
	doubt   bool    // a standard uncertainty: 0 is one
}

const (
	stated     = phrase.Text("standard uncertainty given")
	mostMM     = 5000
	mostPixels = 10_000
)

// values are all keys of a reading, in the order in which they are written.
var values = []Value{
	{Key: "method", words: func(r *Reading) *string { return &r.Method }},
	{Key: "file", words: func(r *Reading) *string { return &r.File }},
	{Key: "taken", words: func(r *Reading) *string { return &r.Taken }},
	{Key: "mirror", words: func(r *Reading) *string { return &r.Mirror }},
	{Key: "angle_deg", source: part.ReadAngle, Unit: "°", most: 180, Name: "angle",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty is the degree wheel's own: a larger or finer one would reduce it, more readings would not.",
		Number: func(r *Reading) *Number { return &r.AngleDeg }, Again: func(r *Reading) *[]float64 { return &r.AngleAgainDeg }},
	{Key: "throw_deg", Unit: "°", most: 360, section: "keyway", Name: "degree wheel at the No. 1 throw",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the No. 1 throw: improve that first.",
		Number: func(r *Reading) *Number { return &r.ThrowDeg }, Again: func(r *Reading) *[]float64 { return &r.ThrowAgainDeg }},
	{Key: "keyway_deg", Unit: "°", most: 360, Name: "degree wheel at the keyway",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the keyway: improve that first.",
		Number: func(r *Reading) *Number { return &r.KeywayDeg }, Again: func(r *Reading) *[]float64 { return &r.KeywayAgainDeg }},
	{Key: "dowel_deg", Unit: "°", most: 360, section: "dowel", Name: "degree wheel at the dowel",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the dowel: improve that first.",
		Number: func(r *Reading) *Number { return &r.DowelDeg }, Again: func(r *Reading) *[]float64 { return &r.DowelAgainDeg }},
	{Key: "counts", words: func(r *Reading) *string { return &r.Counts }},
	{Key: "over", words: func(r *Reading) *string { return &r.Over }},
	{Key: "on", words: func(r *Reading) *string { return &r.On }},
	{Key: "chord_mm", source: part.ReadChord, Unit: "mm", most: mostMM, Name: "straight distance",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the straight distance: improve that first.",
		Number: func(r *Reading) *Number { return &r.ChordMM }, Again: func(r *Reading) *[]float64 { return &r.ChordAgainMM }},
	{Key: "pin_mm", source: part.ReadPin, Unit: "mm", most: mostMM, Name: "diameter of the dowel or crankpin",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the diameter of the dowel or crankpin: improve that first.",
		Number: func(r *Reading) *Number { return &r.PinMM }},
	{Key: "key_mm", source: part.ReadKey, Unit: "mm", most: mostMM, Name: "width of the key",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the width of the key: improve that first.",
		Number: func(r *Reading) *Number { return &r.KeyMM }},
	{Key: "arc_mm", source: part.ReadArc, Unit: "mm", most: mostMM, Name: "length along the rim",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the length along the rim: improve that first.",
		Number: func(r *Reading) *Number { return &r.ArcMM }, Again: func(r *Reading) *[]float64 { return &r.ArcAgainMM }},
	{Key: "rim_radius_mm", source: part.ReadRim, Unit: "mm", most: mostMM, Name: "radius of the rim",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the radius of the rim: improve that first.",
		Number: func(r *Reading) *Number { return &r.RimRadiusMM }},
	{Key: "throw_radius_mm", Unit: "mm", most: mostMM, section: "keyway", Name: "crank radius",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the crank radius: improve that first.",
		Number: func(r *Reading) *Number { return &r.ThrowRadiusMM }},
	{Key: "dowel_radius_mm", Unit: "mm", most: mostMM, section: "dowel", Name: "distance of the dowel from the axis",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the distance of the dowel from the axis: improve that first.",
		Number: func(r *Reading) *Number { return &r.DowelRadiusMM }},
	{Key: "keyway_radius_mm", Unit: "mm", most: mostMM, Name: "distance of the keyway from the axis",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the distance of the keyway from the axis: improve that first.",
		Number: func(r *Reading) *Number { return &r.KeywayRadiusMM }},
	{Key: "centre", source: part.ReadCentre, Name: "coordinates of the centre",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the centre: improve those first.",
		Points: func(r *Reading) *[]Point { return &r.Centre }},
	{Key: "throw", section: "keyway", Name: "coordinates of the throw",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the throw: improve those first.",
		Points: func(r *Reading) *[]Point { return &r.Throw }},
	{Key: "keyway", Name: "coordinates of the keyway",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the keyway: improve those first.",
		Points: func(r *Reading) *[]Point { return &r.Keyway }},
	{Key: "dowel", section: "dowel", Name: "coordinates of the dowel",
		Better: "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the dowel: improve those first.",
		Points: func(r *Reading) *[]Point { return &r.Dowel }},
	{Key: "rim", Points: func(r *Reading) *[]Point { return &r.Rim }},
	{Key: "bolts", Points: func(r *Reading) *[]Point { return &r.Bolts }},
	{Key: "seen_from", words: func(r *Reading) *string { return &r.SeenFrom }},
	{Key: "side", words: func(r *Reading) *string { return &r.Side }},
	{Key: "u_deg", Unit: "°", most: 180, doubt: true, Name: stated, Number: func(r *Reading) *Number { return &r.UDeg }},
	{Key: "u_mm", Unit: "mm", most: mostMM, doubt: true, Name: stated, Number: func(r *Reading) *Number { return &r.UMM }},
	{Key: "u_radius_mm", Unit: "mm", most: mostMM, doubt: true, Number: func(r *Reading) *Number { return &r.URadiusMM }},
	{Key: "u_size_mm", Unit: "mm", most: mostMM, doubt: true, Number: func(r *Reading) *Number { return &r.USizeMM }},
	{Key: "u_px", Unit: "px", most: mostPixels, doubt: true, Name: stated, Number: func(r *Reading) *Number { return &r.UPx }},
}

// ValueOf returns the value of a key; ok is false where a reading has none of that
// name.
func ValueOf(key string) (v Value, ok bool) {
	for _, v := range values {
		if v.Key == key {
			return v, true
		}
	}
	return Value{}, false
}

// Values are the numbers and points that are given in a reading, in the order of the
// file.
func (r *Reading) Values() []Value {
	var list []Value
	for _, v := range values {
		if k := v.in(r); v.words == nil && k.Given() {
			list = append(list, v)
		}
	}
	return list
}

// in is the value's key in a reading.
func (v Value) in(r *Reading) document.Key {
	switch {
	case v.words != nil:
		return slot(v.Key, v.words(r))
	case v.Points != nil:
		return slot(v.Key, v.Points(r))
	case v.Again != nil:
		return slot(v.Key, repeated(v.Number(r), v.Again(r)))
	}
	return slot(v.Key, v.Number(r))
}

// slots lists the keys of all methods and of both sections; which of them belong
// together is for Check to say, in better words than "unknown key".
func (r *Reading) slots() []document.Key {
	keys := make([]document.Key, len(values))
	for i, v := range values {
		keys[i] = v.in(r)
	}
	return keys
}

// readingKeys are the numbers of a reading with their limits.
func readingKeys(section, at string) []KeyInfo {
	var list []KeyInfo
	for _, v := range values {
		if v.Number == nil || v.section != "" && v.section != section {
			continue
		}
		k := KeyInfo{Key: at + "." + v.Key, Unit: string(v.Unit), Max: v.most}
		k.AboveMin = !v.doubt && strings.HasSuffix(v.Key, "_mm") // no length is nothing
		list = append(list, k)
	}
	return list
}
