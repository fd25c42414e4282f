package edges

import (
	"math"
	"slices"
)

// Edge is the way of a signal from one turning point to the next.
type Edge struct {
	At       float64 // seconds; NaN where the samples round it are lost
	From, To float32 // the values between which it goes
	Level    float32 // the value at which it is passed
	Flank    float32 // seconds that half of the way takes there
	Way      float32 // seconds from turning point to turning point
}

// Rising tells whether the signal goes up.
func (e Edge) Rising() bool { return e.To > e.From }

// Size is how far the signal goes.
func (e Edge) Size() float64 { return math.Abs(float64(e.To) - float64(e.From)) }

// scaleReach is how many edges to either side tell how large edges are here.
const scaleReach = 24

// Scales returns for each edge how large edges round it are: the size above which half
// of the way lies that the signal goes there, so that many small ones weigh little.
func Scales(list []Edge) []float64 {
	const every = 8 // edges that share one
	scales := make([]float64, len(list))
	var near []float64
	for from := 0; from < len(list); from += every {
		near = near[:0]
		sum := 0.0
		for i := max(from-scaleReach, 0); i < min(from+every+scaleReach, len(list)); i++ {
			near = append(near, list[i].Size())
			sum += list[i].Size()
		}
		slices.Sort(near)
		half := sum / 2
		k := len(near) - 1
		for ; k > 0 && half > near[k]; k-- {
			half -= near[k]
		}
		for i := from; i < min(from+every, len(list)); i++ {
			scales[i] = near[k]
		}
	}
	return scales
}

// Tallest returns for each edge the largest one within so many seconds.
func Tallest(list []Edge, seconds float64) []float64 {
	tall := make([]float64, len(list))
	var order []int // edges ahead and behind that are smaller the later they come
	to := 0
	for i, e := range list {
		for ; to < len(list) && !(list[to].At-e.At > seconds); to++ {
			for n := len(order); n > 0 && list[order[n-1]].Size() <= list[to].Size(); n-- {
				order = order[:n-1]
			}
			order = append(order, to)
		}
		for len(order) > 1 && e.At-list[order[0]].At > seconds {
			order = order[1:]
		}
		tall[i] = list[order[0]].Size()
	}
	return tall
}

// Prune takes out edges there and back that are smaller than a share of the edges
// round them, which are so large; what is left still goes up and down in turn.
func Prune(list []Edge, share float64, scales []float64) []Edge {
	kept := make([]Edge, 0, len(list))
	least := make([]float64, 0, len(list)) // below which the edge goes
	for i, e := range list {
		kept, least = append(kept, e), append(least, share*scales[i])
		for n := len(kept); n >= 3; n = len(kept) {
			a, b, c := kept[n-3], kept[n-2], kept[n-1]
			if s := b.Size(); s >= least[n-2] || s > a.Size() || s > c.Size() {
				break
			}
			kept, least = kept[:n-2], least[:n-2]
			kept[n-3], least[n-3] = joined(a, c), max(least[n-3], share*scales[i])
			least[n-3] = min(least[n-3], share*scales[i])
		}
	}
	return kept
}

// joined is the edge that two of one direction make, what lay between taken out.
func joined(a, c Edge) Edge {
	e := a
	if c.Size() > a.Size() || a.At != a.At {
		e = c
	}
	e.From, e.To, e.Way = a.From, c.To, a.Way+c.Way
	return e
}

// Split parts edges into falling and rising ones, those whose time is lost left out.
func Split(list []Edge) (falling, rising []Edge) {
	for _, e := range list {
		switch {
		case e.At != e.At:
		case e.Rising():
			rising = append(rising, e)
		default:
			falling = append(falling, e)
		}
	}
	return falling, rising
}
