package job

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Method is a way of measuring the angle between two features on a crankshaft's end.
// A new one is its row here, a type with what it does ([way]), its [part.Reading], its
// picture in package figure, and its tests; check, budget, sheet, form and slider walk
// this table.
type Method struct {
	Key      string // as the job says it: method = "chord"
	Over, On string // likewise, where one word serves for several

	Title, Short phrase.Text // what it is called; Short stands below its picture
	How          phrase.Text // what is done, in a sentence
	Done         phrase.Text // what was done, on paper; {{.Sense}} is how a degree wheel counts, {{.File}} a picture's name
	Picture      string      // its name among the pictures of package figure

	Side   bool // the user says on which side the feature lies
	Counts bool // the user says which way the degree wheel counts

	way
}

// way is what a method does. Its keys are those of [dowel], where the angle leads from
// the keyway to the dowel; in [keyway] it leads from the No. 1 throw to the keyway,
// and the throw's keys take the dowel's place.
type way interface {
	// takes are the keys it has besides method and seen_from.
	takes() []string
	// check says what is wrong with a reading that has no other keys.
	check(c *checker, e end, r *Reading)
	// reading is a checked one as arithmetic. given is the uncertainty of what is read
	// itself, which a drawing has none of where it says nothing.
	reading(r *Reading, section string, given func(Number) part.Given) part.Reading
	// move makes r what would have been read of another signed angle; it leaves r alone
	// where no such angle can be read.
	move(r *Reading, as part.Reading, to timing.Deg, v timing.View)
	// fields are what is read, in the order in which a form asks for it.
	fields(section string) []Field
	// ends are the keys of what is read at the two features, from and to; those of the
	// radii where the features themselves are not read.
	ends(r *Reading, section string) (from, to string)
}

// Field is a value as a form asks for it.
type Field struct {
	Value
	Label phrase.Text
	Sizes string  // "pin" or "key": there are standard sizes to pick from
	Empty float64 // what a field for an uncertainty stands for while it is empty; 0 where that is no one number
}

// Methods are the ways of measuring, in the order in which they are offered; the
// photograph is the last.
var Methods = []Method{
	{Key: "angle", Title: "angle, read off", Short: "angle", Picture: "angle", Side: true,
		How:  "One angle, by eye or with a protractor: give its uncertainty.",
		Done: "The angle was read off directly.", way: angleWay{}},
	{Key: "degree_wheel", Title: "degree wheel, read at both", Short: "degree wheel", Picture: "degree wheel", Counts: true,
		How:  "Turn a degree wheel with the shaft and read it at both features.",
		Done: "A degree wheel fixed to the shaft was read at both features; its numbers grow {{.Sense}}.", way: degreeWheelWay{}},
	{Key: "chord", Title: "caliper, centre to centre", Short: "caliper, centres", Picture: "chord", Side: true,
		How:  "Straight across, from centre to centre.",
		Done: "The straight distance from centre to centre was measured, with both radii.", way: chordWay{}},
	{Key: "chord", Over: "outside", Title: "caliper over dowel and key", Short: "over dowel and key", Picture: "outside", Side: true,
		How:  "Jaws over the far sides of dowel (or crankpin) and key.",
		Done: "The distance was measured with a caliper over the far sides of dowel (or crankpin) and key, and the centre distance worked out from their sizes.", way: caliperWay{}},
	{Key: "chord", Over: "inside", Title: "caliper between dowel and key", Short: "between dowel and key", Picture: "inside", Side: true,
		How:  "Jaws between the near sides of dowel (or crankpin) and key.",
		Done: "The distance was measured with a caliper between the near sides of dowel (or crankpin) and key, and the centre distance worked out from their sizes.", way: caliperWay{}},
	{Key: "chord", Over: "outside", On: "keyway", Title: "caliper over dowel and keyway edge", Short: "over dowel, keyway edge", Picture: "outside keyway", Side: true,
		How:  "Jaws over the far side of the dowel (or crankpin) and the far edge of the empty keyway.",
		Done: "The distance was measured with a caliper over the far side of the dowel (or crankpin) and the far edge of the empty keyway, and the centre distance worked out from their sizes.", way: caliperWay{}},
	{Key: "chord", Over: "inside", On: "keyway", Title: "caliper between dowel and keyway edge", Short: "between dowel, keyway edge", Picture: "inside keyway", Side: true,
		How:  "Jaws between the near side of the dowel (or crankpin) and the near edge of the empty keyway.",
		Done: "The distance was measured with a caliper between the near side of the dowel (or crankpin) and the near edge of the empty keyway, and the centre distance worked out from their sizes.", way: caliperWay{}},
	{Key: "arc", Title: "tape along a rim", Short: "tape on a rim", Picture: "arc", Side: true,
		How:  "A tape laid along a rim, from one feature to the other.",
		Done: "The length along a rim was measured with a tape.", way: arcWay{}},
	{Key: "xy", Title: "coordinates", Short: "coordinates", Picture: "xy",
		How:  "Points from a measuring table: the centre and both features.",
		Done: "The places of centre and features were measured as coordinates.", way: xyWay{}},
	{Key: "photo", Title: "photograph", Short: "photograph", Picture: "photo",
		How:  "Points marked on a picture of the shaft’s end.",
		Done: "Points were marked on a photograph of the shaft's end, {{.File}}, and the angle was worked out from them, corrected for the tilt of the camera.", way: photoWay{}},
}

