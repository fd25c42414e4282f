package trace

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// findCam finds the cam sensor's channel, places its edges and matches them to the
// job's wheel. It returns for each run what must be added to its angle to be that
// of the whole cycle, NaN where that is not known.
func (c *Collector) findCam(a *Analysis, known Known, clocks []clock, crank reading, sampleDeg float64, sound bool) []float64 {
	parity := make([]float64, len(clocks))
	for i := range parity {
		parity[i] = math.NaN()
		if known.Cycle == timing.Turn {
			parity[i] = 0
		}
	}
	if known.Cam == nil {
		a.fault(Fault{Kind: NoCamWheel})
		return parity
	}
	longest := 0
	for i, k := range clocks {
		if len(k.t) > len(clocks[longest].t) {
			longest = i
		}
	}
	best := camReading{channel: -1}
	for i := range c.channels {
		if i == crank.channel || a.Channels[i].Flat || known.CamName != "" && !c.called(i, known.CamName) {
			continue
		}
		if known.CamName == "" && a.Channels[i].ByName != Unknown && a.Channels[i].ByName != CamSensor && a.Channels[i].ByName != CrankSensor {
			continue
		}
		r := readCam(&c.channels[i], i, clocks[longest], *known.Cam, known.CamSensor, sampleDeg)
		if !r.ok { // as the other sensor's, to say so
			if o := readCam(&c.channels[i], i, clocks[longest], *known.Cam, wheel.Inductive+wheel.Hall-known.CamSensor, sampleDeg); o.ok {
				r = o
			}
		}
		if r.seen == 0 {
			continue
		}
		if best.channel < 0 || r.ok && !best.ok || r.ok == best.ok && r.match.matched > best.match.matched {
			best = r
		}
	}
	if best.channel < 0 || !best.ok && best.seen > 3*len(known.Cam.Teeth)+3 {
		a.fault(Fault{Kind: NoCamChannel})
		return parity
	}
	ch := &a.Channels[best.channel]
	switch signal := &c.channels[best.channel]; {
	case best.sensor == wheel.Inductive && signal.kind() == twoStep:
		best.sensor = wheel.Hall
	case best.sensor == wheel.Hall && signal.pulses():
		best.sensor = wheel.Inductive
	}
	ch.Role, ch.Sensor, ch.Rising = CamSensor, best.sensor, best.rising
	if ch.ByName == CrankSensor {
		a.fault(Fault{Kind: Swapped, Name: c.label(best.channel), Other: string(CamSensor)})
	}
	a.CamTeeth, a.CamCycles = best.match.teeth, best.match.cycles
	if !best.ok {
		a.fault(Fault{Kind: CamDiffers, N: best.seen, Of: len(known.Cam.Teeth)})
		return parity
	}
	if n := best.match.matched; n < len(known.Cam.Teeth) {
		a.fault(Fault{Kind: CamTeethMissing, N: n, Of: len(known.Cam.Teeth)})
	}
	if n := best.seen - best.match.matched; n > 0 {
		a.fault(Fault{Kind: CamTeethExtra, N: n})
	}
	if best.match.ambiguous {
		a.fault(Fault{Kind: CamAmbiguous})
		return parity
	}
	usable := sound
	if best.sensor != known.CamSensor {
		a.fault(Fault{Kind: CamSensorKind, Name: best.sensor.String()})
		usable = false
	} else if !best.sure {
		a.fault(Fault{Kind: CamPolarity})
		usable = false
	}
	if usable {
		a.Correlation = &timing.Measured{Value: timing.Deg(best.match.late), U: timing.Deg(best.match.u)}
	}
	if best.match.eitherWay {
		return parity
	}
	for i, k := range clocks {
		teeth, _ := camTeeth(k, best.edges, float64(known.Cycle))
		if m, ok := matchCam(teeth, *known.Cam); ok && !m.eitherWay && !m.ambiguous {
			parity[i] = m.shift
		}
	}
	return parity
}
