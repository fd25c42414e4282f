package edges

// levels follows a channel that is told as levels: mostly two, and where there are more,
// as of a bus or of a value written at each change, high and low are told from one another
// with a band between them.
type levels struct {
	known  bool
	lo, hi float64 // so far
	now    float64
	state  int     // 1 high, -1 low, 0 not known
	since  float64 // of the last edge
	from   float64 // the highest level since then where it is high, the lowest where it is low
}

// levelBand is where a level is neither high nor low, as shares of the way between both.
const levelBand = 0.4

// Change takes a level that holds from a time on until the next change.
func (f *Finder) Change(t, level float64) {
	f.stepped = true
	l := &f.levels
	if !l.known {
		*l = levels{known: true, lo: level, hi: level, now: level, since: t, from: level}
		return
	}
	if level == l.now {
		return
	}
	l.lo, l.hi = min(l.lo, level), max(l.hi, level)
	before := l.state
	if before == 0 {
		before = l.stateOf(l.now)
	}
	l.now = level
	state := l.stateOf(level)
	if state == 0 || state == before {
		if l.state = before; before > 0 {
			l.from = max(l.from, level)
		} else if before < 0 {
			l.from = min(l.from, level)
		}
		return
	}
	if before != 0 {
		f.scans[0].edges = append(f.scans[0].edges, Edge{At: t, From: float32(l.from), To: float32(level), Way: float32(t - l.since)})
		l.since = t
	}
	l.state, l.from = state, level
}

// stateOf tells whether a level is high or low.
func (l *levels) stateOf(level float64) int {
	switch band := levelBand * (l.hi - l.lo); {
	case level > l.hi-band:
		return 1
	case level < l.lo+band:
		return -1
	}
	return 0
}
