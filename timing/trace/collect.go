package trace

import (
	"context"
	"errors"
	"io"
	"math"
	"slices"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/trace/samples"
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
	room     int     // for so many edges
	stepped  bool    // levels hold from each row to the next
	full     float64 // when there was no more room; 0: never
}

// channel is what is kept of one.
type channel struct {
	edges  edges.Finder
	values histogram
	thin   thinned
	lost   int64 // samples that were out of range or left empty
	skip   int
	held   held
	sound  [2][]float64 // times and values of a block that has lost samples, without them
}

// mostEdges bounds the edges that are kept of a whole recording, at all degrees of
// smoothing, and with them the memory: enough for half an hour of cranking.
const mostEdges = 6 << 20

// NewCollector takes the samples of these channels.
func NewCollector(channels []samples.Channel) *Collector {
	c := &Collector{channels: make([]channel, len(channels)), first: math.NaN(), room: mostEdges}
	for i := range c.channels {
		c.names, c.units = append(c.names, channels[i].Name), append(c.units, channels[i].Unit)
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
	c.stepped = b.Steps
	edges := 0
	for i := range c.channels {
		c.channels[i].add(b.Time, b.Values[i], c.first, dt, b.Holds(i), c.full == 0)
		edges += c.channels[i].edges.Count()
	}
	if edges >= c.room && c.full == 0 {
		c.full = b.Time[n-1] - c.first
	}
	c.last = b.Time[n-1]
}

// add takes samples, or with steps levels that hold each until the next. roomy: edges are
// still sought.
func (c *channel) add(t, v []float64, first, dt float64, steps, roomy bool) {
	if steps {
		c.change(t, v, first, roomy)
		return
	}
	before := c.lost
	for _, x := range v {
		if x != x {
			c.lost++
		}
	}
	c.thin.addAll(t, v, first)
	for ; c.skip < len(v); c.skip += 7 { // one in seven is enough to know the spread
		if x := v[c.skip]; x == x {
			c.values.add(x)
		}
	}
	c.skip -= len(v)
	if !roomy {
		return
	}
	if c.lost > before {
		c.sound[0], c.sound[1] = c.sound[0][:0], c.sound[1][:0]
		for i, x := range v {
			if x == x {
				c.sound[0], c.sound[1] = append(c.sound[0], t[i]), append(c.sound[1], x)
			}
		}
		t, v = c.sound[0], c.sound[1]
	}
	c.edges.Add(t, v, dt)
}

// flat tells whether a channel does not move.
func (c *channel) flat() bool {
	if c.values.n == 0 {
		return true
	}
	lo, hi := c.values.quantile(0.005), c.values.quantile(0.995)
	span := hi - lo
	return !(span > 0) || span < 1e-9*math.Max(math.Abs(lo), math.Abs(hi))
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

// addAll adds samples, those that are no numbers left out. Times are taken from the first
// one of the recording on.
func (s *thinned) addAll(t, v []float64, first float64) {
	for i := 0; i < len(v); {
		s.add(t[i]-first, v[i])
		// Those that fall into the same stretch need no more than to be added.
		end, sum, n := first+s.width*float64(s.at+1), 0.0, 0
		for i++; i < len(v) && t[i] < end; i++ {
			if x := v[i]; x == x {
				sum += x
				n++
			}
		}
		s.sum += sum
		s.n += float64(n)
	}
}

func (s *thinned) add(t, x float64) {
	if x != x {
		return
	}
	if s.width == 0 {
		s.width = thinSeconds
	}
	i := int(t / s.width)
	if i != s.at {
		for i >= thinMost {
			s.flush()
			s.halve()
			i = int(t / s.width)
		}
	}
	s.addFor(i, x, 1)
}

// addFor adds a value to stretch i, by a weight.
func (s *thinned) addFor(i int, x, weight float64) {
	if i != s.at {
		s.flush()
		i = max(i, s.at) // times that were evened out may step back by a hair
		for len(s.mean) < i {
			s.mean = append(s.mean, float32(math.NaN()))
		}
		s.at = i
	}
	s.sum += x * weight
	s.n += weight
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

// rest is where the signal mostly is: its median, and as a share, 0 and 1 being where it
// is least and most; NaN where it does not move.
func (s *thinned) rest() (share, value float64) {
	var v []float64
	for i := 0; i < len(s.mean); i += max(len(s.mean)/4096, 1) {
		if x := float64(s.mean[i]); x == x {
			v = append(v, x)
		}
	}
	if len(v) < 20 {
		return math.NaN(), math.NaN()
	}
	slices.Sort(v)
	lo, hi := v[len(v)/200], v[len(v)-1-len(v)/200]
	if !(hi > lo) {
		return math.NaN(), math.NaN()
	}
	return (v[len(v)/2] - lo) / (hi - lo), v[len(v)/2]
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
		c.channels[i].edges.Finish()
	}
}
