package trace

import (
	"math"
	"slices"
	"sort"

	"pinphase.org/pinphase/timing/trace/samples"
)

// Picture keeps what is needed to draw a recording: of every so many samples the
// least and the greatest value of each channel, and the same of ever longer
// stretches. Reading off any stretch takes a few steps, however long it is. Short
// recordings are kept sample by sample. The zero value is empty.
type Picture struct {
	per      int // samples in a bin
	filled   int // of the last bin
	time     []float64
	end      float64
	channels []picturedChannel

	steps samples.Block // changes of level with what is held between them
	held  []float64     // the last level of each channel
}

type picturedChannel struct {
	bins   []Extent
	levels [][]Extent // of 4 bins, 16 bins, ...
}

// Extent is the least and the greatest value of a stretch; Lo is above Hi where
// there is none.
type Extent struct{ Lo, Hi float32 }

var nothing = Extent{1, -1}

// Empty tells whether there is no value.
func (e Extent) Empty() bool { return e.Lo > e.Hi }

func (e Extent) with(o Extent) Extent {
	switch {
	case e.Empty():
		return o
	case o.Empty():
		return e
	}
	return Extent{min(e.Lo, o.Lo), max(e.Hi, o.Hi)}
}

// mostBins bounds the memory, of a recording of two channels to some 60 MiB; of more
// channels fewer are kept.
const mostBins = 1 << 21

// Add takes the next samples, or changes of level, between which a level is held.
func (p *Picture) Add(b *samples.Block) {
	if p.per == 0 {
		p.per = 1
		p.channels = make([]picturedChannel, len(b.Values))
	}
	if b.Steps || b.Held != nil {
		b = p.stairs(b)
	}
	most := mostBins / max(len(p.channels)/2, 1)
	for from, n := 0, len(b.Time); from < n; {
		if len(p.time) >= most && p.filled == p.per {
			p.halve()
		}
		if p.filled == p.per || len(p.time) == 0 {
			if p.per == 1 {
				to := min(n, from+most-len(p.time))
				p.keep(b, from, to)
				from = to
				continue
			}
			p.filled = 0
			p.time = append(p.time, b.Time[from])
			for c := range p.channels {
				p.channels[c].bins = append(p.channels[c].bins, nothing)
			}
		}
		to := min(from+p.per-p.filled, n)
		last := len(p.time) - 1
		for c := range p.channels {
			bin := &p.channels[c].bins[last]
			*bin = bin.with(extentOf(b.Values[c][from:to]))
		}
		p.filled += to - from
		from = to
	}
	if n := len(b.Time); n > 0 {
		p.end = b.Time[n-1]
	}
}

// keep makes a bin of each sample.
func (p *Picture) keep(b *samples.Block, from, to int) {
	p.filled = 1
	p.time = append(roomy(p.time, to-from), b.Time[from:to]...)
	for c := range p.channels {
		bins := roomy(p.channels[c].bins, to-from)
		for _, v := range b.Values[c][from:to] {
			e := nothing
			if x := float32(v); x == x {
				e = Extent{x, x}
			}
			bins = append(bins, e)
		}
		p.channels[c].bins = bins
	}
}

// roomy returns a list with room for so many more; where there is none it doubles, so that
// a long recording is not moved over and over.
func roomy[T any](list []T, more int) []T {
	if cap(list)-len(list) >= more {
		return list
	}
	return slices.Grow(list, max(more, len(list)))
}

