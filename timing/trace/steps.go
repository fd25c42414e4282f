package trace

// held is the level a channel holds between changes.
type held struct {
	level, since float64
	known        bool
}

// change takes changes of level: what each row says holds until the next. roomy: edges are
// still sought. The spread of values counts each level once a change, so that a long rest
// of the engine does not outweigh its turning.
func (c *channel) change(t, v []float64, first float64, roomy bool) {
	for i, x := range v {
		if c.held.known {
			c.thin.hold(c.held.since-first, t[i]-first, c.held.level)
		}
		c.held.since = t[i]
		if x != x { // not known until it changes again
			c.lost++
			c.held.known = false
			continue
		}
		if !c.held.known || x != c.held.level {
			c.values.add(x)
		}
		c.held.known, c.held.level = true, x
		if roomy {
			c.edges.Change(t[i], x)
		}
	}
}

// hold keeps a level from one time to another, in seconds since the first sample.
func (s *thinned) hold(from, to, level float64) {
	if s.width == 0 {
		s.width = thinSeconds
	}
	for to >= s.width*thinMost {
		s.flush()
		s.halve()
	}
	for i := int(from / s.width); from < to; i++ {
		if end := min(to, s.width*float64(i+1)); end > from {
			s.addFor(i, level, end-from)
			from = end
		}
	}
}

// tellLevels says of each channel what was done to see its levels.
func (c *Collector) tellLevels(a *Analysis) {
	for i := range c.channels {
		if n := c.channels[i].edges.Glitches(); n > 0 {
			a.fault(Fault{Kind: Glitches, Name: c.label(i), N: n})
		}
		if tau := c.channels[i].edges.Coupled(); tau > 0 {
			a.fault(Fault{Kind: Coupled, Name: c.label(i), Value: 1e3 * tau})
		}
	}
}
