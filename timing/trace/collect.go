package trace

import (
	"context"
	"errors"
	"io"
	"math"

	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// Collector takes the samples of a recording and keeps of each channel its
// edges, the spread of its values and a thinned copy. Its memory is bounded by
// the number of teeth, not of samples. Build one with [NewCollector].
type Collector struct {
	names    []string
	units    []string
	channels []channel
	first    float64
	last     float64
	count    int64   // of samples
	room     int     // for so many edges more
	full     float64 // when there was no more room; 0: never
}

// channel is what is kept of one.
type channel struct {
	values histogram
	rough  roughness
	levels [smoothings]level
	thin   thinned
	lost   int64 // samples that were out of range or left empty
	skip   int
}

// smoothings is at how many degrees of smoothing edges are looked for: in the
// samples themselves and in means of 4, 16 and 64. Which serves best depends on the
// noise and on how many samples a tooth has, and is known only at the end.
const smoothings = 4

// level looks for edges in the means of so many samples.
type level struct {
	of                 int
	inductive, hall    detector
	n                  int
	sumTime, sumValues float64
	meanT, meanV       []float64
}

// add takes samples and hands their means on; a lost sample loses its mean.
func (l *level) add(t, v []float64, dt, noise float64, room *int) {
	noise /= math.Sqrt(float64(l.of))
	l.inductive.noise, l.hall.noise = noise, noise
	if l.of > 1 {
		l.meanT, l.meanV = l.meanT[:0], l.meanV[:0]
		for i, x := range v {
			l.sumTime += t[i]
			l.sumValues += x // NaN stays NaN
			if l.n++; l.n == l.of {
				l.meanT, l.meanV = append(l.meanT, l.sumTime/float64(l.n)), append(l.meanV, l.sumValues/float64(l.n))
				l.n, l.sumTime, l.sumValues = 0, 0, 0
			}
		}
		t, v, dt = l.meanT, l.meanV, dt*float64(l.of)
	}
	l.inductive.add(t, v, dt, room)
	l.hall.add(t, v, dt, room)
}

// detector is the one for a sensor.
func (l *level) detector(s wheel.Sensor) *detector {
	if s == wheel.Hall {
		return &l.hall
	}
	return &l.inductive
}

// NewCollector takes the samples of these channels.
func NewCollector(channels []samples.Channel) *Collector {
	c := &Collector{channels: make([]channel, len(channels)), first: math.NaN(), room: mostEdges}
	for i := range c.channels {
		c.names, c.units = append(c.names, channels[i].Name), append(c.units, channels[i].Unit)
		for k := range c.channels[i].levels {
			l := &c.channels[i].levels[k]
			l.of, l.hall.levels = 1<<(2*k), true
		}
	}
	return c
}

// Add takes the next samples.
func (c *Collector) Add(b *samples.Block) {
	n := len(b.Time)
	if n == 0 {
		return
	}
	if c.count == 0 {
		c.first, c.last = b.Time[0], b.Time[0]
	}
	c.count += int64(n)
	dt := (b.Time[n-1] - b.Time[0]) / float64(max(n-1, 1))
	if n == 1 {
		dt = b.Time[0] - c.last
	}
	if !(dt > 0) {
		dt = 1e-6
	}
	for i := range c.channels {
		c.channels[i].add(b.Time, b.Values[i], c.first, dt, &c.room)
	}
	if c.room <= 0 && c.full == 0 {
		c.full = b.Time[n-1] - c.first
	}
	c.last = b.Time[n-1]
}

func (c *channel) add(t, v []float64, first, dt float64, room *int) {
	c.rough.add(v, dt)
	for k := range c.levels {
		c.levels[k].add(t, v, dt, c.rough.noise(), room)
	}
	for i, x := range v {
		if x != x {
			c.lost++
			continue
		}
		c.thin.add(t[i]-first, x)
		if c.skip++; c.skip >= 7 { // one in seven is enough to know the spread
			c.skip = 0
			c.values.add(x)
		}
	}
}

// kind tells what a channel's values look like.
type kind int

const (
	flat    kind = iota
	twoStep      // two levels
	waving       // anything else that moves
)

// kind judges by the spread of the values: a Hall sensor dwells at two levels.
func (c *channel) kind() kind {
	if c.values.n == 0 {
		return flat
	}
	lo, hi := c.values.quantile(0.005), c.values.quantile(0.995)
	span := hi - lo
	if !(span > 0) || span < 1e-9*math.Max(math.Abs(lo), math.Abs(hi)) {
		return flat
	}
	low, high := c.values.within(lo-span, lo+0.2*span), c.values.within(hi-0.2*span, hi+span)
	if low+high > 0.85 && low > 0.02 && high > 0.02 {
		return twoStep
	}
	return waving
}

// noise is the standard deviation of the channel's noise from sample to sample.
func (c *channel) noise() float64 { return c.rough.noise() }

// pulses tells whether the channel is clearly one of pulses to both sides of a
// level at which it mostly stays, as an inductive cam sensor's is.
func (c *channel) pulses() bool {
	rest := c.values.quantile(0.5)
	up := c.values.quantile(0.995) - rest - 2.6*c.noise()
	down := rest - c.values.quantile(0.005) - 2.6*c.noise()
	return min(up, down) > 0.4*max(up, down) && min(up, down) > 3*c.noise()
}

// thinned keeps means over short stretches of time. When there are too many, two
// become one.
type thinned struct {
	width  float64 // seconds
	mean   []float32
	at     int // the stretch being filled
	sum, n float64
}

const (
	thinSeconds = 0.5e-3
	thinMost    = 1 << 19
)

func (s *thinned) add(t, x float64) {
	if s.width == 0 {
		s.width = thinSeconds
	}
	i := int(t / s.width)
	if i != s.at {
		s.flush()
		for i >= thinMost {
			s.halve()
			i = int(t / s.width)
		}
		if i < s.at { // times that were evened out may step back by a hair
			i = s.at
		}
		for len(s.mean) < i {
			s.mean = append(s.mean, float32(math.NaN()))
		}
		s.at = i
	}
	s.sum += x
	s.n++
}

func (s *thinned) flush() {
	if s.n > 0 && s.at == len(s.mean) {
		s.mean = append(s.mean, float32(s.sum/s.n))
	}
	s.sum, s.n = 0, 0
}

func (s *thinned) halve() {
	for i := 0; 2*i < len(s.mean); i++ {
		a := s.mean[2*i]
		b := a
		if 2*i+1 < len(s.mean) {
			b = s.mean[2*i+1]
		}
		switch {
		case a != a:
			a = b
		case b == b:
			a = (a + b) / 2
		}
		s.mean[i] = a
	}
	s.mean = s.mean[:(len(s.mean)+1)/2]
	s.width *= 2
	s.at = len(s.mean)
}

// value returns the mean at a time since the first sample, NaN where there is
// none.
func (s *thinned) value(t float64) float64 {
	x := t/s.width - 0.5
	i := int(math.Floor(x))
	if i < 0 || i+1 >= len(s.mean) {
		return math.NaN()
	}
	part := x - float64(i)
	return float64(s.mean[i])*(1-part) + float64(s.mean[i+1])*part
}

// Collect reads a whole recording. progress, when not nil, is told the bytes read
// so far after every block; the work ends early with the context's error.
func Collect(ctx context.Context, r *samples.Reader, progress func(bytes int64), also func(*samples.Block)) (*Collector, error) {
	c := NewCollector(r.Channels())
	err := ahead(ctx, r, func(b *samples.Block, bytes int64) {
		c.Add(b)
		if also != nil {
			also(b)
		}
		if progress != nil {
			progress(bytes)
		}
	})
	if !errors.Is(err, io.EOF) {
		return nil, err
	}
	c.finish()
	return c, nil
}

// finish ends what is on the way after the last block.
func (c *Collector) finish() {
	for i := range c.channels {
		c.channels[i].thin.flush()
	}
}
