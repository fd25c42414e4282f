package part

import "pinphase.org/pinphase/timing/part/uncertainty"

// Given is an uncertainty that may not have been stated.
type Given struct {
	U     float64
	Known bool
}

func (g Given) or(fallback float64) (u float64, isDefault bool) {
	if g.Known {
		return g.U, false
	}
	return fallback, true
}

// inputs collects what a model takes. Each method that adds one returns how the
// model finds its value again.
type inputs []uncertainty.Input

type pick func(x []float64) float64

// exactly adds nothing: a value that the model takes as it is.
func exactly(v float64) pick { return func([]float64) float64 { return v } }

// single adds a value with its uncertainty.
func (in *inputs) single(name string, value, u float64) pick {
	i := len(*in)
	*in = append(*in, uncertainty.Input{Name: name, Value: value, U: u})
	return func(x []float64) float64 { return x[i] }
}

// repeated adds a reading taken once or several times. Its value is the mean;
// the scatter of several (type A) stands beside the uncertainty u that every one
// of them has (type B) and that repeating does not lessen (JCGM 100:2008, 4.2 and
// 4.3).
func (in *inputs) repeated(name string, first float64, again []float64, u float64) pick {
	if len(again) == 0 {
		return in.single(name, first, u)
	}
	s := append(uncertainty.Series{first}, again...)
	mean := in.single(name, s.Mean(), u)
	i := len(*in)
	*in = append(*in, uncertainty.Input{Name: ReadScatter, U: s.U(), DOF: s.DOF()})
	return func(x []float64) float64 { return mean(x) + x[i] }
}
