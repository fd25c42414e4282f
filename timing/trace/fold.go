package trace

import (
	"math"
	"sort"
)

// Between returns the least and the greatest value of a channel between each time
// and the next, as a line from sample to sample shows it: also where no sample lies
// between the two. NaN where either time is, and outside the recording.
func (p *Picture) Between(channel int, times []float64) (lo, hi []float64) {
	n := max(len(times)-1, 0)
	lo, hi = make([]float64, n), make([]float64, n)
	from, to := p.Seconds()
	at, i := math.NaN(), 0 // the value at the column's left end, and the first bin from there on
	for c := range n {
		a, b := times[c], times[c+1]
		if !(b >= a) || b < from || a > to || len(p.time) == 0 {
			lo[c], hi[c], at = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		if math.IsNaN(at) {
			i = sort.SearchFloat64s(p.time, a)
			at = p.value(channel, i, a)
		}
		k := i + sort.SearchFloat64s(p.time[i:], b)
		next := p.value(channel, k, b)
		lo[c], hi[c] = least(at, next), most(at, next)
		if e := p.over(channel, i, k); !e.Empty() {
			lo[c], hi[c] = least(lo[c], float64(e.Lo)), most(hi[c], float64(e.Hi))
		}
		at, i = next, k
	}
	return lo, hi
}

// value is where a line from bin to bin is at a time that lies before bin i and not
// before the one before it; NaN where there is none.
func (p *Picture) value(channel, i int, t float64) float64 {
	bins := p.channels[channel].bins
	if i <= 0 || i >= len(bins) {
		if i == len(bins) && i > 0 && t <= p.end {
			return bins[i-1].middle()
		}
		return math.NaN()
	}
	a, b := bins[i-1].middle(), bins[i].middle()
	way := p.time[i] - p.time[i-1]
	if !(way > 0) {
		return b
	}
	return a + (b-a)*(t-p.time[i-1])/way
}

func (e Extent) middle() float64 {
	if e.Empty() {
		return math.NaN()
	}
	return (float64(e.Lo) + float64(e.Hi)) / 2
}

// least and most leave out what is no number, unless both are.
func least(a, b float64) float64 {
	if math.IsNaN(a) || b < a {
		return b
	}
	return a
}

func most(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// Folded is a recording laid over itself cycle by cycle: of each part of the cycle
// the least and the greatest value that any cycle showed there.
type Folded struct {
	cycle float64
	parts *Picture // the angle in place of the time
}

// Fold lays the recording over itself: angle tells the angle at a time, not wrapped
// and rising where it is known. n is how many parts the cycle has.
func (p *Picture) Fold(cycle float64, n int, angle func(seconds float64) (at float64, ok bool)) *Folded {
	f := &Picture{per: 1, end: cycle, channels: make([]picturedChannel, len(p.channels))}
	for i := range n {
		f.time = append(f.time, cycle*float64(i)/float64(n))
	}
	for c := range f.channels {
		f.channels[c].bins = make([]Extent, n)
		for i := range f.channels[c].bins {
			f.channels[c].bins[i] = nothing
		}
	}
	part := cycle / float64(n)
	before, known := 0.0, false
	for i, t := range p.time {
		at, ok := angle(t)
		if ok {
			if !known || at < before || at-before > cycle/2 {
				before = at
			}
			f.fold(p, i, int(math.Floor(before/part)), int(math.Floor(at/part)), n)
		}
		before, known = at, ok
	}
	f.Finish()
	return &Folded{cycle, f}
}

// fold lays bin i of another picture over the parts after the one of the bin before
// up to its own; those between get what a line shows.
func (f *Picture) fold(p *Picture, i, before, own, n int) {
	for c := range f.channels {
		from, bins := p.channels[c].bins, f.channels[c].bins
		e := from[i]
		put := func(k int, e Extent) {
			k = (k%n + n) % n
			bins[k] = bins[k].with(e)
		}
		put(own, e)
		if own-before < 2 || i == 0 {
			continue
		}
		a, b := from[i-1].middle(), e.middle()
		for k := before + 1; k < own; k++ {
			if v := float32(a + (b-a)*float64(k-before)/float64(own-before)); v == v {
				put(k, Extent{v, v})
			}
		}
	}
}

// Cycle returns the angle after which the recording was laid over itself.
func (f *Folded) Cycle() float64 { return f.cycle }

// Whole is the extent of a channel.
func (f *Folded) Whole(channel int) Extent { return f.parts.Whole(channel) }

// NewFolded returns a curve that repeats every cycle, given at as many places, evenly
// from 0 to the cycle, both included.
func NewFolded(cycle float64, values []float64) *Folded {
	f := &Picture{per: 1, end: cycle, channels: make([]picturedChannel, 1)}
	n := len(values) - 1
	for i := range n {
		f.time = append(f.time, cycle*float64(i)/float64(n))
		a, b := float32(values[i]), float32(values[i+1])
		f.channels[0].bins = append(f.channels[0].bins, Extent{min(a, b), max(a, b)})
	}
	f.Finish()
	return &Folded{cycle, f}
}

// Between returns the least and the greatest value of a channel between each angle
// and the next, of any cycle; NaN where there is nothing.
func (f *Folded) Between(channel int, angles []float64) (lo, hi []float64) {
	n := max(len(angles)-1, 0)
	lo, hi = make([]float64, n), make([]float64, n)
	for c := range n {
		lo[c], hi[c] = f.Over(channel, angles[c], angles[c+1])
	}
	return lo, hi
}

// Over is [Folded.Between] for one pair of angles.
func (f *Folded) Over(channel int, a, b float64) (lo, hi float64) {
	per := float64(len(f.parts.time)) / f.cycle
	e := nothing
	if b >= a {
		from := int(math.Floor(a * per))
		e = f.over(channel, from, max(int(math.Ceil(b*per)), from+1))
	}
	if e.Empty() {
		return math.NaN(), math.NaN()
	}
	return float64(e.Lo), float64(e.Hi)
}

// over is the extent of the parts from i up to k, counted on through the cycles.
func (f *Folded) over(channel, i, k int) Extent {
	n := len(f.parts.time)
	if k-i >= n {
		return f.Whole(channel)
	}
	from := (i%n + n) % n
	to := from + k - i
	e := f.parts.over(channel, from, min(to, n))
	if to > n {
		e = e.with(f.parts.over(channel, 0, to-n))
	}
	return e
}
