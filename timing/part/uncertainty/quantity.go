// Package uncertainty tells how surely a quantity is known that is worked out
// from readings: a model function, its inputs with their standard
// uncertainties, and out come the value, its uncertainty, its interval and which
// input to better.
//
// [Quantity.Linear] is the law of propagation of JCGM 100:2008 (GUM), with the
// effective degrees of freedom by Welch and Satterthwaite; [Quantity.Draw] is
// the Monte Carlo method of JCGM 101:2008 (Supplement 1); [Quantity.Bend] tells
// how far the model is from the straight line that the first takes it for. The
// package knows no units: value and uncertainty are in the model's own.
package uncertainty

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// Input is one thing that the model takes.
type Input struct {
	Name  string
	Value float64
	U     float64 // standard uncertainty, 0 or more; 0 is taken as exact
	DOF   float64 // degrees of freedom of U, above 0; 0 stands for no limit

	// Draw makes a draw of the input for the Monte Carlo method. Without it an
	// input is normal, or, with DOF, a Student's t shifted to Value and scaled by
	// U (JCGM 101:2008, 6.4.7 and 6.4.9).
	Draw func(*rand.Rand) float64
}

// Rectangular returns an input of which only the limits are known
// (JCGM 100:2008, 4.3.7; JCGM 101:2008, 6.4.2).
func Rectangular(name string, lo, hi float64) Input {
	return Input{
		Name: name, Value: (lo + hi) / 2, U: (hi - lo) / math.Sqrt(12),
		Draw: func(r *rand.Rand) float64 { return lo + (hi-lo)*r.Float64() },
	}
}

// Quantity is something worked out from inputs. The model gets the inputs'
// values in their order and must return a number for any that a draw may give;
// it must not keep or change the slice.
type Quantity struct {
	Inputs []Input
	Model  func(x []float64) float64

	// Slopes returns the model's partial derivatives at x; nil: found
	// numerically, which costs four evaluations of the model an input.
	Slopes func(x []float64) []float64

	// Correlation has a 1 for each input with itself and is positive definite;
	// nil: the inputs are independent. Correlated inputs are drawn as normal ones
	// (JCGM 101:2008, 6.4.8).
	Correlation *mat.SymDense
}

// Linear is what the law of propagation says of a quantity.
type Linear struct {
	Value, U float64
	DOF      float64 // effective; 0: no limit, and where inputs are correlated not known
	Parts    []Part  // in the order of the inputs
}

// Part is what one input contributes.
type Part struct {
	Name         string
	U            float64 // of the input, in its own unit
	Slope        float64 // change of the quantity for one unit of the input
	Contribution float64 // |Slope|*U, in the quantity's unit
	Share        float64 // of the variance, 0 to 1; shares of independent inputs add up to 1
}

// Linear returns the quantity with its combined standard uncertainty
// (JCGM 100:2008, eq. 10; eq. 16 where inputs are correlated).
func (q Quantity) Linear() Linear {
	x := q.values()
	slopes := q.slopes(x)
	l := Linear{Value: q.Model(x), Parts: make([]Part, len(x))}
	variance, fourth := 0.0, 0.0
	for i, in := range q.Inputs {
		c := math.Abs(slopes[i]) * in.U
		if in.U == 0 {
			c = 0 // an exact input, however steep the model
		}
		l.Parts[i] = Part{Name: in.Name, U: in.U, Slope: slopes[i], Contribution: c}
		variance += c * c
		if in.DOF > 0 {
			fourth += math.Pow(c, 4) / in.DOF
		}
	}
	for i := range l.Parts {
		if variance > 0 {
			l.Parts[i].Share = l.Parts[i].Contribution * l.Parts[i].Contribution / variance
		}
	}
	if fourth > 0 && q.Correlation == nil {
		l.DOF = variance * variance / fourth // JCGM 100:2008, eq. G.2b
	}
	if q.Correlation != nil {
		variance = q.correlated(slopes)
	}
	l.U = math.Sqrt(variance)
	return l
}

func (q Quantity) correlated(slopes []float64) float64 {
	sum := 0.0
	for i, a := range q.Inputs {
		for j, b := range q.Inputs {
			sum += slopes[i] * slopes[j] * a.U * b.U * q.Correlation.At(i, j)
		}
	}
	return math.Max(0, sum)
}

func (q Quantity) values() []float64 {
	x := make([]float64, len(q.Inputs))
	for i, in := range q.Inputs {
		x[i] = in.Value
	}
	return x
}

// slopes are the given partial derivatives, or those of a five-point formula
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table 25.2;
// from memory) over about a hundredth of each input's uncertainty: so near that the
// formula's own error is some 1e-9 of the slope, so far that rounding is less. The
// step is a power of two, so that a straight model is left as exact as it is.
func (q Quantity) slopes(x []float64) []float64 {
	if q.Slopes != nil {
		return q.Slopes(x)
	}
	list := make([]float64, len(x))
	for i, in := range q.Inputs {
		h := math.Max(in.U/100, 1e-6*math.Abs(in.Value))
		if h == 0 {
			h = 1e-6
		}
		_, e := math.Frexp(h)
		h = math.Ldexp(1, e-1)
		list[i] = (8*(q.at(x, i, h)-q.at(x, i, -h)) - (q.at(x, i, 2*h) - q.at(x, i, -2*h))) / (12 * h)
	}
	return list
}

// at is the model with one input moved.
func (q Quantity) at(x []float64, i int, by float64) float64 {
	y := append([]float64(nil), x...)
	y[i] += by
	return q.Model(y)
}
