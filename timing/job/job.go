package job

import "pinphase.org/pinphase/timing/job/document"

// Number is a number that may be left out. The zero value is "not given".
type Number = document.Number

// Num returns a given number.
func Num(v float64) Number { return Number{Value: v, Given: true} }

// Point is a position in a plane, in the reading's own unit.
type Point = document.Point

// Fault is one thing that is wrong with a job, and Faults all of them in the
// order of the file.
type (
	Fault  = document.Fault
	Faults = document.Faults
)

// Job is everything the file holds. Sections left out are nil.
type Job struct {
	Format     int
	Title      string
	Notes      string
	Case       *Case // format 2
	Engine     Engine
	Injection  *Injection
	CrankWheel *CrankWheel
	CamWheel   *CamWheel
	Dowel      *Feature // angle from the keyway to the dowel
	Keyway     *Feature // angle from the No. 1 throw to the keyway
	Parts      []Part   // format 2
	Gears      *Gears
	TDC        []TDC // format 2
	Evidence   []Evidence

	Supposed *Supposed // a what-if laid over the job, never read or written; nil: none
}

// Engine is the section of that name.
type Engine struct {
	Strokes            int       // 4 or 2
	FiringOrder        []int     // each of 1..n once, from any cylinder on; n 1 to 24
	FiringIntervalsDeg []float64 // empty: even
	Rotation           string    // "clockwise" or "anticlockwise" as seen from the nose; "" is clockwise
	BoreMM             Number    // above 0
	StrokeMM           Number    // above 0; twice the crank throw
	RodMM              Number    // longer than half the stroke and the pin offset together
	PinOffsetMM        Number    // positive towards the side the crankpin swings to just after TDC; 0 when not given
	CompressionRatio   Number    // above 1
	PolytropicExponent Number    // of a cranked compression, 1 to 1.4; the program has a default

	// A compression gauge's reading, over the air outside, and the speed at which
	// it was taken. A reading without a speed counts as taken at cranking speed; a
	// speed without a reading is of no use and does no harm.
	CompressionGaugeBar Number
	CompressionGaugeRPM Number

	Valves *Valves
}

// Valves are the valve events; a two-stroke's ports too. Any may be left out.
type Valves struct {
	IntakeOpensBTDCDeg   Number
	IntakeClosesABDCDeg  Number
	ExhaustOpensBBDCDeg  Number
	ExhaustClosesATDCDeg Number
}

// Injection is what the controller asks for and the air it starts in.
type Injection struct {
	StartBTDCDeg Number // -180 to 180; negative is after TDC
	CrankingRPM  Number
	AirC         Number
	AirKPa       Number
	Cetane       Number
}

// CrankWheel is the sensor wheel on the crankshaft.
type CrankWheel struct {
	Positions         int   // teeth as if none were missing
	Missing           []int // positions without a tooth
	FirstToothBTDCDeg Number
	Sensor            string // "inductive" or "hall"; "" is inductive
}

// CamWheel is the sensor wheel on the camshaft.
type CamWheel struct {
	TeethCamDeg       []float64 // the first is 0; rising, below 360
	FirstToothBTDCDeg Number
	Sensor            string // "inductive" or "hall"; "" is hall
}

// Feature is an angle on the crankshaft as the drawing has it and as it was
// measured.
type Feature struct {
	SeenFrom string   // "nose" or "flywheel"; "" is nose; a reading's own wins
	Drawing  *Reading // nil when not given
	Measured *Reading // nil when not measured
}

// Reading is one measurement of an angle. Method says which fields count; the
// others are not given. What was read several times has its first reading in a
// field of its own and the others in the one named Again; the file has them in one
// list.
type Reading struct {
	Method   string // "angle" (also ""), "degree_wheel", "chord", "arc", "xy" or "photo"
	SeenFrom string // "" takes the feature's
	Side     string // "clockwise" or "anticlockwise"; none for degree_wheel and xy, optional for photo

	AngleDeg      Number // angle: 0 to 180
	AngleAgainDeg []float64
	UDeg          Number // angle; degree_wheel: of each reading

	ThrowDeg       Number // degree_wheel: what it says at each feature, 0 to 360
	ThrowAgainDeg  []float64
	KeywayDeg      Number
	KeywayAgainDeg []float64
	DowelDeg       Number
	DowelAgainDeg  []float64
	Counts         string // degree_wheel: "clockwise" or "anticlockwise", as its numbers grow

	ChordMM        Number // chord, as Over says
	ChordAgainMM   []float64
	Over           string // "centres" (also ""), "outside" or "inside"
	On             string // outside and inside: "key" (also "") or "keyway"
	PinMM          Number // outside and inside: diameter of the dowel or crankpin
	KeyMM          Number // outside and inside: width of the key or keyway
	DowelRadiusMM  Number // of [dowel]
	ThrowRadiusMM  Number // of [keyway]
	KeywayRadiusMM Number
	ArcMM          Number // arc, along a rim
	ArcAgainMM     []float64
	RimRadiusMM    Number
	UMM            Number // chord, arc, xy: of each length
	URadiusMM      Number // chord, arc: of the radii instead
	USizeMM        Number // chord: of pin and key instead

	File   string  // photo, relative to the job
	Taken  string  // photo: the day, as 2026-03-31; format 2
	Mirror string  // photo: how it is known whether it is mirrored, "writing", "rotation" or "mirrored"; "" is not known; format 2
	Centre []Point // xy: one; photo: one or none
	Keyway []Point // xy: one; photo: two
	Dowel  []Point // xy of [dowel]: one; photo: one, or three and more on its edge
	Throw  []Point // the same of [keyway]
	Rim    []Point // photo
	Bolts  []Point // photo
	UPx    Number  // photo
}

// Gears is the train from crank to cam, and the pump's gear that may hang on it.
type Gears struct {
	CrankTeeth  int
	IdlerTeeth  []int
	CamTeeth    int
	CamTeethOut int // positive = cam ahead

	PumpTeeth    int    // of the injection pump's gear; 0: none
	PumpDrivenBy string // "crank", "idler 1", .., "cam"; "": the last wheel before the cam
}

// Evidence is one thing that was seen. Value is a float64, a string or a bool.
type Evidence struct {
	Kind  string
	Value any
	U     Number
}
