package piston

import "math"

// expo is e to the x to within a millionth of itself, several times as quick as
// [math.Exp]: a hundred thousand draws ask for millions, and a draw's own scatter is
// tens of per cent. 2^(j/32) stands in a table, and the rest of the exponent is so
// small that three terms of the series do.
func expo(x float64) float64 {
	if !(x > -700 && x < 700) {
		return math.Exp(x)
	}
	const perLn2 = 32 / math.Ln2
	n := math.Floor(x*perLn2 + 0.5)
	r := x - n*(1/perLn2)
	k := int64(n) + 32*1024
	scale := math.Float64frombits(uint64(k/32-1024+1023) << 52)
	return scale * powers[k%32] * (1 + r*(1+r*(0.5+r*(1.0/6))))
}

// powers are 2^(j/32).
var powers = func() (p [32]float64) {
	for j := range p {
		p[j] = math.Exp2(float64(j) / 32)
	}
	return p
}()
