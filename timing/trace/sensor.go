package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing/trace/follow"
	"pinphase.org/pinphase/timing/wheel"
)

// shape is what the flanks and gaps of a crank channel are like, in shares of a pitch
// and of a tooth's swing.
type shape struct {
	flank    float64 // half of a tooth's flank,
	other    float64 // and of the one back
	width    float64 // from a tooth's edge to the next of the other slope
	inGap    float64 // how far into the gap the edge of the other slope lies, in pitches from the tooth before it
	gapFlank float64 // half of that edge's flank
	gapSwing float64 // how far it goes
	growth   float64 // power of the speed with which the swing grows; NaN: the speed hardly changes
	teeth    int
	gaps     int
	longest  float64 // the gap's way, in positions
}

// shapeOf measures a channel whose teeth are known.
func shapeOf(r *reading) shape {
	longest := follow.Longest(r.wheel)
	var flank, back, width, inGap, gapFlank, gapSwing, swing, speed, size []float64
	k := 0
	for _, run := range r.path.Runs {
		for i := 1; i < len(run.At); i++ {
			from, to := run.Time[i-1], run.Time[i]
			for k < len(r.other) && r.other[k].At <= from {
				k++
			}
			way := run.At[i] - run.At[i-1]
			pitch := (to - from) / float64(way)
			own := r.list[run.Edge[i]]
			if way == 1 {
				flank = append(flank, float64(own.Flank)/pitch)
				speed, size = append(speed, math.Log(1/pitch)), append(size, math.Log(own.Size()))
			}
			strong := k
			for n := k; n < len(r.other) && r.other[n].At < to; n++ {
				if r.other[n].Size() > r.other[strong].Size() {
					strong = n
				}
			}
			if strong >= len(r.other) || r.other[strong].At >= to {
				continue
			}
			o := r.other[strong]
			switch {
			case way == 1:
				width, swing, back = append(width, (o.At-from)/pitch), append(swing, o.Size()), append(back, float64(o.Flank)/pitch)
			case way == longest && longest > 1:
				inGap, gapFlank, gapSwing = append(inGap, (o.At-from)/pitch), append(gapFlank, float64(o.Flank)/pitch), append(gapSwing, o.Size())
			}
		}
	}
	s := shape{teeth: len(flank), gaps: len(inGap), longest: float64(longest), growth: math.NaN()}
	s.other = middleOf(back)
	s.flank, s.width, s.inGap, s.gapFlank = middleOf(flank), middleOf(width), middleOf(inGap), middleOf(gapFlank)
	s.gapSwing = middleOf(gapSwing) / middleOf(swing)
	s.growth = power(speed, size)
	if r.levels {
		s.flank, s.gapFlank, s.growth = math.NaN(), math.NaN(), math.NaN()
	}
	return s
}

// middleOf is the median, NaN of nothing.
func middleOf(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Clone(v)
	slices.Sort(v)
	return (v[len(v)/2] + v[(len(v)-1)/2]) / 2
}

// power is the slope of one logarithm over another, NaN where that hardly changes.
func power(x, y []float64) float64 {
	n := float64(len(x))
	var sx, sy, sxx, sxy float64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
	}
	for i := range x {
		sxx += (x[i] - sx/n) * (x[i] - sx/n)
		sxy += (x[i] - sx/n) * (y[i] - sy/n)
	}
	if n < 20 || math.Sqrt(sxx/n) < 0.08 {
		return math.NaN()
	}
	return sxy / sxx
}

// Weights of what the shapes say, as logarithms of how much more often one sensor
// looks like that than the other. By trial on simulated recordings of several makers.
const (
	mostFlank = 4.0
	mostSlow  = 7.0
	mostGap   = 6.0
	mostLevel = 1.5 // of levels: a comparator that waits for the next tooth holds through the gap as a Hall sensor does
	mostSwing = 4.0
	mostSpeed = 3.0
)

