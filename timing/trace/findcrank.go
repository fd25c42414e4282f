package trace

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/wheel"
)

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
		ch := Channel{Name: c.names[i], Lost: c.channels[i].lost, Flat: c.channels[i].flat()}
		ch.ByName, ch.Cylinder = nameRole(c.names[i], c.units[i])
		a.Channels = append(a.Channels, ch)
		if share := float64(ch.Lost) / float64(c.count); share > 0.001 {
			a.fault(Fault{Kind: OutOfRange, Name: c.label(i), N: int(ch.Lost)})
		}
		if n := c.channels[i].edges.Wrapped(); n > 0 {
			a.fault(Fault{Kind: Wrapped, Name: c.label(i), N: int(n)})
		}
	}
	c.tellLevels(a)
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
		r := readCrank(&c.channels[i], i, known.Crank, known.CrankSensor, a.SampleS, c.first)
		wins := r.worth > best.worth+1
		if math.Abs(r.worth-best.worth) <= 1 && r.turns >= leastTurns && best.channel >= 0 {
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
		broken, fits := best.mend()
		if fits && !best.strangeIsBetter() || best.support > sureSupport && best.found.turned(known.Crank, false) {
			c.takeCrank(a, &best, broken)
			return best, nil
		}
	}
	if strange.channel >= 0 && strange.support > sureSupport {
		if best.channel >= 0 {
			a.Readings = best.readings(strange)
		}
		return reading{}, c.takeStrange(a, known, strange)
	}
	if best.turns > 0 && best.turns < leastTurns || c.few(known) {
		return reading{}, ErrTooShort
	}
	return reading{}, ErrNoGap
}

// takeCrank takes a channel for the crank sensor's, with teeth of the job's wheel that
// are broken.
func (c *Collector) takeCrank(a *Analysis, r *reading, broken []int) {
	a.Found = &Pattern{r.wheel.Positions, slices.Clone(r.wheel.Missing)}
	ch := &a.Channels[r.channel]
	ch.Role, ch.Sensor, ch.Hall, ch.Rising = CrankSensor, r.sensor, r.hall, r.rising
	if ch.ByName == CamSensor {
		a.fault(Fault{Kind: Swapped, Name: c.label(r.channel), Other: string(CrankSensor)})
	}
	if r.sensor == wheel.Inductive {
		c.tellClips(a, *r)
	}
	if len(r.ways) > 0 { // which tooth it is cannot be told
		return
	}
	for _, position := range broken {
		a.fault(Fault{Kind: Broken, N: position})
	}
}

// takeStrange takes a channel that shows a wheel which is not the job's.
func (c *Collector) takeStrange(a *Analysis, known Known, r reading) error {
	if r.found.turned(known.Crank, false) {
		return ErrTooShort // the right wheel, but its teeth cannot be followed for two turns
	}
	a.Found = &r.found
	ch := &a.Channels[r.channel]
	ch.Role = CrankSensor
	own := r
	own.recognise(&c.channels[r.channel], a.SampleS, c.first, known.CrankSensor)
	ch.Sensor, ch.Hall, ch.Rising = own.sensor, own.hall, own.rising
	a.Revolutions = 0
	if t := r.strange; len(t) > 1 {
		teeth := float64(r.found.Positions - len(r.found.Missing))
		a.Revolutions = float64(len(t)-1) / teeth
		a.RPM = a.Revolutions / (t[len(t)-1] - t[0]) * 60
	}
	if r.found.turned(known.Crank, true) {
		a.fault(Fault{Kind: WheelMirrored, Found: r.found})
	} else if n := a.Readings; len(n) > 1 {
		a.fault(Fault{Kind: WheelEither, Found: r.found, N: int(math.Round(100 * n[0].Probability)), Of: len(n[1].Broken)})
	} else {
		a.fault(Fault{Kind: WheelDiffers, Found: r.found})
	}
	return nil
}

// few tells whether no channel has as many edges as two turns of the wheel make.
func (c *Collector) few(known Known) bool {
	for i := range c.channels {
		for k := range edges.Smoothings {
			if len(edges.Prune(c.channels[i].edges.Edges(k), leastEdge, edges.Scales(c.channels[i].edges.Edges(k)))) >= 4*known.Crank.Teeth() {
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