// MethodOf returns the place among [Methods] of how a reading was taken, -1 for none
// of them.
func MethodOf(r *Reading) int {
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
	return slices.IndexFunc(Methods, func(m Method) bool { return m.Key == method && m.Over == over && m.On == on })
}

// method is how a reading was taken; an angle where it says nothing that is known.
func (r *Reading) method() Method { return Methods[max(MethodOf(r), 0)] }

// methodNames are the words that the key takes.
func methodNames() []string {
	var list []string
	for _, m := range Methods {
		if !slices.Contains(list, m.Key) {
			list = append(list, m.Key)
		}
	}
	return list
}

// methodKeys are the keys that a word for a method takes.
func methodKeys(name string) []string {
	for _, m := range Methods {
		if m.Key == name {
			return m.takes()
		}
	}
	return nil
}

// Fields are what a form asks for.
func (m Method) Fields(section string) []Field { return m.fields(section) }

// As returns a sound reading as arithmetic. A drawing without an uncertainty is exact;
// a measurement takes its method's default.
func (r *Reading) As(section string, isDrawing bool) part.Reading {
	given := func(n Number) part.Given {
		if !n.Given && isDrawing {
			return part.Given{U: 0, Known: true}
		}
		return own(n)
	}
	return r.method().reading(r, section, given)
}

// own is an uncertainty that has no default here.
func own(n Number) part.Given { return part.Given{U: n.Value, Known: n.Given} }

// Move makes a sound reading what would have been read of another signed angle, by the
// same method; readings taken several times move together. It leaves the reading alone
// where such an angle cannot be read.
func (r *Reading) Move(section string, to timing.Deg, v timing.View) {
	r.method().move(r, r.As(section, false), to, v)
}

// Source returns the key under which a part of an uncertainty stands in a section, by
// the name that package part has for it, and its unit: that of what is read several
// times for their scatter.
func (r *Reading) Source(name, section string) (key, unit string) {
	from, to := r.method().ends(r, section)
	switch name {
	case part.ReadFrom, part.ReadRadius1:
		key = from
	case part.ReadTo, part.ReadRadius2:
		key = to
	case part.ReadScatter:
		for _, f := range r.method().fields(section) {
			if f.Again != nil {
				return name, unitNames[f.Unit]
			}
		}
		return name, ""
	default:
		key = name
		for _, v := range values {
			if v.source == name {
				key = v.Key
			}
		}
	}
	if v, ok := ValueOf(key); ok {
		unit = unitNames[v.Unit]
	}
	return key, unit
}

// unitNames are units as results have them.
var unitNames = map[phrase.Text]string{"°": "deg", "mm": "mm"}
