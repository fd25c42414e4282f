package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// What stands in where the job is silent, and how surely it and what the job says
// are known (standard uncertainties). Our assumptions, no source, but where one is
// named.
const (
	defaultAirC    = 15.0
	defaultAirU    = 8.0
	givenAirU      = 2.0
	defaultAirKPa  = 101.3
	airShareU      = 0.03 // of the pressure at closing: valves and a slow start
	heatingC       = 10.0 // by walls and left-over gas until the cylinder closes
	heatingU       = 7.0
	defaultCetane  = 50.0 // EN 590 asks for 51, ASTM D975 for 40 (the latter from memory)
	defaultCetaneU = 4.0
	givenCetaneU   = 2.0
	rpmShareU      = 0.05 // of the cranking speed
	phiLow         = 0.4  // fuel at cranking over what the air could burn
	phiHigh        = 0.8
	scatterU       = 0.3  // of the logarithm of a delay, within one correlation
	givenExponentU = 0.02 // of an exponent the job names

	closesABDC4, opensBBDC4 = 40.0, 50.0 // four-stroke
	closesABDC2, opensBBDC2 = 60.0, 85.0 // two-stroke, ports
)

// lightBasis is what a light-off estimate rests on.
type lightBasis struct {
	charge            piston.Charge
	running           piston.Running
	isentropic        float64
	gauge             *piston.Gauge
	reading           piston.Reading
	heat              float64 // exponent before the gauge spoke
	doubt             piston.Doubt
	commanded, actual timing.Deg // before top dead centre
	wheel             timing.Measured
	errs              errorsOf // what the wheel error stands on
	seenRPM           bool     // the cranking speed is what was seen, not what a healthy starter gives
	airC, ambientBar  float64
	cam               timing.Deg // ahead of where it belongs
	cycle             timing.Deg
	given             struct{ air, kpa, cetane, closes, opens, exponent bool }
	idleGaugeRPM      bool // a gauge's speed without its reading
}

// basisOf collects what the estimate needs. What is missing and cannot be
// assumed is reported all at once.
func basisOf(j job.Job, o LightOptions) (lightBasis, error) {
	e, err := engineOf(j)
	if err != nil {
		return lightBasis{}, err
	}
	in := j.Injection
	if in == nil {
		in = &job.Injection{}
	}
	ratio, rpm := withOption(j.Engine.CompressionRatio, o.Ratio), withOption(in.CrankingRPM, o.RPM)
	var faults job.Faults
	for _, need := range []struct {
		key string
		say phrase.Text
		n   job.Number
	}{
		{"engine.bore_mm", "missing; the ignition estimate needs the bore", j.Engine.BoreMM},
		{"engine.stroke_mm", "missing; the ignition estimate needs the stroke, twice the crank radius", j.Engine.StrokeMM},
		{"engine.rod_mm", "missing; the ignition estimate needs the connecting rod length between centres", j.Engine.RodMM},
		{"engine.compression_ratio", "missing; the ignition estimate needs the compression ratio", ratio},
		{"injection.start_btdc_deg", "missing; give the start of injection commanded, in degrees before TDC", in.StartBTDCDeg},
		{"injection.cranking_rpm", "missing; the ignition estimate needs the cranking speed", rpm},
	} {
		if !need.n.Given {
			faults = append(faults, missing(need.key, need.say)...)
		}
	}
	seenRPM := false
	if v, ok := seenNumber(j, "cranking_rpm"); ok && v > 0 && o.RPM == nil && !j.Supposed.Has(supposedRPM) {
		rpm, seenRPM = job.Num(v), true
	}
	errs, err := wheelErrorOf(j)
	if more, ok := err.(job.Faults); ok && o.WheelErrorDeg == nil {
		faults = append(faults, more...)
	} else if err != nil && o.WheelErrorDeg == nil {
		return lightBasis{}, err
	}
	if len(faults) > 0 {
		return lightBasis{}, faults
	}
	b := lightBasis{wheel: errs.wheel, errs: errs, seenRPM: seenRPM, cycle: e.Cycle(), commanded: timing.Deg(in.StartBTDCDeg.Value)}
	if o.WheelErrorDeg != nil {
		b.wheel = timing.Measured{Value: timing.Deg(*o.WheelErrorDeg)}
		b.errs = errorsOf{wheel: b.wheel, basis: known.Supposed, gear: errs.gear}
	}
	b.actual = b.commanded + b.wheel.Value
	b.cam = camError(j, errs.gear.Value)
	b.closed(j, e, ratio.Value)
	b.air(in, o, rpm.Value)
	b.compression(j, rpm.Value)
	return b, b.charge.Check()
}

func withOption(n job.Number, o *float64) job.Number {
	if o != nil {
		return job.Num(*o)
	}
	return n
}

