package trace

import "math"

// What an amplifier cuts off, by trial. Shares are of the samples and of the range.
const (
	clipShare = 0.02 // at the very end of the range, at least
	clipNext  = 0.02 // of the range beside it
	clipTimes = 3.0  // by which more samples are at the end than there: a wave dwells at its crest too
	clipLate  = 0.02 // of a pitch, by which edges were moved because the signal is cut off
)

// extremes are the least and the greatest value, and how many samples had just that.
type extremes struct {
	least, most     float64
	atLeast, atMost int64
}

func (e *extremes) add(x float64, first bool) {
	switch {
	case first:
		*e = extremes{x, x, 1, 1}
		return
	case x < e.least:
		e.least, e.atLeast = x, 0
	case x > e.most:
		e.most, e.atMost = x, 0
	}
	if x == e.least {
		e.atLeast++
	}
	if x == e.most {
		e.atMost++
	}
}

// clip is a level at which a signal is cut off, and the share of the samples that are.
type clip struct{ level, share float64 }

// clips are the levels at which a channel's signal is cut off: at one end of its range, at
// both or at none. least is the share of the samples that must be.
func (h *histogram) clips(least float64) []clip {
	var list []clip
	wide := h.ends.most - h.ends.least
	if h.n == 0 || !(wide > 0) {
		return nil
	}
	all := float64(h.n)
	for _, end := range []struct {
		level  float64
		n      int64
		beside float64
	}{{h.ends.least, h.ends.atLeast, h.ends.least + clipNext*wide}, {h.ends.most, h.ends.atMost, h.ends.most - clipNext*wide}} {
		beside := h.between(min(end.level, end.beside), max(end.level, end.beside)) - end.n
		if beside == 0 { // a coarse converter's next step lies further away
			beside = h.beside(end.level, end.level > end.beside)
		}
		next := float64(beside) / all
		if share := float64(end.n) / all; share >= least && share >= clipTimes*next {
			list = append(list, clip{end.level, share})
		}
	}
	return list
}

// tellClips says where the amplifier cut an inductive crank sensor's signal off, and
// whether its edges are whole all the same: they are where none had to be moved for it
// and their slope is not in doubt.
func (c *Collector) tellClips(a *Analysis, r reading) {
	if r.levels {
		return
	}
	kind := Clipped
	if math.Abs(r.late) > clipLate || r.right < 1 {
		kind = ClippedEdges
	}
	for _, clip := range c.channels[r.channel].values.clips(clipShare) {
		a.fault(Fault{Kind: kind, Name: c.label(r.channel), Value: clip.level, N: int(100*clip.share + 0.5)})
	}
}
