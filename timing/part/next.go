package part

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// Feature is one of the two angles that are measured on a crankshaft.
type Feature int

// The two features.
const (
	Dowel  Feature = iota // from the keyway
	Keyway                // from the No. 1 throw
)

// String returns the feature as its section of the job file is named.
func (f Feature) String() string { return [...]string{"dowel", "keyway"}[f] }

// Candidate is a reading that could be taken next and what it is expected to
// tell, before it is taken.
type Candidate struct {
	Feature Feature
	U       timing.Deg // with which it would be taken
	Bits    float64    // expected information on which kind the part is
	Leading float64    // expected probability of the then most probable kind
}

// WheelU is the standard uncertainty of the reading that [Verdict.Next] thinks
// of: a degree wheel at both features, each read with [DefaultAngleU].
const WheelU = DefaultAngleU * math.Sqrt2

// Next returns the readings that could be taken next, the most telling first: the
// dowel again and the keyway, each with a degree wheel.
func (v Verdict) Next() []Candidate {
	list := []Candidate{v.Expect(Keyway, WheelU), v.Expect(Dowel, WheelU)}
	slices.SortStableFunc(list, func(a, b Candidate) int {
		switch {
		case a.Bits > b.Bits:
			return -1
		case a.Bits < b.Bits:
			return 1
		}
		return 0
	})
	return list
}

// Expect returns what a reading of the feature with standard uncertainty u is
// expected to tell: the mutual information of reading and kind (MacKay,
// Information Theory, Inference, and Learning Algorithms, 2003, eq. 8.8; number
// from memory), summed over all angles that could be read. u must be above 0.
func (v Verdict) Expect(f Feature, u timing.Deg) Candidate {
	ahead := make([]spread, len(v.Cases))
	narrow := float64(timing.Turn) / 360
	for i, k := range v.known {
		s := k.dowel
		if f == Keyway {
			s = k.keyway
		}
		if ahead[i] = s.wider(float64(u)); !s.flat {
			narrow = math.Min(narrow, ahead[i].sd)
		}
	}
	// Sums of bells by the trapezium rule are exact to many digits once the steps
	// are half as wide as the narrowest.
	n := min(int(math.Ceil(2*float64(timing.Turn)/narrow)), 100_000)
	step := float64(timing.Turn) / float64(n)
	var joint [4][]float64 // probability of each kind and of each reading
	for k := range joint {
		joint[k] = make([]float64, n)
	}
	for j, s := range ahead {
		s.addTo(joint[v.Cases[j].Kind()], v.Cases[j].Probability*step, step)
	}
	c := Candidate{Feature: f, U: u}
	prior := v.kinds()
	for i := range n {
		most, total := 0.0, 0.0
		for k := range joint {
			most, total = math.Max(most, joint[k][i]), total+joint[k][i]
		}
		c.Leading += most
		for k := range joint {
			if p := joint[k][i]; p > 0 {
				c.Bits += p * (math.Log2(p/total) - math.Log2(prior[k]))
			}
		}
	}
	c.Bits = math.Max(0, c.Bits)
	c.Leading = math.Min(1, c.Leading)
	return c
}

// addTo adds the spread's density, times weight, to a list over the whole turn
// whose item i stands for the angle i*step. Ten standard deviations out a bell is
// nothing.
func (s spread) addTo(list []float64, weight, step float64) {
	if s.flat {
		for i := range list {
			list[i] += weight / float64(timing.Turn)
		}
		return
	}
	n := len(list)
	reach := min(int(10*s.sd/step)+1, n/2)
	middle := int(math.Round(s.at / step))
	for i := middle - reach; i < middle-reach+min(2*reach+1, n); i++ {
		z := spread{at: float64(i) * step}
		list[((i%n)+n)%n] += weight * s.density(z)
	}
}
