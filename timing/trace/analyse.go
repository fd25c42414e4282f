package trace

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pinphase/timing"
	"pinphase/timing/phrase"
	"pinphase/timing/wheel"
)

// Known is what the job says of the engine a recording was taken on.
type Known struct {
	Cycle       timing.Deg
	Crank       wheel.Crank
	CrankSensor wheel.Sensor
	Cam         *wheel.Cam // nil: the job has none
	CamSensor   wheel.Sensor
	Scheme      timing.Engine
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
	Found       *Pattern // the crank wheel as recorded; nil when none was found
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
	Modulo            timing.Deg       // TDC is known up to multiples of this
	HalfTurn          *bool            // the cam is half a turn out (the correlation then says so); nil: not known

	Faults []Fault

	clocks []clock // of the runs, moved onto the cycle where told
	told   []bool
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
	if c.samples < 2 || !(a.Seconds > 0) {
		return nil, ErrTooShort
	}
	for _, name := range []string{known.CrankName, known.CamName} {
		if name != "" && !slices.ContainsFunc(c.indices(), func(i int) bool { return c.called(i, name) }) {
			return nil, c.noChannel(name)
		}
	}
	a.SampleS = a.Seconds / float64(c.samples-1)
	c.describe(a)
	crank, err := c.findCrank(a, known)
	if err != nil {
		return nil, err
	}
	if crank.turns < leastTurns { // a wheel, but not the job's
		return a, nil
	}
	a.Runs, a.Slips = crank.runs, crank.slips
	c.tellSlips(a)
	var time float64
	clocks := make([]clock, len(a.Runs))
	for i, r := range a.Runs {
		clocks[i] = clockOf(r, known.Crank)
		a.Revolutions += float64(r.At[len(r.At)-1]-r.At[0]) / float64(known.Crank.Positions)
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
	sound := true
	if crank.sensor != known.CrankSensor {
		a.fault(Fault{Kind: CrankSensorKind, Name: crank.sensor.String()})
		sound = false
	}
	if n := known.Crank.Repeats(); n > 1 {
		a.fault(Fault{Kind: WheelRepeats, N: n})
		sound = false
	}
	parity := c.findCam(a, known, clocks, crank, sampleDeg, sound)
	for i, k := range clocks {
		told := parity[i] == parity[i]
		if told {
			k = k.moved(parity[i])
		}
		a.clocks, a.told = append(a.clocks, k), append(a.told, told)
	}
	if sound {
		c.findTDC(a, known, clocks, parity)
	}
	a.settleCorrelation(known.Cycle)
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
func (a *Analysis) settleCorrelation(cycle timing.Deg) {
	if a.Correlation == nil {
		return
	}
	a.CorrelationModulo = cycle
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

// indices of the channels.
func (c *Collector) indices() []int {
	list := make([]int, len(c.channels))
	for i := range list {
		list[i] = i
	}
	return list
}

// called tells whether a channel has a name, or is the one of that number, from 1.
func (c *Collector) called(i int, name string) bool {
	return strings.EqualFold(strings.TrimSpace(c.names[i]), strings.TrimSpace(name)) || name == strconv.Itoa(i+1)
}

// label is a channel's name for people: its number where it has none.
func (c *Collector) label(i int) string {
	if name := strings.TrimSpace(c.names[i]); name != "" {
		return name
	}
	return strconv.Itoa(i + 1)
}

func (c *Collector) noChannel(name string) error {
	var all []string
	for i := range c.channels {
		all = append(all, c.label(i))
	}
	return phrase.Errorf("there is no channel %q; the recording has %s", name, strings.Join(all, ", "))
}

// describe names the channels and what their values are worth.
func (c *Collector) describe(a *Analysis) {
	for i := range c.channels {
		ch := Channel{Name: c.names[i], Lost: c.channels[i].lost, Flat: c.channels[i].kind() == flat}
		ch.ByName, ch.Cylinder = nameRole(c.names[i], c.units[i])
		a.Channels = append(a.Channels, ch)
		if share := float64(ch.Lost) / float64(c.samples); share > 0.001 {
			a.fault(Fault{Kind: OutOfRange, Name: c.label(i), N: int(ch.Lost)})
		}
	}
	if c.full > 0 {
		a.fault(Fault{Kind: CutShort, Value: c.full})
	}
}

// findCrank finds the channel of the crank sensor by what it shows. A name the
// user gave goes first, a name in the file only between channels that show the
// wheel equally well.
func (c *Collector) findCrank(a *Analysis, known Known) (reading, error) {
	var best, strange reading
	strange.channel, best.channel = -1, -1
	flats, others := 0, 0
	for i := range c.channels {
		if a.Channels[i].Flat {
			flats++
			continue
		}
		if known.CrankName != "" && !c.called(i, known.CrankName) || known.CamName != "" && c.called(i, known.CamName) {
			continue
		}
		others++
		r := readCrank(&c.channels[i], i, known.Crank, known.CrankSensor)
		wins := r.turns > best.turns+1
		if math.Abs(r.turns-best.turns) <= 1 && r.turns >= leastTurns && best.channel >= 0 {
			if a.Channels[i].ByName == CrankSensor && a.Channels[best.channel].ByName != CrankSensor {
				wins = true
			}
			other := c.label(i)
			if wins {
				other = c.label(best.channel)
			}
			a.fault(Fault{Kind: TwoCranks, Other: other})
		}
		if best.channel < 0 && r.turns > 0 || wins {
			best = r
		}
		if r.support > strange.support && len(r.found.Missing) > 0 {
			strange = r
		}
	}
	if flats == len(c.channels) {
		return reading{}, ErrFlat
	}
	if best.turns >= leastTurns {
		p := Pattern{known.Crank.Positions, slices.Clone(known.Crank.Missing)}
		a.Found = &p
		ch := &a.Channels[best.channel]
		if s, ok := gapLevel(&c.channels[best.channel], best.runs, known.Crank, c.first); ok {
			best.sensor = s
		}
		ch.Role, ch.Sensor, ch.Rising = CrankSensor, best.sensor, best.rising
		if ch.ByName == CamSensor {
			a.fault(Fault{Kind: Swapped, Name: c.label(best.channel), Other: string(CrankSensor)})
		}
		return best, nil
	}
	if strange.channel >= 0 && strange.support > sureSupport {
		a.Found = &strange.found
		a.Channels[strange.channel].Role = CrankSensor
		a.Channels[strange.channel].Sensor = strange.sensor
		t := strange.edges
		a.Revolutions = 0
		if n := len(t); n > 1 {
			teeth := float64(strange.found.Positions - len(strange.found.Missing))
			a.Revolutions = float64(n-1) / teeth
			a.RPM = a.Revolutions / (t[n-1] - t[0]) * 60
		}
		switch {
		case strange.found.turned(known.Crank, false):
			return reading{}, ErrTooShort // the right wheel, but its teeth cannot be followed for two turns
		case strange.found.turned(known.Crank, true):
			a.fault(Fault{Kind: WheelMirrored, Found: strange.found})
		default:
			a.fault(Fault{Kind: WheelDiffers, Found: strange.found})
		}
		return reading{}, nil
	}
	if best.turns > 0 || c.few(known) {
		return reading{}, ErrTooShort
	}
	return reading{}, ErrNoGap
}

// few tells whether no channel has as many edges as two turns of the wheel make.
func (c *Collector) few(known Known) bool {
	for i := range c.channels {
		for k := range c.channels[i].levels {
			if len(c.channels[i].levels[k].inductive.falling) >= 2*known.Crank.Teeth() {
				return false
			}
		}
	}
	return true
}

// tellSlips names lost and extra teeth: each while they are few, their number when
// many.
func (c *Collector) tellSlips(a *Analysis) {
	count := map[bool]int{}
	for _, s := range a.Slips {
		kind := Lost
		if s.Extra {
			kind = Extra
		}
		if count[s.Extra]++; count[s.Extra] <= 8 {
			a.fault(Fault{Kind: kind, Time: s.Time, N: 1})
		}
	}
	for extra, n := range count {
		if n > 8 {
			kind := Lost
			if extra {
				kind = Extra
			}
			a.fault(Fault{Kind: kind, N: n})
		}
	}
	if len(a.Runs) > 1 {
		a.fault(Fault{Kind: Thread, N: len(a.Runs)})
	}
}

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
