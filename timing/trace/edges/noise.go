package edges

import "math"

// noise follows how much a channel's noise scatters from sample to sample, and in what
// steps its converter counts. Pieces of the samples are enough.
type noise struct {
	second, fourth float64 // quiet sizes of the second and the fourth differences
	pieces         int
	step           float64 // the least way from one sample to the next that is one; 0: not seen
	size           [piece]float64
}

// Settings of the noise, by trial.
const (
	piece       = 32  // samples, of which the differences are taken
	spacing     = 512 // samples from one piece to the next
	quiet       = 0.3 // quantile of the differences: edges, which are not noise, may be among most of them
	noiseFollow = 0.1 // share by which a piece counts
)

// quietNormal is that quantile of the size of a standard normal number, 0.385; the
// differences of white noise are its standard deviation times the root of 6 and of 70.
const quietNormal = 0.38532046640756773

func (r *noise) add(v []float64) {
	for from := 0; from == 0 || from+piece <= len(v); from += spacing {
		p := v[from:min(from+piece, len(v))]
		if len(p) < 6 {
			return
		}
		n := 0
		for i := 4; i < len(p); i++ {
			r.size[n] = math.Abs(p[i] - 2*p[i-1] + p[i-2])
			n++
			if d := math.Abs(p[i] - p[i-1]); d > 0 && (d < r.step || r.step == 0) {
				r.step = d
			}
		}
		second := quietest(r.size[:n])
		for i := 4; i < len(p); i++ {
			r.size[i-4] = math.Abs(p[i] - 4*p[i-1] + 6*p[i-2] - 4*p[i-3] + p[i-4])
		}
		fourth := quietest(r.size[:n])
		r.pieces++
		gain := max(1/float64(r.pieces), noiseFollow)
		r.second += gain * (second - r.second)
		r.fourth += gain * (fourth - r.fourth)
	}
}

// quietest is the quantile of some sizes, of which there are at most piece: the largest of
// the least ones, which are kept in order.
func quietest(sizes []float64) float64 {
	var least [piece]float64
	k := int(quiet * float64(len(sizes)))
	for n, x := range sizes {
		i := min(n, k)
		if n > k && x >= least[k] {
			continue
		}
		for ; i > 0 && least[i-1] > x; i-- {
			least[i] = least[i-1]
		}
		least[i] = x
	}
	return least[k]
}

// deviation is the standard deviation of the noise. A signal that moves much between
// samples shows in the second differences more than in the fourth, one with many jumps
// the other way round: the lesser of the two is nearer.
func (r *noise) deviation() float64 {
	return min(r.second/math.Sqrt(6), r.fourth/math.Sqrt(70)) / quietNormal
}
