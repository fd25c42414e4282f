package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/ripple"
	"pinphase.org/pinphase/timing/wheel"
)

// frame is what is known of where the crank's angle is counted from.
type frame struct {
	fold float64 // the angle after which the crank wheel looks the same
	u    float64 // standard uncertainty: where on a tooth its edge lies
	// between is how far the angle between teeth is uncertain, degrees.
	between float64
}

// countFrom settles where the crank's angle is counted from. A sensor that is not of the
// job's kind passes teeth elsewhere: the angle is then taken half the way between what
// the job's number means by its own kind and by the recorded one.
func (a *Analysis) countFrom(known *Known, r reading) frame {
	f := frame{fold: float64(timing.Turn) / float64(known.Crank.Repeats())}
	pitch := float64(known.Crank.Pitch())
	width := r.shape.width
	if r.sensor == known.CrankSensor {
		if !r.sure && width == width { // teeth may pass at either slope
			known.Crank.FirstToothBTDC += timing.Deg(width * pitch / 2)
			f.u = pitch / 4
			return f
		}
		if !r.sure { // nor how wide a tooth is: none has a neighbour
			away := r.shape.aside() * pitch
			known.Crank.FirstToothBTDC += timing.Deg(away / 2)
			f.u = math.Abs(away) / 2
			a.fault(Fault{Kind: CrankSlope, Value: math.Abs(away), N: 50})
			return f
		}
		switch doubt := 1 - r.hall; {
		case r.sensor == wheel.Hall && r.levels: // a circuit may have made them of an inductive signal, as below
			if width != width {
				width = usualTooth
			}
			known.Crank.FirstToothBTDC += timing.Deg(f.mix(doubt, doubt*width*pitch/2, doubt*5/12*square(width*pitch)))
		case r.sensor == wheel.Hall:
			// The job's word decided: what passed may be the centre after all, as below.
			other := usualTooth * pitch / 4
			known.Crank.FirstToothBTDC += timing.Deg(f.mix(doubt, -doubt*other, doubt*2*other*other))
		default:
			a.eitherSlope(known, r, &f)
			late := r.late * pitch
			known.Crank.FirstToothBTDC += timing.Deg(late)
			f.u = math.Hypot(f.u, lateShare*(math.Abs(late)+r.leans*pitch))
		}
		return f
	}
	if r.levels && r.sensor == wheel.Hall && width == width {
		// A circuit that makes levels of an inductive signal: the tooth's centre passes at
		// the one edge or the other, or midway where the sensor is a Hall sensor after all.
		a.fault(Fault{Kind: SensorUntold})
		known.Crank.FirstToothBTDC += timing.Deg(width * pitch / 2)
		f.u = width * pitch / math.Sqrt(6)
		return f
	}
	a.fault(Fault{Kind: CrankSensorKind, Name: r.sensor.String()})
	if r.sensor == wheel.Inductive || width != width {
		width = usualTooth
	}
	if r.sensor == wheel.Hall { // levels too, which a comparator behind an inductive sensor may have made
		known.Crank.FirstToothBTDC += timing.Deg(width * pitch / 2)
		f.u = width * pitch / math.Sqrt(6)
		return f
	}
	known.Crank.FirstToothBTDC -= timing.Deg(width * pitch / 4) // what passed is the centre, and the leading edge came before it
	f.u = width * pitch / 4
	return f
}

// Settings of what is left open, our assumptions.
const (
	leastOpen = 0.02 // probability from which another place of a tooth counts
	mostUsual = 0.95 // probability of the usual place from which the angle is that one's and not the mean
	lateShare = 1.2  // of how far an edge was moved because its signal is cut off, as its uncertainty
)

// mix allows for a doubt that a tooth passes at another place: mean is how far the place is
// away on average, square the mean of the square. It returns by how much the angle is to be
// moved: by the mean, or not at all where there is little doubt. The standard uncertainty
// is the deviation of all places from the one that is taken, each by its probability.
func (f *frame) mix(doubt, mean, square float64) (move float64) {
	if !(doubt >= leastOpen) {
		return 0
	}
	if math.Round(100*(1-doubt)) < 100*mostUsual { // as it is told
		move = mean
	}
	f.u = math.Hypot(f.u, math.Sqrt(max(square-2*move*mean+move*move, 0)))
	return move
}

// aside is how far the edge of the other slope lies from a tooth's edge, in pitches: of a
// tooth beside the gap, to the nearer side; usualTooth where nothing tells.
func (s shape) aside() float64 {
	switch {
	case s.inGap != s.inGap:
		return usualTooth
	case s.inGap > s.longest/2:
		return s.inGap - s.longest
	}
	return s.inGap
}

