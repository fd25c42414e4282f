package ripple

import "math"

// drive are columns of what the starter and friction do as the speed changes.
type drive struct {
	travel []float64 // integral of the speed over the angle
	curve  []float64 // of the square of its deviation from the mean, over the mean
	rub    []float64 // see [fit.rubbing]
}

// driveOf takes the speed that is the fit's and not the measured one. A chance torque
// drives the measured speed up and the energy with it; beside that column it would pass
// for less braking by the speed, and top dead centre would seem degrees early (a
// regressor that depends on the error). rest is what the fit leaves.
func (f *fit) driveOf(rest []float64, tdc float64) drive {
	level := 0.0
	for _, r := range f.rows {
		level += r.y / float64(len(f.rows))
	}
	mean := math.Sqrt(2 * level)
	d := drive{make([]float64, len(f.rows)), make([]float64, len(f.rows)), f.rubbing(tdc)}
	last := 0.0
	for i, r := range f.rows {
		speed := math.Sqrt(2 * max(r.y-rest[i], 0.02*level))
		if i > f.begin[r.window] {
			before := f.rows[i-1]
			way := ((r.from + r.to) - (before.from + before.to)) / 2 * math.Pi / 180
			d.travel[i] = d.travel[i-1] + (last+speed)/2*way
			d.curve[i] = d.curve[i-1] + square((last+speed)/2-mean)/mean*way
		}
		last = speed
	}
	return d
}
