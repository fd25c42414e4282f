package uncertainty

import "math"

// SecondOrder returns how far the model's bend shifts the mean of the quantity,
// and its standard uncertainty with the terms of second order (JCGM 100:2008,
// note to 5.1.2). The inputs are taken as independent and symmetrical. Where the
// model has a kink or an end within the uncertainties the answer means little;
// [Quantity.Bend] tells.
func (q Quantity) SecondOrder() (shift, u float64) {
	x := q.values()
	slopes := q.slopes(x)
	variance := 0.0
	for i, a := range q.Inputs {
		if a.U == 0 {
			continue
		}
		variance += sq(slopes[i] * a.U)
		for j, b := range q.Inputs {
			if b.U == 0 {
				continue
			}
			// In units of the uncertainties: h is the second derivative by inputs
			// i and j, k the third, once by i and twice by j.
			h, k := q.second(x, i, j), q.third(x, i, j)
			variance += h*h/2 + slopes[i]*a.U*k
			if i == j {
				shift += h / 2
			}
		}
	}
	return shift, math.Sqrt(math.Max(0, variance))
}

// second is the second derivative by inputs i and j times both uncertainties,
// from differences over half an uncertainty: that is where the bend matters.
func (q Quantity) second(x []float64, i, j int) float64 {
	const h = 0.5
	a, b := h*q.Inputs[i].U, h*q.Inputs[j].U
	if i == j {
		return (q.at(x, i, a) - 2*q.Model(x) + q.at(x, i, -a)) / (h * h)
	}
	return (q.at2(x, i, a, j, b) - q.at2(x, i, a, j, -b) - q.at2(x, i, -a, j, b) + q.at2(x, i, -a, j, -b)) / (4 * h * h)
}

// third is the third derivative, once by i and twice by j, in the same units.
func (q Quantity) third(x []float64, i, j int) float64 {
	const h = 0.5
	a, b := h*q.Inputs[i].U, h*q.Inputs[j].U
	if i == j {
		return (q.at(x, i, 2*a) - 2*q.at(x, i, a) + 2*q.at(x, i, -a) - q.at(x, i, -2*a)) / (2 * h * h * h)
	}
	curve := func(at float64) float64 {
		return q.at2(x, i, at, j, b) - 2*q.at(x, i, at) + q.at2(x, i, at, j, -b)
	}
	return (curve(a) - curve(-a)) / (2 * h * h * h)
}

func (q Quantity) at2(x []float64, i int, a float64, j int, b float64) float64 {
	y := append([]float64(nil), x...)
	y[i] += a
	y[j] += b
	return q.Model(y)
}

// Bend tells how far the ends of the 95 % interval of [Quantity.Linear] are from
// where the model itself puts them, as a share of the standard uncertainty: 0
// for a straight model, 0.1 where the bend does not matter, 1 and more where the
// law of propagation should not be used. It is infinite where the law finds no
// uncertainty and the bend makes one.
//
// Compared is, at either end, the model at the inputs that most probably lead
// there; and the shift of the mean by the terms of second order, for a bend
// across that direction.
func (q Quantity) Bend() float64 {
	x := q.values()
	l := q.Linear()
	shift := 0.0
	for i, in := range q.Inputs {
		if in.U > 0 {
			shift += q.second(x, i, i) / 2
		}
	}
	worst := math.Abs(shift)
	if l.U > 0 && !math.IsInf(l.U, 1) {
		k := Coverage(0.95, 0)
		for _, sign := range []float64{-1, 1} {
			y := append([]float64(nil), x...)
			for i, in := range q.Inputs {
				y[i] += sign * k * l.Parts[i].Slope * in.U * in.U / l.U
			}
			worst = math.Max(worst, math.Abs(q.Model(y)-l.Value-sign*k*l.U))
		}
	}
	switch {
	case math.IsNaN(worst) || math.IsNaN(l.U) || math.IsInf(l.U, 1):
		return math.Inf(1)
	case worst == 0:
		return 0
	}
	return worst / l.U
}

func sq(x float64) float64 { return x * x }
