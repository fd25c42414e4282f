package piston

import (
	"math"
	"slices"
)

// Compression is how a cylinder compresses at one cranking speed: the exponent
// that stands for heat lost to the walls, and the leak (see [Charge]).
type Compression struct {
	Exponent float64
	LogLeak  float64
}

// Gauge is a compression gauge's reading. The check valve in its stem keeps the
// highest pressure of several strokes; the gauge shows it over the air outside.
// The volume of the gauge's adapter, which adds to the clearance and lowers the
// reading, is not allowed for.
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

// Explain splits a reading into heat and leak for a charge, whose own exponent
// only shapes the leak's course. One number cannot tell the two apart, so a model
// does: exponent is what heat alone is thought to leave, and isentropic the most
// there can be. Where the reading asks for less than exponent, the rest has
// leaked; where it asks for more, the cylinder is tight and loses less heat than
// thought.
func (g Gauge) Explain(c Charge, exponent, isentropic float64) (Compression, Reading) {
	return g.explain(c.AtClosing.Bar, c.ClosedRatio(), c.lead(), exponent, isentropic)
}

func (g Gauge) explain(barAtClosing, closedRatio, lead, exponent, isentropic float64) (Compression, Reading) {
	tight := g.Exponent(barAtClosing, closedRatio)
	switch {
	case tight > isentropic:
		return Compression{Exponent: isentropic}, BeyondAirtight
	case tight >= exponent:
		return Compression{Exponent: tight}, TightReading
	}
	exponent = min(exponent, isentropic)
	// No gauge reads below the air it draws: a reading under that is all leak.
	lost := (1 - max(tight, 0)/exponent) * math.Log(closedRatio)
	// A leaking cylinder has its highest pressure a little before top dead centre,
	// where LogLeak - lead LogLeak^2 is lost.
	return Compression{exponent, 2 * lost / (1 + math.Sqrt(max(1-4*lead*lost, 0)))}, LeakReading
}

// lead is how much of a leak's square the highest pressure is spared: round top
// dead centre ln(compression) falls as bend/2 alpha^2 and the leak grows evenly,
// by steep a radian, so the highest point gains (LogLeak steep)^2/(2 bend).
func (c Charge) lead() float64 {
	c.LogLeak = 0
	p := c.Path()
	i, _ := slices.BinarySearch(p.at, 0)
	steep := (p.leak[i+1] - p.leak[i-1]) / (p.at[i+1] - p.at[i-1]).Radians()
	bend := (c.Ratio - 1) * c.Motion(0).BendMM / c.TravelMM()
	return steep * steep / (2 * bend)
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
