package trace

import (
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace/samples"
)

// Errors of a recording that can be read and proves nothing.
var (
	ErrFlat     = phrase.Errorf("no channel moves: the recording is flat")
	ErrTooShort = phrase.Errorf("the recording is too short: two crankshaft turns with the gap are needed")
	ErrNoGap    = phrase.Errorf("no channel shows a wheel with a gap")
)

// Kind is what a [Fault] is about.
type Kind string

// The kinds. Those of the first group leave something unknown.
const (
	WheelDiffers    Kind = "wheel differs"                 // Found is not the job's
	WheelEither     Kind = "wheel differs or is broken"    // Found is not the job's, N percent; else Of teeth of the job's are broken
	WheelMirrored   Kind = "wheel back to front"           // Found is the job's seen from the other side
	WheelRepeats    Kind = "wheel repeats"                 // N times in a turn
	WheelByCam      Kind = "wheel repeats, cam tells"      // N times in a turn, Value degrees apart
	WheelSomewhere  Kind = "wheel repeats, place not told" // the same; the cam looks the same too
	CrankSensorKind Kind = "crank sensor differs"          // Name is what it looks like
	NoCamWheel      Kind = "no cam wheel in job"           //
	NoCamChannel    Kind = "no cam channel"                //
	CamDiffers      Kind = "cam differs"                   // N teeth seen, Of in the job
	CamAmbiguous    Kind = "cam ambiguous"                 //
	CamSensorKind   Kind = "cam sensor differs"            // Name
	CamPolarity     Kind = "cam polarity"                  // which slope begins a tooth cannot be told
	NoGeometry      Kind = "no geometry"                   // bore, stroke, rod, ratio missing
	NoRipple        Kind = "no ripple"                     // the speed does not ripple enough, or not like compression
	Running         Kind = "running"                       // Value rpm
	RippleSides     Kind = "ripple ambiguous"              // fits in two places
	StrangeRipple   Kind = "ripple strange"                // has not compression's shape: top dead centre is near where the crank is slowest
	FewCycles       Kind = "few cycles"                    // N
	CoarseWheel     Kind = "wheel too coarse"              // too few teeth between firings for top dead centre
	UnlikelyRipple  Kind = "ripple unlikely"               // fits only with what no such engine has
	BentTooth       Kind = "tooth bent"                    // N is the position, Value degrees late
	TurnUnknown     Kind = "turn unknown"                  // half-turned cam cannot be told
	Unidentified    Kind = "unidentified"                  // Name: a channel that is not used
	Dead            Kind = "dead"                          // Name: a channel that does not move
	Swapped         Kind = "swapped"                       // Name is the Other sensor, though its name says the opposite
	TwoCranks       Kind = "two cranks"                    // Name is used, Other is alike
	Broken          Kind = "tooth broken"                  // N is its position
	BrokenSomewhere Kind = "tooth broken, place not told"  //
	Lost            Kind = "tooth lost"                    // Time, N of them
	Extra           Kind = "edge too many"                 // Time, N of them
	Thread          Kind = "thread lost"                   // N stretches
	CamTeethMissing Kind = "cam teeth missing"             // N of Of seen
	CamTeethExtra   Kind = "cam edges too many"            // N
	TimeUnit             = Kind(samples.TimeUnit)          // Value seconds
	BadRows              = Kind(samples.BadRows)           // N, Of is the first one's line
	Wrapped         Kind = "samples wrapped"               // Name, N
	OutOfRange      Kind = "samples out of range"          // Name, N
	Clipped         Kind = "voltage cut off"               // Name, Value its level, N percent of the samples; edges are whole
	ClippedEdges    Kind = "edges cut off"                 // the same; edges are not whole
	CrankSlope      Kind = "crank slope"                   // Value degrees from one to the other, N percent that it is the one used
	HalfTurned      Kind = "half turn"                     // the cam is half a turn out
	WeakCylinder    Kind = "weak cylinder"                 // N, Value over the strongest
	PressureDiffers Kind = "pressure differs"              // Value degrees from what the ripple says
	OddSpeed        Kind = "odd speed"                     // Value rpm
	CoarseTime      Kind = "sampled too coarsely"          // Value degrees
	LevelChanges    Kind = "level changes"                 // the file has no samples but changes of level
	Glitches        Kind = "glitches"                      // Name, N taken out
	Coupled         Kind = "coupled"                       // Name, Value milliseconds: levels behind a capacitor
	SensorUntold    Kind = "sensor not told"               // levels: the job's word is taken for the sensor
	Sampling        Kind = "sampling"                      // Value degrees that it adds to the correlation's uncertainty, more than sensors and wheels do
	CutOff               = Kind(samples.CutOff)            // Value seconds
	CutShort        Kind = "only its first part"           // Value seconds
)

// Fault is something about a recording that must be said: why a result is
// missing, or what is odd. Which fields count, its kind says.
type Fault struct {
	Kind  Kind
	Name  string
	Other string
	N, Of int
	Time  float64 // seconds
	Value float64
	Found Pattern
}

// Noted are the faults that the reading of a file notes.
func Noted(notes []samples.Note) []Fault {
	var list []Fault
	for _, n := range notes {
		list = append(list, Fault{Kind: Kind(n.Kind), N: n.N, Of: n.Of, Value: n.Value})
	}
	return list
}

// Kinds returns every kind.
func Kinds() []Kind {
	return []Kind{WheelDiffers, WheelEither, WheelMirrored, WheelRepeats, WheelByCam, WheelSomewhere, CrankSensorKind, NoCamWheel, NoCamChannel, CamDiffers, CamAmbiguous, CamSensorKind,
		CamPolarity, NoGeometry, NoRipple, Running, RippleSides, StrangeRipple, FewCycles, CoarseWheel, UnlikelyRipple, BentTooth, TurnUnknown, Unidentified, Dead, Swapped, TwoCranks, Broken, BrokenSomewhere, Lost, Extra, Thread,
		CamTeethMissing, CamTeethExtra, TimeUnit, BadRows, Wrapped, OutOfRange, Clipped, ClippedEdges, CrankSlope, HalfTurned, WeakCylinder, PressureDiffers, OddSpeed, CoarseTime, CutShort,
		LevelChanges, Glitches, Coupled, SensorUntold, Sampling, CutOff}
}