// eitherSlope allows for a tooth's middle that passes at the other slope of an inductive
// sensor's signal, or for a Hall sensor after all.
func (a *Analysis) eitherSlope(known *Known, r reading, f *frame) {
	s := r.shape
	away := s.width // from this slope to the other
	if s.inGap > s.longest/2 {
		away--
	}
	away *= float64(known.Crank.Pitch())
	wrong := (1 - r.hall) * (1 - r.right)
	doubt := wrong + r.hall
	if !(doubt >= leastOpen) || away != away {
		return
	}
	known.Crank.FirstToothBTDC += timing.Deg(f.mix(doubt, (wrong+r.hall/2)*away, (wrong+r.hall*(1./4+1./6))*away*away))
	a.fault(Fault{Kind: CrankSlope, Value: math.Abs(away), N: int(math.Round(100 * (1 - doubt)))})
}

// Likely tells of a fault of the kind [CrankSlope] whether the angle is that of the one
// edge, and not the mean.
func (f Fault) Likely() bool { return float64(f.N) >= 100*mostUsual }

// commonPart is the largest angle that goes into both a whole number of times, to a
// thousandth of a degree.
func commonPart(a, b timing.Deg) timing.Deg {
	for b > 1e-3 {
		a, b = b, timing.Deg(math.Mod(float64(a), float64(b)))
		if a-b < 1e-3 {
			b = 0
		}
	}
	return a
}

// usualTooth is the width of a crank tooth in pitches: common practice, no source.
const usualTooth = 0.5

// Speeds rise and fall by so much of their mean with each firing: common practice, no
// source.
const (
	crankingSwing = 0.1
	runningSwing  = 0.02
)

// unseen is how far the angle between teeth may be off because the speed rises and falls
// in less than the teeth show, as a standard deviation in degrees: nothing while several
// teeth pass from firing to firing, all of the swing's angle with two or fewer.
func (k Known) unseen(rpm float64) float64 {
	firing := float64(k.Cycle) / float64(max(k.Scheme.Cylinders(), 1))
	swing := runningSwing
	if rpm < ripple.RunningRPM {
		swing = crankingSwing
	}
	pitch := float64(timing.Turn) / float64(k.Crank.Teeth())
	share := min(max((pitch/firing-0.2)/0.3, 0), 1)
	return share * swing / 2 * firing / (2 * math.Pi) * math.Sqrt2
}

// doubtOf is how far the angle between teeth is uncertain, over all runs.
func doubtOf(clocks []clock) float64 {
	most := 0.0
	for _, k := range clocks {
		if len(k.t) > 8 {
			most = max(most, k.doubt())
		}
	}
	return most
}

// settlePlaces moves runs on a wheel that looks the same several times in a turn to
// where the cam says that they are; parity then keeps whole turns alone. It tells
// whether the crank's angle is known.
func (a *Analysis) settlePlaces(known Known, f frame, clocks []clock, parity []float64) bool {
	n := known.Crank.Repeats()
	if n == 1 {
		return true
	}
	sound := false
	longest := 0
	for i := range clocks {
		if parity[i] != parity[i] {
			continue
		}
		ways := int(math.Round(parity[i] / f.fold))
		part := ((ways % n) + n) % n
		if len(clocks[i].t) > longest {
			longest = len(clocks[i].t)
			a.further = part * known.Crank.Positions / n
		}
		at := slices.Clone(a.Runs[i].At)
		for k := range at {
			at[k] += part * known.Crank.Positions / n
		}
		a.Runs[i].At = at
		clocks[i] = clocks[i].moved(float64(part) * f.fold)
		parity[i] -= float64(part) * f.fold
		sound = true
	}
	kind := WheelByCam
	if !sound {
		kind = WheelRepeats
		if a.Correlation != nil {
			kind = WheelSomewhere
		}
	}
	a.fault(Fault{Kind: kind, N: n, Value: f.fold})
	a.moveBroken(known.Crank.Positions)
	return sound
}

// moveBroken moves broken teeth, which were named before the cam told which of the wheel's
// like parts is which, with the runs.
func (a *Analysis) moveBroken(positions int) {
	if a.further == 0 {
		return
	}
	move := func(position int) int { return (position-1+a.further)%positions + 1 }
	for i, f := range a.Faults {
		if f.Kind == Broken {
			a.Faults[i].N = move(f.N)
		}
	}
	for i, m := range a.Found.Missing {
		a.Found.Missing[i] = move(m)
	}
	slices.Sort(a.Found.Missing)
}
