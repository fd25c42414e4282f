package ripple

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A wheel's teeth are out of place, and what that does to the speed comes again every
// turn, as the ripple of many engines does. So the fit looks at where the teeth pass
// rather than at the speed: how far each passes from where the model has it, in
// degrees. In those numbers
//
//   - a tooth out of place is one number that comes again every turn,
//   - the noise of a single passing is one number that does not,
//   - a torque that comes by chance is a walk of the energy, summed up.
//
// The first is an unknown of the fit, with a variance that is learned from the
// recording; the other two are its noise (generalised least squares: Searle, Casella,
// McCulloch, Variance Components, 1992, ch. 7; from memory).

// play is how a wheel's teeth are out of place: standard deviations in degrees.
type play struct {
	white  float64 // of each tooth for itself
	runout float64 // of a once-a-turn sine and cosine
}

// Limits of what is learned of it. Our assumptions.
var (
	whites  = []float64{0.01, 0.02, 0.035, 0.06, 0.1, 0.16, 0.25}
	runouts = []float64{0.05, 0.15, 0.4}
)

const (
	usualRunout = 0.1  // degrees, and within a factor of
	runoutLog   = 0.8  // e to this
	ovalShare   = 0.15 // of the white, and
	ovalFloor   = 0.01 // degrees: of each low overtone of a turn, for errors that are not white
	overtonesTo = 4
)

// covariance of the teeth at their positions, of a wheel of n; a bent one may be
// anywhere.
func (p play) covariance(teeth []int, bent []bool, n int) *mat.SymDense {
	v := mat.NewSymDense(len(teeth), nil)
	oval := ovalFloor + ovalShare*p.white
	for a, i := range teeth {
		for b := a; b < len(teeth); b++ {
			turn := 2 * math.Pi * float64(i-teeth[b]) / float64(n)
			x := square(p.runout) * math.Cos(turn)
			for h := 2; h <= overtonesTo; h++ {
				x += square(oval) * math.Cos(float64(h)*turn)
			}
			if a == b {
				x += square(p.white)
				if bent[a] {
					x += square(bentU)
				}
			}
			v.SetSym(a, b, x)
		}
	}
	return v
}

// Limits of what is taken for a bent tooth.
const (
	bentU     = 5.0  // degrees
	bentSigma = 5.0  // standard deviations from the others
	bentLeast = 0.25 // degrees; less is no damage
)

// findBent marks teeth that are out of place beyond what the others are.
func (f *fit) findBent(places []float64) {
	middle := median(places)
	away := make([]float64, len(places))
	for i, p := range places {
		away[i] = math.Abs(p - middle)
	}
	limit := max(bentSigma*1.4826*median(away), bentLeast) // of a normal distribution, the median deviation is 1/1.4826 of the standard one
	for i := range places {
		f.frame.bent[i] = f.frame.bent[i] || away[i] > limit
	}
}

// findDoubtful marks single passings that lie far from those of the same tooth in other
// cycles: an edge too early or too late, by a glitch.
func (f *fit) findDoubtful(left [][]float64, mean []float64) {
	if f.windows < 4 {
		return
	}
	var sizes []float64
	bend := func(w, k int) float64 {
		v := func(i int) float64 { return left[w][i] - mean[i] }
		return v(k) - (v(k-1)+v(k+1))/2
	}
	for w := range left {
		for k := 1; k+1 < len(mean); k++ {
			sizes = append(sizes, math.Abs(bend(w, k)))
		}
	}
	limit := max(doubtSigma*1.4826*median(sizes), doubtLeast)
	for w := range left {
		f.doubtful[w] = nil
		for k := 1; k+1 < len(mean) && len(f.doubtful[w]) < mostDoubts; k++ {
			if b := math.Abs(bend(w, k)); b > limit && b >= math.Abs(bend(w, max(k-1, 1))) && b >= math.Abs(bend(w, min(k+1, len(mean)-2))) {
				f.doubtful[w] = append(f.doubtful[w], k)
			}
		}
	}
}

// Limits of what is not believed.
const (
	doubtSigma = 7.0
	doubtLeast = 0.1 // degrees
	mostDoubts = 8   // in a cycle
)

// chance is the noise of a recording.
type chance struct {
	passing float64 // variance of one tooth's passing, degrees squared
	walk    float64 // of the energy's walk, over that of the passing
}

// walks are tried, over the size of the walk itself.
var walks = []float64{0, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000, 3000, 1e4, 3e4, 1e5, 3e5}
