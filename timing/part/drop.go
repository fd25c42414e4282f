package part

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// DefaultDropMM is the standard uncertainty of a dial indicator on a piston when
// none is given; common practice, no source.
const DefaultDropMM = 0.02

// AnglesAtDrop returns the two crank angles at which the piston stands dropMM
// below its top dead centre: before it, in (-360, 0], and after it, in [0, 360).
// They are the cylinder's own, 0 at the piston's real top dead centre, and with a
// wrist-pin offset not alike. It is an error when the piston never stands there.
//
// The crankpin is where the circle of the throw meets that of the rod round the
// wrist pin: seen from the crankshaft's axis the wrist pin lies asin(e/D) off the
// cylinder's line, D away, and the crankpin acos((a²+D²−l²)/2aD) to either side
// of it (law of cosines; a throw, l rod, e offset). It undoes
// [piston.SliderCrank.DropMM].
func AnglesAtDrop(s piston.SliderCrank, dropMM float64) (before, after timing.Deg, err error) {
	if err := s.Check(); err != nil {
		return 0, 0, err
	}
	if travel := s.TravelMM(); !(dropMM >= 0 && dropMM <= travel*(1+1e-12)) {
		return 0, 0, phrase.Errorf("%v: the piston travels %s and is never %s below TDC", ErrNoTriangle, mm(travel), mm(dropMM))
	}
	lean, half := atDrop(s, dropMM)
	return lean - half, lean + half, nil
}

// atDrop returns where the middle between the two angles of a drop lies after top
// dead centre, and how far they lie to either side of it. Drops the piston does
// not reach are taken for the nearest.
func atDrop(s piston.SliderCrank, dropMM float64) (lean, half timing.Deg) {
	a, l, e := s.ThrowMM, s.RodMM, s.OffsetMM
	y := math.Sqrt((l+a)*(l+a)-e*e) - math.Max(0, dropMM)
	d := math.Hypot(e, y)
	// By half angles, which keep their digits near top dead centre:
	// tan²(half/2) = (l²−(a−D)²)/((a+D)²−l²).
	near, far := (l+a-d)*(l-a+d), (a+d-l)*(a+d+l)
	half = timing.FromRadians(2 * math.Atan2(math.Sqrt(math.Max(0, near)), math.Sqrt(math.Max(0, far))))
	return timing.FromRadians(math.Atan2(e, y)) - s.TDC(), half
}

// Lean returns how far after the real top dead centre the middle lies between
// two crank angles of equal piston drop that are span degrees apart, span in
// (0, 360): 0 without a wrist-pin offset. With one, a positive stop or an equal
// drop finds that middle, not top dead centre.
//
// From the span alone: D = a cos(span/2) + √(l² − a² sin²(span/2)), and the
// middle is at asin(e/D) where top dead centre is at asin(e/(l+a)).
func Lean(s piston.SliderCrank, span timing.Deg) timing.Deg {
	sin, cos := math.Sincos(span.Radians() / 2)
	d := s.ThrowMM*cos + math.Sqrt(s.RodMM*s.RodMM-s.ThrowMM*s.ThrowMM*sin*sin)
	return timing.FromRadians(math.Asin(clamp(s.OffsetMM/d))) - s.TDC()
}

// Drop is a piston's depth below its top dead centre, read as a crank angle.
type Drop struct {
	DropMM  float64
	Again   []float64 // further readings
	Before  bool      // on the way up
	Linkage piston.SliderCrank
	UDrop   Given // mm; [DefaultDropMM]
}

// Angle returns the crank angle after top dead centre, negative before it. Near
// top dead centre the piston hardly moves, and the answer says how little the
// drop tells there.
func (d Drop) Angle() (Result, error) {
	err := each(d.DropMM, d.Again, func(drop float64) error {
		_, _, err := AnglesAtDrop(d.Linkage, drop)
		return err
	})
	if err != nil {
		return Result{}, err
	}
	u, byDefault := d.UDrop.or(DefaultDropMM)
	var in inputs
	drop := in.repeated(ReadDrop, d.DropMM, d.Again, u)
	model := func(x []float64) float64 {
		lean, half := atDrop(d.Linkage, drop(x))
		if d.Before {
			half = -half
		}
		return float64(lean + half)
	}
	return evaluate(uncertainty.Quantity{Inputs: in, Model: model}, byDefault), nil
}