// camError is how far the cam is ahead: with its gear, and by teeth it is out.
func camError(j job.Job, gear timing.Deg) timing.Deg {
	if g := j.Gears; g != nil && g.CrankTeeth > 0 {
		gear += timing.Deg(g.CamTeethOut) * timing.Turn / timing.Deg(g.CrankTeeth)
	}
	return gear
}

// closed finds the closed part of the cycle: from the closing of the intake (of
// a two-stroke the last of its ports) to the opening of the exhaust, both moved
// with the cam.
func (b *lightBasis) closed(j job.Job, e engine, ratio float64) {
	v := j.Engine.Valves
	if v == nil {
		v = &job.Valves{}
	}
	closes, opens := closesABDC4, opensBBDC4
	if e.Strokes() == 2 {
		closes, opens = closesABDC2, opensBBDC2
	}
	b.given.closes, b.given.opens = v.IntakeClosesABDCDeg.Given, v.ExhaustOpensBBDCDeg.Given
	shut := timing.Deg(v.IntakeClosesABDCDeg.Or(closes)) - 180
	if e.Strokes() == 2 && v.ExhaustClosesATDCDeg.Given {
		b.given.closes = true
		exhaust := timing.Deg(v.ExhaustClosesATDCDeg.Value) - timing.Turn
		if !v.IntakeClosesABDCDeg.Given || exhaust > shut {
			shut = exhaust
		}
	}
	open := 180 - timing.Deg(v.ExhaustOpensBBDCDeg.Or(opens))
	b.charge.Closes = min(max(shut-b.cam, -270), -1)
	b.charge.Opens = min(max(open-b.cam, 1), 270)
	b.charge.Cylinder = piston.Cylinder{SliderCrank: *e.linkage, BoreMM: j.Engine.BoreMM.Value, Ratio: ratio}
}

// air fills in what the cylinder draws and how it runs.
func (b *lightBasis) air(in *job.Injection, o LightOptions, rpm float64) {
	air := withOption(in.AirC, o.AirC)
	b.given.air, b.given.kpa, b.given.cetane = air.Given, in.AirKPa.Given, in.Cetane.Given
	b.airC = air.Or(defaultAirC)
	b.ambientBar = in.AirKPa.Or(defaultAirKPa) / 100
	b.charge.AtClosing = piston.Gas{K: b.airC + heatingC + 273.15, Bar: b.ambientBar}
	b.running = piston.Running{
		RPM: rpm, MeanPistonMS: b.charge.MeanSpeedMS(rpm), Cetane: in.Cetane.Or(defaultCetane),
		Phi: (phiLow + phiHigh) / 2, CetanePower: 1,
	}
	airU, cetaneU := defaultAirU, defaultCetaneU
	if b.given.air {
		airU = givenAirU
	}
	if b.given.cetane {
		cetaneU = givenCetaneU
	}
	b.doubt = piston.Doubt{
		K: math.Hypot(airU, heatingU), BarShare: airShareU, GaugeBar: piston.GaugeUBar, RPMShare: rpmShareU,
		Cetane: cetaneU, Scatter: scatterU, PhiLow: phiLow, PhiHigh: phiHigh, SprayK: piston.SprayKSpread,
	}
}

// compression settles exponent and leak, from the gauge when there is one.
func (b *lightBasis) compression(j job.Job, rpm float64) {
	ratio := b.charge.ClosedRatio()
	if ratio <= 1 { // closed at top dead centre: there is nothing to compress
		ratio = 1 + 1e-6
	}
	b.isentropic = piston.DryAir.Exponent(b.charge.AtClosing.K, ratio)
	b.given.exponent = j.Engine.PolytropicExponent.Given
	b.heat = min(j.Engine.PolytropicExponent.Or(piston.DefaultExponent), b.isentropic)
	b.doubt.Exponent = piston.DefaultExponentU
	if b.given.exponent {
		b.doubt.Exponent = givenExponentU
	}
	b.charge.Exponent = b.heat
	b.idleGaugeRPM = j.Engine.CompressionGaugeRPM.Given && !j.Engine.CompressionGaugeBar.Given
	read := j.Engine.CompressionGaugeBar
	if v, ok := seenNumber(j, "compression_bar"); ok && v > 0 && !read.Given {
		read = job.Num(v)
	}
	if !read.Given {
		return
	}
	g := piston.Gauge{Bar: read.Value, AmbientBar: b.ambientBar, RPM: j.Engine.CompressionGaugeRPM.Or(rpm)}
	b.gauge = &g
	at, reading := g.Explain(b.charge, b.heat, b.isentropic)
	b.reading = reading
	here := at.Carried(g.RPM, rpm, b.isentropic, piston.HeatPower)
	b.charge.Exponent, b.charge.LogLeak = here.Exponent, here.LogLeak
}

// start is a start of injection as a cylinder's own angle round firing TDC.
func (b lightBasis) start(btdc timing.Deg) timing.Deg { return timing.WrapSigned(-btdc, b.cycle) }
