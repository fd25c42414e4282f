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

// rows cuts runs into cycles and each cycle into intervals.
func (in Input) rows() (list []row, windows int, rpm float64) {
	cycle, current := float64(in.Engine.Scheme.Cycle()), in.Current
	type span struct{ run, from, to int }
	var spans []span
	var speeds []float64
	angle := make([][]float64, len(in.Runs))
	for r, k := range in.Runs {
		angle[r] = in.angles(k)
		from, first := 0, true
		for i := range k.Time {
			if angle[r][i]-angle[r][from] < cycle-1e-6 {
				continue
			}
			// The first cycle may begin at rest, with air in the cylinders that has
			// not been drawn in: it counts only where there is hardly another.
			if !first || angle[r][len(k.Time)-1]-angle[r][0] < 3*cycle {
				spans = append(spans, span{r, from, i})
				speeds = append(speeds, (angle[r][i]-angle[r][from])/(k.Time[i]-k.Time[from]))
			}
			from, first = i, false
		}
	}
	if len(spans) == 0 {
		return nil, 0, 0
	}
	middle := median(speeds)
	every := max(1, (len(spans)+mostCycles-1)/mostCycles)
	kept := 0
	for i, s := range spans {
		if speeds[i] < 0.75*middle || speeds[i] > 1.25*middle {
			continue // coming up to speed, or firing
		}
		if kept++; (kept-1)%every != 0 {
			continue
		}
		k, at := in.Runs[s.run], angle[s.run]
		travel, charge := 0.0, 0.0
		for j := s.from; j < s.to; j++ {
			turned := (at[j+1] - at[j]) * math.Pi / 180
			w := turned / (k.Time[j+1] - k.Time[j])
			q := 0.0
			if current != nil {
				q = current((k.Time[j]+k.Time[j+1])/2) * turned
			}
			if k.Place[j+1]-k.Place[j] == 1 { // over a gap the speed is known too coarsely
				list = append(list, row{at[j], at[j+1], w * w / 2, travel + w*turned/2, charge + q/2, windows})
			}
			travel += w * turned
			charge += q
		}
		windows++
	}
	return list, windows, middle / 6
}

// angles are the controller's angles at which a run's teeth pass, in degrees.
func (in Input) angles(r Run) []float64 {
	angle := make([]float64, len(r.Place))
	for i, place := range r.Place {
		angle[i] = r.Ahead - float64(in.Wheel.FirstToothBTDC) + float64(timing.Turn)*float64(place)/float64(in.Wheel.Positions)
	}
	return angle
}
