package part

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// Stop is true top dead centre by two readings of a degree wheel at which the
// piston stands equally deep: against a positive stop, turned to it forwards and
// then backwards, or at the same reading of a dial indicator on the way up and on
// the way down. At top dead centre itself the piston dwells and shows nothing.
type Stop struct {
	FirstDeg, SecondDeg     float64   // what the wheel says, 0 to 360, in either order
	FirstAgain, SecondAgain []float64 // further readings
	Falls                   bool      // the numbers at the pointer fall as the engine turns forwards
	U                       Given     // degrees, of one reading; [DefaultAngleU]

	// The linkage takes the wrist-pin offset out; nil where it is not known or
	// there is no offset.
	Linkage *piston.SliderCrank
	UOffset Given // mm, of the wrist-pin offset; exact when not known

	// A dial indicator's own uncertainty turns into an angle: DialMM is the drop it
	// was set to, UDial that of each setting. Both stay away for a solid stop.
	DialMM float64
	UDial  Given // mm; [DefaultDropMM] where there is a DialMM
}

// ErrNoMiddle is returned for two readings that have no middle on one side.
var ErrNoMiddle = phrase.Errorf("the two readings are alike, or half a turn apart, so that the midpoint between them is not unique; set the stop deeper or less deep")

// TDC returns what the degree wheel says at true top dead centre, in (-180, 180]:
// a wheel's 358 is -2. It lies in the middle of the two readings, the short way
// round, less what [Lean] says.
func (s Stop) TDC() (Result, error) {
	span := timing.Difference(timing.Deg(s.FirstDeg), timing.Deg(s.SecondDeg), timing.Turn)
	if math.Abs(float64(span)) < 1e-9 || span > timing.Turn/2-1e-9 || math.IsNaN(float64(span)) {
		return Result{}, ErrNoMiddle
	}
	if s.Linkage != nil {
		if err := s.Linkage.Check(); err != nil {
			return Result{}, err
		}
	}
	u, byDefault := s.U.or(float64(DefaultAngleU))
	var in inputs
	first := in.repeated(ReadFrom, s.FirstDeg, beside(s.FirstDeg, s.FirstAgain), u)
	second := in.repeated(ReadTo, s.FirstDeg+float64(span), beside(s.FirstDeg+float64(span), s.SecondAgain), u)
	middle := func(x []float64) float64 { return (first(x) + second(x)) / 2 }
	if s.DialMM != 0 || s.UDial.Known {
		middle = s.withDial(&in, middle, math.Abs(float64(span)))
	}
	model := middle
	if s.Linkage != nil {
		offset := in.single(ReadOffset, s.Linkage.OffsetMM, s.UOffset.U)
		model = func(x []float64) float64 {
			linkage := *s.Linkage
			linkage.OffsetMM = offset(x)
			lean := float64(Lean(linkage, timing.Deg(math.Abs(second(x)-first(x)))))
			if s.Falls {
				lean = -lean
			}
			return middle(x) - lean
		}
	}
	return evaluate(uncertainty.Quantity{Inputs: in, Model: model}, byDefault), nil
}

// withDial adds the dial's uncertainty at both settings: it moves the crank by as
// much as the piston's slope there makes of it. Without a linkage the slope is
// that of a parabola through both, 2 drop/angle, near enough for an uncertainty.
func (s Stop) withDial(in *inputs, middle pick, span float64) pick {
	u, _ := s.UDial.or(DefaultDropMM)
	perMM := [2]float64{span / 4 / s.DialMM, span / 4 / s.DialMM}
	if s.Linkage != nil {
		lean := Lean(*s.Linkage, timing.Deg(span))
		for i, at := range []timing.Deg{lean - timing.Deg(span/2), lean + timing.Deg(span/2)} {
			const step = 1e-3
			perMM[i] = 2 * step / math.Abs(s.Linkage.DropMM(at+step)-s.Linkage.DropMM(at-step))
		}
	}
	up, down := in.single(ReadDrop, 0, u), in.single(ReadDrop, 0, u)
	return func(x []float64) float64 { return middle(x) + (up(x)*perMM[0]-down(x)*perMM[1])/2 }
}
