package ripple

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// row is one interval from tooth to tooth.
type row struct {
	from, to float64 // controller's angle, degrees
	y        float64 // w^2/2 over the interval
	travel   float64 // integral of w over the angle, rad^2/s, up to its middle
	charge   float64 // integral of the starter's current over the angle
	window   int
}

// span is a cycle of a run: its first tooth and its last.
type span struct{ run, from, to int }

// spans cuts the runs into cycles over which no tooth is lost, all of which begin at
// the same tooth of the wheel: what the wheel does is then the same in each.
func (in Input) spans() []span {
	longest := 0
	for r, k := range in.Runs {
		if len(k.Place) > len(in.Runs[longest].Place) {
			longest = r
		}
	}
	n := in.Wheel.Positions
	if len(in.Runs) == 0 || len(in.Runs[longest].Place) == 0 {
		return nil
	}
	mod := func(place int) int { return ((place % n) + n) % n }
	begin := mod(in.Runs[longest].Place[0])
	turns := int(math.Round(float64(in.Engine.Scheme.Cycle() / timing.Turn)))
	teeth := turns * in.Wheel.Teeth()
	var list []span
	for r, k := range in.Runs {
		first := true
		for i := 0; i+teeth < len(k.Place); i++ {
			if mod(k.Place[i]) != begin || k.Place[i+teeth]-k.Place[i] != turns*n {
				continue
			}
			// The first cycle may begin at rest, with air in the cylinders that has
			// not been drawn in: it counts only where there is hardly another.
			if !first || k.Place[len(k.Place)-1]-k.Place[0] < 3*turns*n {
				list = append(list, span{r, i, i + teeth})
			}
			i, first = i+teeth-1, false
		}
	}
	return list
}

// steady keeps the cycles that turn at a steady mean speed, in rad/s, spread over the
// recording if they are many.
func (in Input) steady(list []span) (kept []span, speed float64) {
	if len(list) == 0 {
		return nil, 0
	}
	cycle := float64(in.Engine.Scheme.Cycle()) * math.Pi / 180
	var speeds []float64
	for _, s := range list {
		t := in.Runs[s.run].Time
		speeds = append(speeds, cycle/(t[s.to]-t[s.from]))
	}
	speed = median(speeds)
	every := max(1, (len(list)+mostCycles-1)/mostCycles)
	n := 0
	for i, s := range list {
		if speeds[i] < 0.75*speed || speeds[i] > 1.25*speed {
			continue // coming up to speed, or firing
		}
		if n++; (n-1)%every == 0 {
			kept = append(kept, s)
		}
	}
	return kept, speed
}

// rows cuts cycles into intervals from tooth to tooth.
func (in Input) rows(spans []span) (list []row) {
	for window, s := range spans {
		k := in.Runs[s.run]
		travel, charge := 0.0, 0.0
		for j := s.from; j < s.to; j++ {
			from, to := in.angle(k, j), in.angle(k, j+1)
			turned := (to - from) * math.Pi / 180
			w := turned / (k.Time[j+1] - k.Time[j])
			q := 0.0
			if in.Current != nil {
				q = in.Current((k.Time[j]+k.Time[j+1])/2) * turned
			}
			list = append(list, row{from, to, w * w / 2, travel + w*turned/2, charge + q/2, window})
			travel += w * turned
			charge += q
		}
	}
	return list
}

// angle is the controller's angle at which a tooth of a run passes, in degrees.
func (in Input) angle(r Run, i int) float64 {
	return r.Ahead - float64(in.Wheel.FirstToothBTDC) + float64(timing.Turn)*float64(r.Place[i])/float64(in.Wheel.Positions)
}

// mean is that of a function of the controller's angle over the row.
func (r row) mean(of func(deg float64) float64) float64 {
	steps := int(math.Ceil((r.to - r.from) / finePitch))
	sum := 0.0
	for k := range steps {
		sum += of(r.from + (r.to-r.from)*(float64(k)+0.5)/float64(steps))
	}
	return sum / float64(steps)
}
