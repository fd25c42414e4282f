package gear

import (
	"errors"
	"fmt"
	"math/big"

	"pinphase.org/pinphase/timing"
)

// Train is a single line of wheels in mesh, from the crank gear over any idlers to
// the cam gear; a pump's gear may hang on one of them. Build one with [NewTrain] and
// [Train.WithPump]; the zero value is no train.
type Train struct {
	teeth []int // at least two
	pump  *Pump // nil: none
}

// MaxTeeth is the largest number of teeth of a wheel.
const MaxTeeth = 10000

// NewTrain returns the train of the given tooth numbers, crank gear first, cam
// gear last. Each has 1 to [MaxTeeth].
func NewTrain(crank int, idlers []int, cam int) (Train, error) {
	t := Train{teeth: append(append([]int{crank}, idlers...), cam)}
	var errs []error
	for i, z := range t.teeth {
		if z < 1 || z > MaxTeeth {
			errs = append(errs, fmt.Errorf("wheel %d of the train has %d teeth; a gear has 1 to %d", i+1, z, MaxTeeth))
		}
	}
	if len(errs) > 0 {
		return Train{}, errors.Join(errs...)
	}
	return t, nil
}

// Teeth returns the tooth numbers from the crank gear to the cam gear.
func (t Train) Teeth() []int { return append([]int(nil), t.teeth...) }

// Wheels returns how many wheels there are.
func (t Train) Wheels() int { return len(t.teeth) }

func (t Train) crank() int { return t.teeth[0] }
func (t Train) cam() int   { return t.teeth[len(t.teeth)-1] }

// Ratio returns cam teeth over crank teeth: how many turns of the crank make one
// of the cam. Idlers change nothing in it.
func (t Train) Ratio() float64 { return float64(t.cam()) / float64(t.crank()) }

// CamPerCrank returns how many turns the cam makes in one of the crank.
func (t Train) CamPerCrank() float64 { return float64(t.crank()) / float64(t.cam()) }

// CrankPerTooth returns how far the crank turns while one tooth passes a mesh:
// what a gear put in one tooth out, anywhere in the train, moves the cam by, in
// crank degrees.
func (t Train) CrankPerTooth() timing.Deg { return timing.Turn / timing.Deg(t.crank()) }

// WithCrank tells whether a wheel, counted from 0 at the crank gear, turns the
// way the crank does.
func (t Train) WithCrank(wheel int) bool { return wheel%2 == 0 }

// Angle returns how far a wheel has turned when the crank has turned by theta
// since the marks met: its own degrees, positive the way the crank turns, any
// number of turns.
func (t Train) Angle(wheel int, theta timing.Deg) timing.Deg {
	a := theta * timing.Deg(t.crank()) / timing.Deg(t.teeth[wheel])
	if t.WithCrank(wheel) {
		return a
	}
	return -a
}

// CamError returns how far the cam is ahead of where it belongs, in crank degrees,
// not wrapped: the error of the keyway that locates the crank gear, and the teeth
// that a gear was put in out, positive when that puts the cam ahead.
func (t Train) CamError(keyway timing.Deg, teethOut int) timing.Deg {
	return keyway + timing.Deg(teethOut)*t.CrankPerTooth()
}

// StepsUntilMarksMeet returns after how many teeth all marks meet again, a pump's
// with them: the least common multiple of the tooth numbers. It can have hundreds of digits.
func (t Train) StepsUntilMarksMeet() *big.Int {
	steps := big.NewInt(1)
	teeth := t.Teeth()
	if t.pump != nil {
		teeth = append(teeth, t.pump.Teeth)
	}
	for _, z := range teeth {
		n := big.NewInt(int64(z))
		common := new(big.Int).GCD(nil, nil, steps, n)
		steps.Mul(steps, n.Div(n, common))
	}
	return steps
}

// TurnsUntilMarksMeet returns how many turns a wheel has made when all marks meet
// again for the first time.
func (t Train) TurnsUntilMarksMeet(wheel int) *big.Int {
	return new(big.Int).Div(t.StepsUntilMarksMeet(), big.NewInt(int64(t.teeth[wheel])))
}

// CrankTurnsUntilCamMark returns after how many turns of the crank the marks of
// crank and cam gear alone are back where they were: two in a four-stroke.
func (t Train) CrankTurnsUntilCamMark() int { return t.cam() / gcd(t.crank(), t.cam()) }

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