// extentOf is that of some values.
func extentOf(values []float64) Extent {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range values {
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	if lo > hi {
		return nothing
	}
	return Extent{float32(lo), float32(hi)}
}

// stairs writes changes of level so that lines from row to row draw them: before each
// change what was held until then.
func (p *Picture) stairs(b *samples.Block) *samples.Block {
	s := &p.steps
	if s.Values == nil {
		s.Values = make([][]float64, len(b.Values))
		p.held = make([]float64, len(b.Values))
	}
	s.Time = s.Time[:0]
	for i, t := range b.Time {
		if i > 0 || len(p.time) > 0 {
			s.Time = append(s.Time, t)
		}
		s.Time = append(s.Time, t)
	}
	for c, values := range b.Values {
		list := s.Values[c][:0]
		for i, v := range values {
			if i > 0 || len(p.time) > 0 {
				before := p.held[c]
				if !b.Holds(c) {
					before = v
				}
				list = append(list, before)
			}
			list = append(list, v)
			p.held[c] = v
		}
		s.Values[c] = list
	}
	return s
}

// halve makes one bin of two.
func (p *Picture) halve() {
	n := (len(p.time) + 1) / 2
	if len(p.time)%2 == 0 {
		p.filled += p.per
	}
	for i := range n {
		p.time[i] = p.time[2*i]
		for c := range p.channels {
			bins := p.channels[c].bins
			bins[i] = bins[2*i]
			if 2*i+1 < len(bins) {
				bins[i] = bins[i].with(bins[2*i+1])
			}
		}
	}
	p.time = p.time[:n]
	for c := range p.channels {
		p.channels[c].bins = p.channels[c].bins[:n]
	}
	p.per *= 2
}

// Finish builds the longer stretches; call it after the last samples.
func (p *Picture) Finish() {
	for c := range p.channels {
		ch := &p.channels[c]
		ch.levels = nil
		for below := ch.bins; len(below) > 4; {
			above := make([]Extent, (len(below)+3)/4)
			for i := range above {
				lo, hi := float32(math.Inf(1)), float32(math.Inf(-1))
				for _, e := range below[4*i : min(4*i+4, len(below))] {
					if e.Lo <= e.Hi {
						lo, hi = min(lo, e.Lo), max(hi, e.Hi)
					}
				}
				if above[i] = (Extent{lo, hi}); lo > hi {
					above[i] = nothing
				}
			}
			ch.levels = append(ch.levels, above)
			below = above
		}
	}
}

// Glimpse returns a picture of what has been added so far, of so many bins at most, ready
// to be drawn while more is added to this one.
func (p *Picture) Glimpse(most int) *Picture {
	each := max((len(p.time)+most-1)/max(most, 1), 1)
	g := &Picture{per: p.per * each, end: p.end, channels: make([]picturedChannel, len(p.channels))}
	for i := 0; i < len(p.time); i += each {
		g.time = append(g.time, p.time[i])
	}
	for c := range p.channels {
		bins := p.channels[c].bins
		for i := 0; i < len(bins); i += each {
			e := nothing
			for _, o := range bins[i:min(i+each, len(bins))] {
				e = e.with(o)
			}
			g.channels[c].bins = append(g.channels[c].bins, e)
		}
	}
	g.Finish()
	return g
}

// Seconds returns the times of the first and the last sample.
func (p *Picture) Seconds() (from, to float64) {
	if len(p.time) == 0 {
		return 0, 0
	}
	return p.time[0], p.end
}

// Channels is how many channels there are.
func (p *Picture) Channels() int { return len(p.channels) }

// Whole is the extent of a channel over the whole recording.
func (p *Picture) Whole(channel int) Extent { return p.over(channel, 0, len(p.time)) }

// At returns the extent of the channel in the bin that a time falls in.
func (p *Picture) At(channel int, seconds float64) Extent {
	i := sort.SearchFloat64s(p.time, seconds)
	if i == len(p.time) || p.time[i] > seconds {
		i--
	}
	if i < 0 || seconds > p.end {
		return nothing
	}
	return p.channels[channel].bins[i]
}

// Columns returns the extents of a channel over n equal stretches of time, one for
// each column of pixels. Where the samples lie further apart than the columns, the
// columns between them are empty: draw lines from one to the next.
func (p *Picture) Columns(channel int, from, to float64, n int) []Extent {
	list := make([]Extent, n)
	i := sort.SearchFloat64s(p.time, from)
	for c := range list {
		end := from + (to-from)*float64(c+1)/float64(n)
		k := i + sort.SearchFloat64s(p.time[i:], end)
		list[c] = p.over(channel, i, k)
		i = k
	}
	return list
}

// over is the extent of the bins from i up to k.
func (p *Picture) over(channel, i, k int) Extent {
	e := nothing
	ch := p.channels[channel]
	level := ch.bins
	for up := 0; i < k; up++ {
		for ; i < k && i%4 != 0; i++ {
			e = e.with(level[i])
		}
		for ; i < k && k%4 != 0; k-- {
			e = e.with(level[k-1])
		}
		if up >= len(ch.levels) {
			for ; i < k; i++ {
				e = e.with(level[i])
			}
			break
		}
		i, k, level = i/4, k/4, ch.levels[up]
	}
	return e
}
