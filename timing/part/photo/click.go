package photo

import "math"

// How far a click is believed to miss before any fit has been seen: one pixel,
// or in a large picture, which is marked on a screen that shows several of its
// pixels as one, 1/3000 of the diagonal; and how many readings that belief is
// worth. Common practice, no source.
const (
	clickPx       = 1.0
	clickShare    = 1.0 / 3000
	clickReadings = 3
)

func believedClick(p Info) float64 {
	return math.Max(clickPx, clickShare*math.Hypot(float64(p.Width), float64(p.Height)))
}

// clickU works out the standard uncertainty of a click from the residuals of a
// fit: their sum of squares over their degrees of freedom, pooled with what is
// believed beforehand, and stretched by Student's t so that an interval of 1.96
// times the result still covers 95 % (JCGM 100:2008, G.3.2; the pooling is that
// of a conjugate prior, from memory). Five rim points leave no residual; then
// only the belief counts.
func clickU(ssr float64, dof int, believed float64) float64 {
	n := float64(clickReadings + dof)
	return math.Sqrt((clickReadings*believed*believed+ssr)/n) * student95(n) / normal95
}

// normal95 is the two-sided 95 % point of the normal distribution.
const normal95 = 1.959963984540054

// student95 returns the two-sided 95 % point of Student's t with n >= 3 degrees
// of freedom, to 0.003 (Abramowitz and Stegun, Handbook of Mathematical
// Functions, 1964, 26.7.5; from memory; checked in the tests).
func student95(n float64) float64 {
	z := normal95
	z2 := z * z
	g1 := z * (z2 + 1) / 4
	g2 := z * (5*z2*z2 + 16*z2 + 3) / 96
	g3 := z * (3*z2*z2*z2 + 19*z2*z2 + 17*z2 - 15) / 384
	g4 := z * (79*z2*z2*z2*z2 + 776*z2*z2*z2 + 1482*z2*z2 - 1920*z2 - 945) / 92160
	return z + (g1+(g2+(g3+g4/n)/n)/n)/n
}
