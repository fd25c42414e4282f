package ripple

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"pinphase.org/pinphase/timing/piston"
)

// Limits and priors of the fit.
const (
	isentropicU = 0.03   // of the exponent without loss: the air's temperature and water are not known
	exponentU   = 0.05   // of the exponent a cranked compression shows, as [piston.DefaultExponentU]
	leakRPM     = 200.0  // at which that is so. Our assumption: an engine as its starter turns it
	leakSlowest = 160.0  // rpm: slower than that turn large engines, with less gap to their volume. Our assumption
	leakShare   = 2. / 3 // of what is lost, in the pressure's logarithm, that goes as a leak. Our assumption
	leakSpread  = 0.03   // of the leaks of sound cylinders about their mean. Our assumption
	tdcFloorU   = 0.75   // degrees: what the model leaves out and how exactly wheels are made. Tried on engines of the first two makers
	lagShare    = 0.004  // of the way from firing to firing, for how the starter's armature swings behind its pinion: phases of the ripple it moves. Tried on engines of a maker whose starters do
	lagMost     = 1.5    // degrees
	pitchShare  = 0.15   // of a pitch beyond a fine one, for what the speed does between teeth. Tried on the same
	weakU       = 2.0    // degrees, by the share of pressure the weakest cylinder lacks: how it loses it is not known. Tried on simulated engines
	trends      = 3      // terms of a cycle's own slow change: level, slope, bend
	mostCycles  = 60     // that are fitted, spread over the recording
	crankTorque = 30.0   // N m a litre that a starter overcomes, friction and what the gas loses. Common practice, no source
	brakes      = 2.5    // of that torque, over the relative speed: by 2 falls the starter's at 2/3 of its free speed, by 1/2 grows the friction. Our assumption
	frictions   = 0.2    // share of the friction in that
	brakeU      = 0.7    // of their product, relative,
	brakeFloorU = 0.15   // and of the damping (see [Ripple]), absolute: an estimate by the displacement knows no flywheel
	bends       = 1.5    // of that torque, by the square of the relative speed: 3 of a series-wound starter, 1 of one of constant power. Our assumption
	bendsU      = 3.0    // for one that the crank runs away from
	rubs        = 0.2    // of that torque is pistons' friction where they are fastest. Our assumption
	rubsU       = 0.12
	massU       = 0.35   // of the mass that goes up and down, relative. Our assumption
	pistonMass  = 1.8e-6 // kg over the bore cubed in mm: piston, pin and the rod's small end. Common practice, no source
)

// prior is what is taken of the gas before the fit. A cranked compression shows a
// lower exponent than air without loss has, 1.30 ± 0.05 (Heywood 1988; from
// memory), because heat and gas leave. They go on leaving while the piston comes
// down, which is what moves the ripple against top dead centre; so the air's own
// exponent is used, and the difference is shared between leak and heat: what walls take
// while the charge is dense goes as a leak does.
type prior struct{ exponent, exponentU, leak, leakU, heat, heatU float64 }

func (e Engine) prior(rpm float64) prior {
	ratio := max(e.Charge.ClosedRatio(), 2)
	n := piston.DryAir.Exponent(e.Charge.AtClosing.K, ratio)
	shown := min(e.Charge.Exponent, n)
	slow := math.Log(ratio) * leakRPM / max(rpm, leakSlowest) // they have as much time as the speed leaves them
	lost, lostU := (n-shown)*slow, exponentU*slow
	leakU, heatU := lostU*math.Sqrt(leakShare), lostU*math.Sqrt(1-leakShare) // independent
	return prior{n, isentropicU, lost * leakShare / n, leakU / n, lost * (1 - leakShare), heatU}
}

// gas is the most probable one before the fit.
func (p prior) gas() gas { return gas{p.exponent, p.leak, p.heat} }

// tight is the same gas without any loss.
func (p prior) tight() gas {
	return gas{exponent: p.exponent}
}

// addLeakPrior adds what is taken of the leaks: their common mean is that of the
// prior; sound cylinders lie close about it, and a weak one may lie anywhere. The
// last two make the weights fall with the way from the mean, as with Cauchy's
// distribution.
func addLeakPrior(normal *mat.SymDense, right *mat.VecDense, leak []float64, before prior) {
	middle := median(leak)
	w := make([]float64, len(leak))
	sum := 0.0
	for c, l := range leak {
		w[c] = 1 / (square(leakSpread) + square(l-middle))
		sum += w[c]
	}
	mean := 0.0
	for c, l := range leak {
		mean += w[c] * l / sum
	}
	for a := range leak {
		for b := a; b < len(leak); b++ {
			v := w[a] * w[b] / sum * (1/(sum*square(before.leakU)) - 1)
			if a == b {
				v += w[a]
			}
			normal.SetSym(ofLeak+a, ofLeak+b, normal.At(ofLeak+a, ofLeak+b)+v)
		}
		pull := w[a]*(mean-leak[a]) + w[a]/sum*(before.leak-mean)/square(before.leakU)
		right.SetVec(ofLeak+a, right.AtVec(ofLeak+a)+pull)
	}
}
