package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// Known is what the job says of the engine a recording was taken on.
type Known struct {
	Cycle       timing.Deg
	Crank       wheel.Crank
	CrankSensor wheel.Sensor
	Cam         *wheel.Cam // nil: the job has none
	CamSensor   wheel.Sensor
	Scheme      timing.Scheme
	Engine      *Engine // nil: the job lacks bore, stroke, rod or compression ratio
	CrankTeeth  int     // of the crank gear; 0: not known

	// Channels the user has named, by name or by number from 1; "": found by what
	// they show.
	CrankName, CamName string
}

// Analysis is what a recording proves.
type Analysis struct {
	Seconds     float64
	SampleS     float64 // seconds between samples
	Channels    []Channel
	Found       *Pattern       // the crank wheel as recorded; nil when none was found
	Readings    []WheelReading // of the crank wheel where more than one explains the recording, Found first; else none
	Runs        []Run
	Slips       []Slip
	Revolutions float64
	RPM         float64 // mean

	CamTeeth    []CamTooth
	CamCycles   float64
	Correlation *timing.Measured // delta - gamma; nil: not known
	// CorrelationModulo is up to multiples of what the correlation is known: the cycle,
	// or a turn where a cam that is half a turn out makes the same recording.
	CorrelationModulo timing.Deg
	Ripple            *Ripple          // nil: not known
	Pressure          *timing.Measured // the controller's angle at true top dead centre by a cylinder's pressure
	TDC               *timing.Measured // the best of both
	Narrowed          []Narrowing      // what other channels add to it
	Modulo            timing.Deg       // TDC is known up to multiples of this
	HalfTurn          *bool            // the cam is half a turn out (the correlation then says so); nil: not known

	Faults []Fault

	further int     // positions by which the cam moved the longest run on a wheel of like parts
	clocks  []clock // of the runs, moved onto the cycle where told
	told    []bool
}

func (a *Analysis) fault(f Fault) { a.Faults = append(a.Faults, f) }

// sureSupport is the share of a recording that must agree on a wheel which is not
// the job's: noise can look like one now and then.
const sureSupport = 0.95

// leastTurns of the crank must be followed.
const leastTurns = 2.0

// Analyse finds out what the recording proves. It is [ErrFlat], [ErrTooShort] or
// [ErrNoGap] when it proves nothing; what else cannot be known is nil in the
// result, with a fault that says why.
func (c *Collector) Analyse(known Known) (*Analysis, error) {
	a := &Analysis{Seconds: c.last - c.first}
	if c.count < 2 || !(a.Seconds > 0) {
		return nil, ErrTooShort
	}
	for _, name := range []string{known.CrankName, known.CamName} {
		if name != "" && !slices.ContainsFunc(c.indices(), func(i int) bool { return c.called(i, name) }) {
			return nil, c.noChannel(name)
		}
	}
	a.SampleS = a.Seconds / float64(c.count-1)
	if c.stepped {
		a.SampleS = 0
		a.fault(Fault{Kind: LevelChanges})
	}
	c.describe(a)
	crank, err := c.findCrank(a, known)
	if err != nil {
		return nil, err
	}
	if crank.turns < leastTurns { // a wheel, but not the job's
		return a, nil
	}
	a.Runs, a.Slips = slices.Clone(crank.path.Runs), crank.path.Slips
	c.tellSlips(a)
	frame := a.countFrom(&known, crank)
	if crank.sensor == wheel.Inductive {
		straighten(a.Runs, crank.wheel)
	}
	var time float64
	clocks := make([]clock, len(a.Runs))
	for i, r := range a.Runs {
		clocks[i] = clockOf(r, known.Crank)
		a.Revolutions += r.Turns(known.Crank.Positions)
		time += r.Time[len(r.Time)-1] - r.Time[0]
	}
	a.RPM = a.Revolutions / time * 60
	if a.RPM < 20 || a.RPM > 8000 {
		a.fault(Fault{Kind: OddSpeed, Value: a.RPM})
	}
	sampleDeg := a.SampleS * a.RPM * 6
	if sampleDeg > 1 {
		a.fault(Fault{Kind: CoarseTime, Value: sampleDeg})
	}
	frame.between = math.Hypot(doubtOf(clocks), known.unseen(a.RPM))
	frame.u = math.Hypot(frame.u, frame.between)
	parity := c.findCam(a, known, clocks, crank.channel, sampleDeg, frame)
	sound := a.settlePlaces(known, frame, clocks, parity)
	if len(crank.ways) > 0 {
		a.untold(parity)
		sound = false
	}
	for i, k := range clocks {
		told := parity[i] == parity[i]
		if told {
			k = k.moved(parity[i])
		}
		a.clocks, a.told = append(a.clocks, k), append(a.told, told)
	}
	if sound {
		whole := known.Crank.Missing
		known.Crank.Missing = a.Found.Missing // broken teeth are no lost ones
		c.findTDC(a, known, clocks, parity)
		known.Crank.Missing = whole
		if a.TDC != nil {
			a.TDC.U = timing.Deg(math.Hypot(float64(a.TDC.U), frame.u))
			if frame.fold < float64(timing.Turn) { // the place on the wheel is known up to that as well
				a.Modulo = commonPart(a.Modulo, timing.Deg(frame.fold))
				a.TDC.Value = timing.WrapSigned(a.TDC.Value, a.Modulo)
			}
		}
	}
	a.settleCorrelation(known.Cycle, timing.Deg(frame.fold))
	for i, ch := range a.Channels {
		switch {
		case ch.Flat:
			a.fault(Fault{Kind: Dead, Name: c.label(i)})
		case ch.Role == Unknown:
			a.fault(Fault{Kind: Unidentified, Name: c.label(i)})
		}
	}
	return a, nil
}

// settleCorrelation brings the correlation error into half a cycle either way where
// it is known whether the cam is half a turn out, else into half a turn either way.
func (a *Analysis) settleCorrelation(cycle, fold timing.Deg) {
	if a.Correlation == nil {
		return
	}
	a.CorrelationModulo = cycle
	if fold < timing.Turn {
		a.CorrelationModulo = fold
		a.Correlation.Value = timing.WrapSigned(a.Correlation.Value, fold)
		return
	}
	if cycle == timing.Turn {
		return
	}
	switch {
	case a.HalfTurn == nil:
		a.CorrelationModulo = timing.Turn
	case *a.HalfTurn:
		a.Correlation.Value = timing.WrapSigned(a.Correlation.Value-timing.Turn, cycle)
	}
}

// CamError returns gamma, how far the cam is ahead: the TDC offset less the
// correlation error, known modulo the firing interval; nil where either is not
// known.
func (a *Analysis) CamError() *timing.Measured {
	if a.TDC == nil || a.Correlation == nil {
		return nil
	}
	gamma := a.TDC.Minus(*a.Correlation)
	if a.HalfTurn != nil && *a.HalfTurn {
		gamma.Value = timing.WrapSigned(timing.WrapSigned(gamma.Value-timing.Turn, a.Modulo)+timing.Turn, 2*timing.Turn)
	} else {
		gamma.Value = timing.WrapSigned(gamma.Value, min(a.Modulo, a.CorrelationModulo))
	}
	return &gamma
}

// CamTeethSeen is how many different teeth of the cam wheel were seen; of a wheel
// that is not the job's, how many edges come in every cycle.
func (a *Analysis) CamTeethSeen() int {
	n := 0
	for _, t := range a.CamTeeth {
		if t.Tooth > 0 {
			n++
		}
	}
	if n == 0 {
		return len(a.CamTeeth)
	}
	return n
}
