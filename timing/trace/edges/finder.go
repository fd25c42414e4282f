package edges

import "math"

// Smoothings is at how many degrees of smoothing edges are looked for: in the samples
// themselves and in means of 4, 16 and 64. Which serves best depends on the noise and
// on how many samples a tooth has, and is known only at the end.
const Smoothings = 4

// Finder finds the edges of one channel while its samples pass by.
type Finder struct {
	noise  noise
	unwrap unwrap
	scans  [Smoothings]scan
	jumps  jumps
	gap    float64 // seconds from sample to sample

	stepped  bool // it was told levels, or found them behind a capacitor
	levels   levels
	glitches int
	tau      float64 // time constant of the capacitor; 0: there is none
}

// Add takes samples that are dt seconds apart; none of them is NaN, but times may lack
// some.
func (f *Finder) Add(t, v []float64, dt float64) {
	if len(v) == 0 {
		return
	}
	f.noise.add(v)
	f.gap = dt
	f.jumps.wide = f.unwrap.hi - f.unwrap.lo
	f.jumps.add(t, v, dt, f.noise.deviation())
	v = f.unwrap.add(v, f.noise.deviation(), f.noise.step)
	least := f.least()
	fade := math.Exp(-dt * float64(len(v)) / fadeSeconds)
	for k := range f.scans {
		s := &f.scans[k]
		s.of = 1 << (2 * k)
		s.envelope *= fade
		s.add(t, v)
		s.find(max(noiseFactor*f.noise.deviation()/math.Sqrt(float64(s.of)), least/float64(min(s.of, 4))), 4*dt*float64(s.of))
	}
}

// Finish ends what is on the way after the last sample.
func (f *Finder) Finish() {
	f.jumps.wide = f.unwrap.hi - f.unwrap.lo
	if tau, ok := f.jumps.coupled(); ok {
		f.tau, f.stepped = tau, true
		f.scans = [Smoothings]scan{{edges: f.jumps.edges}}
	}
	f.jumps = jumps{}
	if f.stepped {
		f.scans[0].edges, f.glitches = Deglitch(f.scans[0].edges)
		return
	}
	for k := range f.scans {
		s := &f.scans[k]
		s.end(4 * f.gap * float64(s.of))
		if least := f.least(); least > 0 { // a converter that flickers was two levels as long as nothing else was seen
			all := make([]float64, len(s.edges))
			for i := range all {
				all[i] = least
			}
			s.edges = Prune(s.edges, 1/float64(min(s.of, 4)), all)
		}
	}
}

// least is what an edge must be by the steps of the converter: 0 where there are two
// levels and nothing between.
func (f *Finder) least() float64 {
	least := stepFactor * f.noise.step
	if least > 0.15*(f.unwrap.hi-f.unwrap.lo) {
		return 0
	}
	return least
}

// Edges returns the edges found at a degree of smoothing, from 0, in order of time.
func (f *Finder) Edges(smoothing int) []Edge { return f.scans[smoothing].edges }

// Count is how many edges are kept in all.
func (f *Finder) Count() int {
	n := 0
	for k := range f.scans {
		n += len(f.scans[k].edges)
	}
	return n
}

// Noise is the standard deviation of the noise from sample to sample.
func (f *Finder) Noise() float64 { return f.noise.deviation() }

// Wrapped is how many samples were mended because the converter wrapped them.
func (f *Finder) Wrapped() int64 { return f.unwrap.Mended }

// Stepped tells whether the edges are changes of level that say nothing of a signal's
// shape: told as such, or found behind a capacitor.
func (f *Finder) Stepped() bool { return f.stepped }

// Glitches is how many pulses were too short for a tooth and were taken out.
func (f *Finder) Glitches() int { return f.glitches }

// Coupled is the time constant, in seconds, of the capacitor that the levels were found
// behind; 0 where there is none.
func (f *Finder) Coupled() float64 { return f.tau }
