package part

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
