package figure

import "pinphase.org/pinphase/timing"

// Role is what a shape stands for. A [Style] knows how it looks.
type Role uint8

// The roles.
const (
	None Role = iota
	Surface
	Ink
	Faint // text and lines of the second rank
	Grid
	StrokePower
	StrokeExhaust
	StrokeIntake
	StrokeCompression
	IntakeValve
	ExhaustValve
	Commanded // injection as the controller asks for it
	Actual    // injection as it happens
	Measured
	Ghost // as the drawing has it: dashed
	TDC
	Cursor
	Warning
	Steel // the sensor wheel's body
	Tooth // a tooth that is singled out
	Gap
	Sensor
	Throw
	Keyway
	Nose     // the crankshaft's end face
	Band     // a shade that sets rows or areas apart
	Interval // the 95 % interval of what is measured
	Compared // measured on the other of two parts
	Pressure // of the gas, beside its temperature in ink
	Window   // where fuel lights
	Doubtful // where not every source agrees that it does
	roles    // how many there are
)

// String returns the name used in golden files.
func (r Role) String() string {
	return [...]string{"none", "surface", "ink", "faint", "grid", "power", "exhaust", "intake", "compression",
		"intake-valve", "exhaust-valve", "commanded", "actual", "measured", "ghost", "tdc", "cursor", "warning",
		"steel", "tooth", "gap", "sensor", "throw", "keyway", "nose", "band", "interval", "compared",
		"pressure", "window", "doubtful"}[r]
}

// StrokeRole returns the role of a stroke of the cycle.
func StrokeRole(s timing.Stroke) Role { return StrokePower + Role(s) }
