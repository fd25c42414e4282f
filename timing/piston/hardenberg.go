package piston

import "math"

// HardenbergHase is the formula for direct-injection engines that knows cetane
// number and piston speed, in crank degrees:
//
//	(0.36 + 0.22 Sp) exp{ E (1/(R T) - 1/17190) (21.2/(p - 12.4))^0.63 },  E = 618840/(CN+25) J/mol
//
// with Sp in m/s and p in bar. It was made for the one state at top dead centre;
// to apply it point by point along the path, as here, is our own use of it.
//
// A reading with a plus sign between the two brackets circulates and gives
// delays more than twice as long; here the brackets are multiplied, as Heywood
// is remembered to have them.
//
// Its value at the edges: at or below 12.4 bar there is none, +Inf; close above it
// grows beyond all numbers, +Inf too.
func HardenbergHase() Correlation {
	return Correlation{
		Name: "hardenberg", Title: "Hardenberg and Hase 1979",
		Source:    "Hardenberg and Hase, SAE 790493, 1979, as in Heywood 1988, eq. 10.37 (not checked against the source)",
		Share:     1.0 / 6,
		Data:      runningEngine,
		ownCetane: true,
		own:       hardenbergHase,
		rest: func(r Running) float64 { // degrees at the bracket's 1, and what a degree lasts
			return math.Log((0.36 + 0.22*r.MeanPistonMS) / (0.006 * r.RPM))
		},
	}
}

func hardenbergHase(perK, lnBar float64, r Running) float64 {
	const (
		gasConstant = 8.3143 // J/(mol K), as the authors have it
		leastBar    = 12.4
	)
	bar := math.Exp(lnBar)
	if !(bar > leastBar) {
		return math.Inf(1)
	}
	squeeze := math.Exp(0.63 * math.Log(21.2/(bar-leastBar)))
	// Above 2067 K the first bracket would turn its sign and the pressure work
	// backwards; there the formula is held at its limit.
	warm := max(perK/gasConstant-1.0/17190, 0)
	return 618840 / (r.Cetane + 25) * warm * squeeze
}
