package cause

import (
	"cmp"
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// WheelPlace is a band of wheel errors and how probable it is that the wheel is in it.
type WheelPlace struct {
	Wheel       timing.Measured // mean and spread within the band
	Probability float64
}

// WheelWithin returns how probable it is, by all that was seen, that the sensor wheel
// is ahead by an angle, give or take so much: summed over every cause.
func (r *Ranking) WheelWithin(at, by timing.Deg) float64 {
	sum := 0.0
	for _, c := range r.Causes {
		for _, n := range c.nodes {
			if d := timing.Difference(at, n.state.wheelError(), timing.Turn); d >= -by && d <= by {
				sum += n.weight
			}
		}
	}
	return min(sum, 1)
}

// WheelLikeliest returns where the sensor wheel most probably is: the band, so wide
// either way, that holds the most.
func (r *Ranking) WheelLikeliest(by timing.Deg) WheelPlace {
	type at struct{ x, weight float64 }
	var list []at
	turn := float64(timing.Turn)
	for _, c := range r.Causes {
		for _, n := range c.nodes {
			list = append(list, at{float64(timing.Wrap(n.state.wheelError(), timing.Turn)), n.weight})
		}
	}
	slices.SortFunc(list, func(a, b at) int { return cmp.Compare(a.x, b.x) })
	for i, n := 0, len(list); i < n; i++ { // a second time round, for bands over the turn's end
		list = append(list, at{list[i].x + turn, list[i].weight})
	}
	best, from, to, sum, last := -1.0, 0, 0, 0.0, 0
	for first := 0; first < len(list)/2; first++ {
		for ; last < len(list) && list[last].x <= list[first].x+2*float64(by); last++ {
			sum += list[last].weight
		}
		if sum > best+1e-12 {
			best, from, to = sum, first, last
		}
		sum -= list[first].weight
	}
	mean, square, all := 0.0, 0.0, 0.0
	for _, n := range list[from:to] {
		all += n.weight
		mean += n.weight * (n.x - list[from].x)
	}
	if all <= 0 {
		return WheelPlace{}
	}
	mean = mean/all + list[from].x
	for _, n := range list[from:to] {
		square += n.weight * (n.x - mean) * (n.x - mean)
	}
	return WheelPlace{
		Wheel:       timing.Measured{Value: timing.WrapSigned(timing.Deg(mean), timing.Turn), U: timing.Deg(math.Sqrt(square / all))},
		Probability: min(best, 1),
	}
}
