package trace

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
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
		ch := Channel{Name: c.names[i], Lost: c.channels[i].lost, Flat: c.channels[i].kind() == flat}
		ch.ByName, ch.Cylinder = nameRole(c.names[i], c.units[i])
		a.Channels = append(a.Channels, ch)
		if share := float64(ch.Lost) / float64(c.count); share > 0.001 {
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
