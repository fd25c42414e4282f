package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
)

// wheelErrorOf is what a job's crankshaft is off by and how that is known: the one
// place from which every answer takes it. What was measured on the part counts first,
// then what a recording shows, then what is stated, then what has to be assumed.
func wheelErrorOf(j job.Job) (errorsOf, error) {
	dowel, keyway, err := features(j)
	if err != nil {
		return errorsOf{}, err
	}
	e, err := compare(dowel, keyway)
	if j.Supposed.Has(supposedWheel) { // whatever was measured, and even where it cannot be compared
		e.dowel, e.keyway = dowel, keyway
		e.wheel, e.wheelDOF = timing.Measured{Value: timing.Deg(j.Supposed.WheelErrorDeg.Value)}, 0
		e.basis = known.Supposed
		return e, nil
	}
	if err != nil || len(j.Evidence) == 0 {
		return e, err
	}
	e.state(j)
	e.weigh(j.AsItIs())
	return e, nil
}

// state puts in what the evidence states of the two angles, where they were not
// measured.
func (e *errorsOf) state(j job.Job) {
	if k, ok := statedAngle(j, "keyway_error_deg"); ok && e.keyway.measured == nil {
		e.gear, e.gearDOF, e.gearBasis = k, 0, known.Stated
		if e.dowel.measured == nil {
			e.wheel, e.wheelDOF = k, 0
		} else {
			e.wheel = e.wheel.Plus(k)
			e.wheel.Value = short(e.wheel.Value)
			e.basis = known.Stated
		}
	}
	if d, ok := statedAngle(j, "dowel_error_deg"); ok && e.dowel.measured == nil {
		e.wheel, e.wheelDOF, e.basis = e.gear.Plus(d), 0, known.Stated
		e.wheel.Value = short(e.wheel.Value)
	}
}

// statedAngle is the newest number that the evidence holds of a kind.
func statedAngle(j job.Job, kind string) (m timing.Measured, ok bool) {
	for _, ev := range j.Evidence {
		k, is := cause.KindNamed(ev.Kind)
		v, number := ev.Value.(float64)
		if is && k.Name == kind && number {
			m, ok = timing.Measured{Value: short(timing.Deg(v)), U: timing.Deg(ev.U.Or(k.U))}, true
		}
	}
	return m, ok
}

// seenNumber is the newest number that the evidence of a job holds of a kind.
func seenNumber(j job.Job, kind string) (v float64, ok bool) {
	for _, ev := range j.Evidence {
		if k, is := cause.KindNamed(ev.Kind); is && k.Name == kind {
			if n, number := ev.Value.(float64); number {
				v, ok = n, true
			}
		}
	}
	return v, ok
}

// How near to an angle the wheel must be for the two to agree: three standard
// uncertainties of a good reading at the least. Our choice, no source.
const agreeing timing.Deg = 3

// weigh sets the wheel error against all that was seen, by the same model that ranks
// the causes.
func (e *errorsOf) weigh(j job.Job) {
	if e.ranking = weigh(j, e.dowel, e.keyway); e.ranking == nil {
		return
	}
	by, recorded := agreeing, false
	for _, kind := range []string{"tdc_offset_deg", "correlation_error_deg"} {
		if m, ok := statedAngle(j, kind); ok {
			by, recorded = max(by, 3*m.U), true
		}
	}
	by = min(max(by, 3*e.wheel.U), timing.Turn/4)
	found := wheelIn(e.ranking, wheelAsked{e.wheel.Value, by})
	place := found.place
	e.agrees = found.agrees
	place.Wheel.Value, place.Wheel.U = short(place.Wheel.Value), max(place.Wheel.U, leastReadU)
	take := func(b known.Basis) {
		e.wheel, e.wheelDOF, e.basis, e.agrees, e.taken = place.Wheel, 0, b, place.Probability, true
	}
	switch sure := place.Probability >= cause.Sure; {
	case e.basis == known.Measured && e.agrees < stands:
		e.doubt = disputed
	case e.basis == known.Measured:
	case sure && recorded:
		take(known.Read)
	case e.basis == known.Stated && e.agrees < stands:
		e.doubt = disputed
	case e.basis == known.Stated:
	case recorded:
		take(known.Read)
		e.doubt = branching
	case e.gear.Value != 0: // the dowel was set out from that keyway or from the throw: both are said
	case e.agrees >= stands || place.Probability < stands:
	case sure:
		take(known.Stated)
	default:
		take(known.Assumed)
		e.doubt = branching
	}
}

// leastReadU is how surely a wheel error is known at best that follows from a
// recording or from what was seen: parts are made to tenths of a degree.
const leastReadU timing.Deg = 0.3

// doubt is what all that was seen does to a wheel error.
type doubt int

const (
	settled   doubt = iota
	disputed        // what else was seen makes it improbable
	branching       // it is the most probable of several that what was seen leaves open
)

// inJSON returns the doubt as it stands in JSON.
func (d doubt) inJSON() string { return [...]string{"", "disputed", "branching"}[d] }

// told tells whether somebody has seen or said where the wheel is, so that it has an
// uncertainty.
func (e errorsOf) told() bool { return e.basis >= known.Stated && e.doubt != branching }

// BasisOf returns how a job's wheel error is known; [known.Unknown] where it cannot be
// worked out.
func BasisOf(j job.Job) known.Basis {
	e, err := wheelErrorOf(j)
	if err != nil {
		return known.Unknown
	}
	return e.basis
}

// chance is how probable the wheel error is by all that was seen.
func (e errorsOf) chance() any { return percent(math.Max(e.agrees, 0)) }
