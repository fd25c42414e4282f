package trace

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// findCam finds the cam sensor's channel, places its edges and matches them to the
// job's wheel. It returns for each run what must be added to its angle to be that
// of the whole cycle, NaN where that is not known.
func (c *Collector) findCam(a *Analysis, known Known, clocks []clock, crank int, sampleDeg float64, f frame) []float64 {
	parity := make([]float64, len(clocks))
	for i := range parity {
		parity[i] = math.NaN()
		if known.Cycle == timing.Deg(f.fold) {
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
	best := c.bestCam(a, known, clocks[longest], crank, sampleDeg, f)
	if best.channel < 0 || !best.ok && best.seen > 3*len(known.Cam.Teeth)+3 {
		a.fault(Fault{Kind: NoCamChannel})
		return parity
	}
	ch := &a.Channels[best.channel]
	ch.Role, ch.Sensor, ch.Hall, ch.Rising = CamSensor, best.sensor, best.hall, best.rising
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
	a.correlate(known, best, f)
	if best.match.eitherWay || !best.turnSure(f, known.Cycle) {
		return parity
	}
	for i, k := range clocks {
		teeth, _ := camTeeth(k, best.edges, float64(known.Cycle))
		if m, ok := matchCam(teeth, *known.Cam, f); ok && !m.eitherWay && !m.ambiguous {
			parity[i] = m.shift
		}
	}
	return parity
}

// bestCam is the channel that shows the job's cam wheel best; its channel is -1 where
// none shows anything.
func (c *Collector) bestCam(a *Analysis, known Known, k clock, crank int, sampleDeg float64, f frame) camReading {
	best := camReading{channel: -1}
	for i := range c.channels {
		if i == crank || a.Channels[i].Flat || known.CamName != "" && !c.called(i, known.CamName) {
			continue
		}
		if known.CamName == "" && a.Channels[i].ByName != Unknown && a.Channels[i].ByName != CamSensor && a.Channels[i].ByName != CrankSensor {
			continue
		}
		r := readCam(&c.channels[i], i, k, *known.Cam, known.CamSensor, f, sampleDeg, c.first)
		if r.seen == 0 {
			continue
		}
		if best.channel < 0 || r.ok && !best.ok || r.ok == best.ok && r.match.matched > best.match.matched {
			best = r
		}
	}
	return best
}

// turnSure tells whether the turn of the cycle is the same whichever slope begins a tooth.
// Of a tooth that is half the wheel wide the one lies a whole turn after the other.
func (r camReading) turnSure(f frame, cycle timing.Deg) bool {
	if r.sure {
		return true
	}
	late := r.match.late - r.match.shift // not wrapped
	for _, away := range []float64{r.begun, -r.ended} {
		shift := signed(late+away, min(float64(cycle), f.fold)) - (late + away)
		if away != away || math.Abs(signed(shift-r.match.shift, float64(cycle))) > 1 {
			return false
		}
	}
	return true
}

// otherSensor is how much later the tooth of the job passes than the edge that was
// placed, where the sensor is not of the job's kind, and how far that may be off: what
// the job's numbers mean by its own kind, by the recorded one, and where a comparator
// behind an inductive sensor switches all lie within it.
func (r camReading) otherSensor(known Known) (shift, spread float64) {
	tooth := widestTooth(*known.Cam)
	if r.sensor == wheel.Inductive { // the centre was placed, the leading edge comes first
		return -tooth / 4, tooth / 4
	}
	// A comparator switches back at the tooth's centre: at the end of the shorter level, which
	// begins where the sensor begins to see the tooth.
	switch {
	case r.begun <= r.ended:
		begun := min(r.begun, 2*tooth)
		return begun / 2, begun / 2 / math.Sqrt2
	case r.ended < r.begun:
		ended := min(r.ended, tooth)
		return -ended / 4, ended / 4
	}
	width := float64(usualCamTooth.Crank(known.Cam.Cycle))
	return 0, width / 2
}

// widestTooth is how wide a tooth of a cam wheel is at most, crank degrees.
func widestTooth(w wheel.Cam) float64 {
	return float64(min(w.Narrowest()/2, usualCamTooth).Crank(w.Cycle))
}

// correlate tells the correlation error. Where the sensor is not the job's kind, it is
// known less surely.
func (a *Analysis) correlate(known Known, r camReading, f frame) {
	u := math.Hypot(r.match.u, f.u)
	late := r.match.late
	if r.sensor != known.CamSensor {
		a.fault(Fault{Kind: CamSensorKind, Name: r.sensor.String()})
		shift, spread := r.otherSensor(known)
		late += shift
		u = math.Hypot(u, spread)
	} else if !r.sure {
		a.fault(Fault{Kind: CamPolarity})
		return
	} else if r.levels {
		shift, spread := r.levelDoubt(*known.Cam)
		late += shift
		u = math.Hypot(u, spread)
	} else if doubt := 1 - r.hall; r.sensor == wheel.Hall { // the job's word decided: it may be the centre that passed
		var mixed frame
		other := widestTooth(*known.Cam) / 4
		late += mixed.mix(doubt, -doubt*other, doubt*2*other*other)
		u = math.Hypot(u, mixed.u)
	}
	if s := r.match.sampling; s > math.Hypot(camFloorU, wheelFloorU) { // more than sensors and wheels
		a.fault(Fault{Kind: Sampling, Value: s})
	}
	a.Correlation = &timing.Measured{Value: timing.WrapSigned(timing.Deg(late), min(timing.Deg(f.fold), known.Cycle)), U: timing.Deg(u)}
}

// usualCamTooth is how wide a cam tooth is where nothing tells: common practice, no
// source.
const usualCamTooth timing.CamDeg = 8
