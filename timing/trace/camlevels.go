package trace

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// Levels of a cam channel look alike whether a Hall sensor or a comparator behind an
// inductive one made them. With a Hall sensor each is as wide as its tooth at any speed; a
// comparator that switches at a fixed voltage switches earlier the faster the tooth comes.

// Settings of telling them apart. Our assumptions.
const (
	levelsHall   = 3.2  // logarithm of the odds that a job which says Hall is right: an inductive sensor needs a circuit to make levels
	widensMean   = 0.15 // of its width by which a comparator's level grows with the logarithm of the speed,
	widensSpread = 0.08 // give or take
	widensHall   = 0.01 // a Hall sensor's, give or take
	leastVaried  = 0.03 // of the logarithm of the speed at a tooth
	mostWidens   = 4.0  // that it counts
)

// passingLevel is one level: its width in degrees and the logarithm of the speed.
type passingLevel struct{ width, speed float64 }

// levelOdds is the logarithm of the odds that levels are of a Hall sensor, by how their
// widths go with the speed at each tooth: 0 where that hardly changes.
func levelOdds(k clock, begins, ends []float64, cycle float64) float64 {
	const (
		moment = 1e-3
		places = 8.0 // degrees within which passings are of one tooth
	)
	teeth := map[int][]passingLevel{}
	i := 0
	for _, t := range begins {
		for i < len(ends) && ends[i] <= t {
			i++
		}
		if i == len(ends) {
			break
		}
		from, ok := k.at(t)
		to, also := k.at(ends[i])
		before, b := k.at(t - moment)
		after, c := k.at(t + moment)
		if !ok || !also || !b || !c || !(after > before) || to-from > cycle/3 {
			continue
		}
		place := int(math.Round(float64(timing.Wrap(timing.Deg(from), timing.Deg(cycle)))/places)) % int(cycle/places)
		teeth[place] = append(teeth[place], passingLevel{to - from, math.Log(after - before)})
	}
	var sxx, sxy, syy, width, n, groups float64
	for _, list := range teeth {
		var w, s float64
		for _, p := range list {
			w, s = w+p.width/float64(len(list)), s+p.speed/float64(len(list))
		}
		for _, p := range list {
			sxx += square(p.speed - s)
			sxy += (p.speed - s) * (p.width - w)
			syy += square(p.width - w)
		}
		width += w * float64(len(list))
		n += float64(len(list))
		groups++
	}
	free := n - groups - 1
	if free < 2 || math.Sqrt(sxx/n) < leastVaried {
		return 0
	}
	width /= n
	slope := sxy / sxx
	u2 := max(syy-slope*sxy, 0)/free/sxx + square(0.002*width)
	fits := func(mean, spread float64) float64 {
		v := u2 + square(spread*width)
		return -square(slope-mean*width)/(2*v) - math.Log(v)/2
	}
	return min(max(fits(0, widensHall)-fits(widensMean, widensSpread), -2*mostWidens), mostWidens)
}

// judgeLevels says how probable it is that the levels are a Hall sensor's where the job says
// that they are.
func (r *camReading) judgeLevels(k clock, tries [2]camReading, cycle float64, job wheel.Sensor) {
	if !r.levels || job != wheel.Hall || r.sensor != wheel.Hall {
		return
	}
	ends := tries[0].edges
	if !r.rising {
		ends = tries[1].edges
	}
	r.hall = logistic(levelsHall + levelOdds(k, r.edges, ends, cycle))
}

// levelDoubt allows for levels that a comparator made after all: it switches from where
// the sensor begins to see the tooth to its centre, and the job's number may mean the one
// or the other.
func (r camReading) levelDoubt(w wheel.Cam) (shift, u float64) {
	begun := min(r.begun, 2*widestTooth(w))
	if !(begun > 0) {
		begun = widestTooth(w)
	}
	doubt := 1 - r.hall
	var mixed frame
	shift = mixed.mix(doubt, doubt*begun/2, doubt*begun*begun/2)
	return shift, mixed.u
}
