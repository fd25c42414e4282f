package piston

import "math"

// Compression is how a cylinder compresses at one cranking speed: the exponent
// that stands for heat lost to the walls, and the leak (see [Charge]).
type Compression struct {
	Exponent float64
	LogLeak  float64
}

// Gauge is a compression gauge's reading. The check valve in its stem keeps the
// highest pressure of several strokes; the gauge shows it over the air outside.
type Gauge struct {
	Bar        float64 // as read: absolute less AmbientBar
	AmbientBar float64
	RPM        float64 // at which it was taken
}

// GaugeUBar is the standard uncertainty of a workshop gauge: one that reads to
// 70 bar and may be off by 1.6 % of that, anywhere within (EN 837-1 has such a
// class; from memory), 1.12/sqrt(3).
const GaugeUBar = 0.65

// Reading says what a gauge comes to.
type Reading int

// The readings.
const (
	TightReading   Reading = iota // heat alone explains it
	LeakReading                   // lower than the exponent looked for: the rest leaks
	BeyondAirtight                // higher than air can get in a tight cylinder that loses no heat
)

// Exponent returns the exponent of a tight cylinder that would show this
// reading: from barAtClosing to the gauge's absolute pressure over closedRatio.
func (g Gauge) Exponent(barAtClosing, closedRatio float64) float64 {
	return math.Log((g.Bar+g.AmbientBar)/barAtClosing) / math.Log(closedRatio)
}

// Explain splits a reading into heat and leak. One number cannot tell the two
// apart, so a model does: exponent is what heat alone is thought to leave, and
// isentropic the most there can be. Where the reading asks for less than
// exponent, the rest has leaked; where it asks for more, the cylinder is tight
// and loses less heat than thought. Splitting is done at top dead centre; the
// highest pressure of a leaking cylinder lies a little before it and is some
// tenths of a per cent higher.
func (g Gauge) Explain(barAtClosing, closedRatio, exponent, isentropic float64) (Compression, Reading) {
	tight := g.Exponent(barAtClosing, closedRatio)
	switch {
	case tight > isentropic:
		return Compression{Exponent: isentropic}, BeyondAirtight
	case tight >= exponent:
		return Compression{Exponent: tight}, TightReading
	}
	exponent = min(exponent, isentropic)
	// No gauge reads below the air it draws: a reading under that is all leak.
	gained := max(tight, 0) * math.Log(closedRatio)
	return Compression{exponent, math.Log(closedRatio) - gained/exponent}, LeakReading
}

// The power of speed with which the heat lost on one compression falls when the
// engine turns faster. In a strongly stirred charge the walls take heat as speed
// to the 0.8 (as in Woschni 1967; from memory) and the time goes with 1/speed,
// which leaves 0.2; a charge at rest would come near 1. Cranking lies between:
// our assumption, evenly anywhere from HeatPowerLow to HeatPowerHigh.
const (
	HeatPowerLow  = 0.2
	HeatPowerHigh = 0.8
	HeatPower     = (HeatPowerLow + HeatPowerHigh) / 2
)

// Carried takes a compression from one cranking speed to another: the leak goes
// with the time it has, 1/rpm; what the exponent lacks to isentropic falls with
// rpm to the power given.
func (c Compression) Carried(fromRPM, toRPM, isentropic, power float64) Compression {
	slower := fromRPM / toRPM
	lacks := (isentropic - c.Exponent) * math.Pow(slower, power)
	return Compression{Exponent: max(isentropic-lacks, 1), LogLeak: c.LogLeak * slower}
}
