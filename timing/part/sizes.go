package part

import (
	"math"

	"pinphase/timing"
)

// Key is a standard parallel key with its slots; mm.
type Key struct {
	Over, UpTo         float64 // shaft diameters it is for
	Width, Height      float64
	ShaftSlot, HubSlot float64 // depths
}

// Keys are the parallel keys of ISO/R 773:1969 (from memory), which are those of
// DIN 6885-1, for the shafts of a crankshaft's nose.
var Keys = []Key{
	{17, 22, 6, 6, 3.5, 2.8},
	{22, 30, 8, 7, 4.0, 3.3},
	{30, 38, 10, 8, 5.0, 3.3},
	{38, 44, 12, 8, 5.0, 3.3},
	{44, 50, 14, 9, 5.5, 3.8},
	{50, 58, 16, 10, 6.0, 4.3},
	{58, 65, 18, 11, 7.0, 4.4},
}

// KeyFor returns the standard parallel key for a shaft; not ok for shafts outside
// the table.
func KeyFor(shaftMM float64) (Key, bool) {
	for _, k := range Keys {
		if shaftMM > k.Over && shaftMM <= k.UpTo {
			return k, true
		}
	}
	return Key{}, false
}

// Woodruff is a standard Woodruff (half-round) key; mm.
type Woodruff struct {
	Width, Height, Diameter float64
	FromMemory              bool
}

// Woodruffs are the Woodruff keys of DIN 6888:1956; the last three, which
// ISO 3912 has beside them, from memory.
var Woodruffs = []Woodruff{
	{Width: 1, Height: 1.4, Diameter: 4},
	{Width: 1.5, Height: 2.6, Diameter: 7},
	{Width: 2, Height: 2.6, Diameter: 7},
	{Width: 2, Height: 3.7, Diameter: 10},
	{Width: 2.5, Height: 3.7, Diameter: 10},
	{Width: 3, Height: 3.7, Diameter: 10},
	{Width: 3, Height: 5, Diameter: 13},
	{Width: 3, Height: 6.5, Diameter: 16},
	{Width: 4, Height: 5, Diameter: 13},
	{Width: 4, Height: 6.5, Diameter: 16},
	{Width: 4, Height: 7.5, Diameter: 19},
	{Width: 5, Height: 6.5, Diameter: 16, FromMemory: true},
	{Width: 5, Height: 7.5, Diameter: 19, FromMemory: true},
	{Width: 6, Height: 9, Diameter: 22, FromMemory: true},
}

// Dowels are the nominal diameters of dowel pins of ISO 8734, in mm; from
// memory. Their tolerance is m6.
var Dowels = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20}

// Limits are how far a size may be off its nominal size; mm.
type Limits struct {
	Lower, Upper float64
	FromMemory   bool
}

// StandardU returns the standard uncertainty of a size of which only the limits
// are known: rectangular, half the width over the root of 3 (JCGM 100:2008,
// 4.3.7); mm.
func (l Limits) StandardU() float64 { return (l.Upper - l.Lower) / math.Sqrt(12) }

// Class is a tolerance class of ISO 286-2.
type Class string

// The classes of keys, pins and their seats.
const (
	KeyH9   Class = "h9"  // width of a key
	HubJS9  Class = "JS9" // slot of a hub, normal fit
	ShaftN9 Class = "N9"  // slot of a shaft, normal fit
	SlotP9  Class = "P9"  // slot of either, tight fit
	PinM6   Class = "m6"  // dowel pin
	HoleH7  Class = "H7"  // its hole
)

// tolerances are limits in µm for sizes over one bound up to the next of
// toleranceSizes.
var tolerances = map[Class][]Limits{
	KeyH9:   {{-25, 0, true}, {-30, 0, false}, {-36, 0, false}, {-43, 0, false}, {-52, 0, true}},
	HubJS9:  {{-12.5, 12.5, true}, {-15, 15, true}, {-18, 18, false}, {-21.5, 21.5, false}, {-26, 26, true}},
	ShaftN9: {{-29, -4, true}, {-30, 0, true}, {-36, 0, true}, {-43, 0, true}, {-52, 0, true}},
	SlotP9:  {{-31, -6, true}, {-42, -12, true}, {-51, -15, true}, {-61, -18, true}, {-74, -22, true}},
	PinM6:   {{2, 8, false}, {4, 12, false}, {6, 15, false}, {7, 18, false}, {8, 21, false}},
	HoleH7:  {{0, 10, true}, {0, 12, false}, {0, 15, false}, {0, 18, false}, {0, 21, false}},
}

var toleranceSizes = []float64{0, 3, 6, 10, 18, 30}

// LimitsOf returns the limits of a nominal size in mm, above 0 and up to 30; not
// ok for other sizes and classes.
func LimitsOf(class Class, nominalMM float64) (Limits, bool) {
	for i, l := range tolerances[class] {
		if nominalMM > toleranceSizes[i] && nominalMM <= toleranceSizes[i+1] {
			return Limits{l.Lower / 1000, l.Upper / 1000, l.FromMemory}, true
		}
	}
	return Limits{}, false
}

// Fit is how a key or pin sits in its slot or hole.
type Fit struct {
	LeastMM, MostMM float64 // clearance; negative: pressed in
}

// FitOf returns the fit of an inner part (key, pin) of one class in an outer
// (slot, hole) of another, both of a nominal size in mm; not ok where the table
// has not both.
func FitOf(inner, outer Class, nominalMM float64) (Fit, bool) {
	in, ok := LimitsOf(inner, nominalMM)
	out, ok2 := LimitsOf(outer, nominalMM)
	return Fit{LeastMM: out.Lower - in.Upper, MostMM: out.Upper - in.Lower}, ok && ok2
}

// Play returns how far the most clearance lets a part turn from one stop to the
// other, at a radius in mm above 0: clearance over radius. To one side it is half
// of that. A fit without clearance has none.
func (f Fit) Play(radiusMM float64) timing.Deg {
	return timing.FromRadians(max(0, f.MostMM) / radiusMM)
}
