package piston

import "math"

// species holds nine-coefficient polynomials: a1 to a7, b1, b2, for two ranges
// of temperature that meet at 1000 K. McBride, Zehe and Gordon, NASA Glenn
// Coefficients for Calculating Thermodynamic Properties of Individual Species,
// NASA/TP-2002-211556.
type species struct{ low, high [9]float64 }

var (
	nitrogen = species{
		low: [9]float64{2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3, 1.384646189e-5, -9.625793620e-9,
			2.519705809e-12, 7.108460860e2, -10.76003744},
		high: [9]float64{5.877124060e5, -2.239249073e3, 6.066949220, -6.139685500e-4, 1.491806679e-7, -1.923105485e-11,
			1.061954386e-15, 1.283210415e4, -15.86640027},
	}
	oxygen = species{
		low: [9]float64{-3.425563420e4, 4.847000970e2, 1.119010961, 4.293889240e-3, -6.836300520e-7, -2.023372700e-9,
			1.039040018e-12, -3.391454870e3, 18.49699470},
		high: [9]float64{-1.037939022e6, 2.344830282e3, 1.819732036, 1.267847582e-3, -2.188067988e-7, 2.053719572e-11,
			-8.193467050e-16, -1.689010929e4, 17.38716506},
	}
	// A monatomic gas: cp/R = 5/2. Its constants of integration are left at 0,
	// so only differences of its enthalpy and entropy mean anything.
	argon = species{low: [9]float64{2: 2.5}, high: [9]float64{2: 2.5}}
)

// The polynomials hold from coldestK to hottestK and change over at seamK.
const (
	coldestK = 200.0
	seamK    = 1000.0
	hottestK = 6000.0
)

func (s species) at(k float64) [9]float64 {
	if k < seamK {
		return s.low
	}
	return s.high
}

// cp returns cp/R at k kelvins.
func (s species) cp(k float64) float64 {
	a := s.at(k)
	return a[0]/(k*k) + a[1]/k + a[2] + k*(a[3]+k*(a[4]+k*(a[5]+k*a[6])))
}

// enthalpy returns h/(R·1 K), in kelvins.
func (s species) enthalpy(k float64) float64 {
	a := s.at(k)
	return -a[0]/k + a[1]*math.Log(k) + k*(a[2]+k*(a[3]/2+k*(a[4]/3+k*(a[5]/4+k*a[6]/5)))) + a[7]
}

// entropy returns s/R at 1 bar.
func (s species) entropy(k float64) float64 {
	a := s.at(k)
	return -a[0]/(2*k*k) - a[1]/k + a[2]*math.Log(k) + k*(a[3]+k*(a[4]/2+k*(a[5]/3+k*a[6]/4))) + a[8]
}

// Air is a mixture by mole fractions, which sum to 1. Temperatures run from 200
// to 6000 K; outside the nearest end of that range stands in.
type Air struct{ N2, O2, Ar float64 }

// DryAir is air with its argon in nitrogen, oxygen and argon alone. Air of 79
// and 21 parts without argon would compress 3 K colder at 17:1.
var DryAir = Air{N2: 0.7812, O2: 0.2095, Ar: 0.0093}

func (a Air) mix(k float64, of func(species, float64) float64) float64 {
	k = min(max(k, coldestK), hottestK)
	return a.N2*of(nitrogen, k) + a.O2*of(oxygen, k) + a.Ar*of(argon, k)
}

// Cp returns cp/R at k kelvins.
func (a Air) Cp(k float64) float64 { return a.mix(k, species.cp) }

// Gamma returns cp/cv at k kelvins.
func (a Air) Gamma(k float64) float64 {
	cp := a.Cp(k)
	return cp / (cp - 1)
}

// EnthalpyK returns h/R in kelvins; only differences mean anything.
func (a Air) EnthalpyK(k float64) float64 { return a.mix(k, species.enthalpy) }

// Entropy returns s/R at 1 bar; only differences mean anything.
func (a Air) Entropy(k float64) float64 { return a.mix(k, species.entropy) }

// Squeeze compresses air of k kelvins to 1/ratio of its volume without losing
// heat or mass, and returns its temperature and by how much its pressure grew:
// s(T2) - s(T1) = R ln(p2/p1) with p2/p1 = ratio T2/T1. ratio is 1 or more.
func (a Air) Squeeze(k, ratio float64) (hotK, pressure float64) {
	hotK = k * math.Pow(ratio, 0.38) // a start near enough for Newton's method
	s := a.Entropy(k)
	for range 50 {
		step := (a.Entropy(hotK) - s - math.Log(ratio*hotK/k)) / ((a.Cp(hotK) - 1) / hotK)
		hotK -= step
		if math.Abs(step) < 1e-11*hotK {
			break
		}
	}
	return hotK, ratio * hotK / k
}

// Exponent returns the mean isentropic exponent between k kelvins and 1/ratio of
// the volume: the one with which p V^n = constant leads to the same pressure. A
// compression that loses heat stays below it. ratio is above 1.
func (a Air) Exponent(k, ratio float64) float64 {
	_, p := a.Squeeze(max(k, coldestK), ratio)
	return math.Log(p) / math.Log(ratio)
}
