package wheel

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Crank is a crank sensor wheel. Its fields are as in the job file and taken to
// be checked: Positions at least 1, Missing within 1..Positions.
type Crank struct {
	Positions      int        // teeth as if none were missing
	Missing        []int      // positions without a tooth
	FirstToothBTDC timing.Deg // where tooth 1 passes the sensor
}

// Pitch returns the angle from one position to the next.
func (c Crank) Pitch() timing.Deg { return timing.Turn / timing.Deg(c.Positions) }

// IsMissing tells whether a position carries no tooth.
func (c Crank) IsMissing(position int) bool {
	for _, m := range c.Missing {
		if m == position {
			return true
		}
	}
	return false
}

// Teeth returns how many teeth there are.
func (c Crank) Teeth() int { return c.Positions - len(c.Missing) }

// PassesAt returns the crank angle, in [0, 360), at which a position passes the
// sensor when the wheel is displaced by delta in the direction of rotation.
func (c Crank) PassesAt(position int, delta timing.Deg) timing.Deg {
	return timing.Wrap(-c.FirstToothBTDC+timing.Turn*timing.Deg(position-1)/timing.Deg(c.Positions)-delta, timing.Turn)
}

// Sighting is what stands at the sensor.
type Sighting struct {
	Position int        // the nearest one, 1..Positions
	Past     timing.Deg // how far it has gone past the sensor; negative is still to come; within half a pitch
	Missing  bool       // the position carries no tooth: a gap is at the sensor
}

// AtSensor returns what stands at the sensor when the crank is at theta and the
// wheel is displaced by delta.
func (c Crank) AtSensor(theta, delta timing.Deg) Sighting {
	turned := timing.Wrap(theta+delta+c.FirstToothBTDC, timing.Turn) // since position 1 passed
	steps := float64(turned) * float64(c.Positions) / float64(timing.Turn)
	k := math.Round(steps)
	position := int(k)%c.Positions + 1
	return Sighting{
		Position: position,
		Past:     timing.Deg((steps - k)) * c.Pitch(),
		Missing:  c.IsMissing(position),
	}
}

// Gap is a run of missing teeth.
type Gap struct {
	After   int // the last tooth before it
	Before  int // the first tooth after it
	Missing int // how many are missing between
}

// Gaps returns the gaps in the order in which they pass the sensor, the one that
// ends at position 1 last. There are none on a wheel with all its teeth, nor on
// one with no teeth.
func (c Crank) Gaps() []Gap {
	var gaps []Gap
	if c.Teeth() <= 0 {
		return nil
	}
	for p := 1; p <= c.Positions; p++ {
		next := p%c.Positions + 1
		if c.IsMissing(p) || !c.IsMissing(next) {
			continue
		}
		g := Gap{After: p}
		for c.IsMissing(next) {
			g.Missing++
			next = next%c.Positions + 1
		}
		g.Before = next
		gaps = append(gaps, g)
	}
	return gaps
}

// Span returns the gap's crank angles at the sensor, from the tooth before it to
// the tooth after it: From in [0, 360), To beyond it.
func (c Crank) Span(g Gap, delta timing.Deg) timing.Span {
	from := c.PassesAt(g.After, delta)
	return timing.Span{From: from, To: from + c.Pitch()*timing.Deg(g.Missing+1)}
}