// hallOdds is the logarithm of the odds that a channel is of a Hall sensor: its flanks
// take no time, its tooth ends as far from its beginning beside the gap as elsewhere,
// its level does not move with the speed. An inductive sensor's signal crosses the
// middle in the middle of the gap, slowly, and swings there as far or further. sample
// is the time between samples in pitches.
func (s shape) hallOdds(sample float64) float64 {
	odds := 0.0
	if s.flank == s.flank {
		sharp := max(0.03, 2*sample) // so steep is a jump
		odds += min(max(5*math.Log(sharp/max(s.flank, 1e-4)), -mostSlow), max(mostFlank-40*sample, 0))
	}
	if s.gaps > 0 && s.width == s.width {
		away := min(math.Abs(s.inGap-s.width), math.Abs(s.inGap-(s.longest-1+s.width)))
		few := min(float64(s.gaps)/2, 1)
		if s.gapFlank > max(1.4*s.other, 0.1) { // slower than between teeth: one cut off at one end passes its middle anywhere in the gap
			away = 1
		}
		odds += few * mostGap * min(max((0.22-away)/0.1, -1), 1)
		if s.gapSwing > 1.25 {
			odds -= mostSwing * min((s.gapSwing-1.25)/0.5, 1)
		}
	}
	if s.growth == s.growth {
		odds += mostSpeed * min(max((0.4-s.growth)/0.3, -1), 0.5)
	}
	return odds
}

// judge tells which sensor it is and, of a Hall sensor, takes the slope at which teeth
// begin: in the gap the sensor is at the level of no tooth, so the tooth before the gap
// ends near its beginning. The job's word for the sensor counts for something.
func (r *reading) judge(c *channel, sampleS, first float64, job wheel.Sensor) {
	if len(r.path.Runs) == 0 {
		return
	}
	r.slowGap()
	s := shapeOf(r)
	r.shape = s
	run := r.path.Runs[0]
	pitch := (run.Time[len(run.Time)-1] - run.Time[0]) / float64(run.At[len(run.At)-1]-run.At[0])
	odds := s.hallOdds(sampleS / pitch)
	if job == wheel.Hall {
		if r.levels && c.edges.Coupled() == 0 {
			odds = min(odds, mostLevel)
		}
		odds += jobSensor
	} else {
		odds -= jobSensor
	}
	r.hall = logistic(odds)
	r.sensor = wheel.Inductive
	if r.hall >= 0.5 {
		r.sensor = wheel.Hall
	}
	r.sure = s.gaps > 0 && (s.width == s.width || r.sensor == wheel.Hall) // without two teeth side by side the slopes cannot be weighed
	switch {
	case r.sensor == wheel.Hall && s.gaps > 0 && s.inGap > s.longest/2:
		r.turnOver()
	}
	r.weighSlopes(c, first)
}

// jobSensor is the logarithm of how much more often the job names the sensor that is there
// than another. Our assumption.
const jobSensor = 2.0

func logistic(odds float64) float64 { return 1 / (1 + math.Exp(-odds)) }

// slowGap takes the other slope where both show the wheel and the way back through the gap
// is slow only with that one: between the teeth of a signal cut off at one end the other
// slope may pass the middle just beside the gap.
func (r *reading) slowGap() {
	s := shapeOf(r)
	if r.levels || s.gaps == 0 {
		return
	}
	o := readSlope(r.other, r.list, !r.rising, r.channel, r.wheel)
	n := r.wheel.Positions
	if o.turns < r.turns-1 || o.path.Awry(n) > r.path.Awry(n)+0.25 {
		return
	}
	if slow := shapeOf(&o).gapFlank; slow > 0.3 && slow > 3*s.gapFlank {
		o.found, o.support, o.strange = r.found, r.support, r.strange
		*r = o
	}
}

// turnOver takes the other slope, if it shows the wheel as well.
func (r *reading) turnOver() {
	o := readSlope(r.other, r.list, !r.rising, r.channel, r.wheel)
	if o.turns >= r.turns-1 {
		o.sensor, o.hall, o.sure, o.levels = r.sensor, r.hall, r.sure, r.levels
		o.found, o.support, o.strange = r.found, r.support, r.strange
		o.shape = shapeOf(&o)
		*r = o
	}
}

// recognise tells which sensor a channel is of that shows another wheel than the job's.
func (r *reading) recognise(c *channel, sampleS, first float64, job wheel.Sensor) {
	r.wheel = r.found.crank()
	o := readSlope(r.other, r.list, !r.rising, r.channel, r.wheel)
	o.levels = r.levels
	r.follow(r.wheel)
	if o.better(*r) {
		*r = o
	}
	r.judge(c, sampleS, first, job)
}
