package gear

import (
	"errors"
	"fmt"
	"math/big"

	"pinphase.org/pinphase/timing"
)

// Pump is the gear of an injection pump that hangs on a wheel of the train, beside
// the line from crank to cam. It changes nothing in what the cam does, but its mark
// counts where marks are to meet.
type Pump struct {
	Teeth int
	On    int // the wheel that drives it, counted from 0 at the crank gear
}

// WithPump returns the train with a pump's gear on it. It has 1 to [MaxTeeth] teeth.
func (t Train) WithPump(p Pump) (Train, error) {
	var errs []error
	if p.Teeth < 1 || p.Teeth > MaxTeeth {
		errs = append(errs, fmt.Errorf("the pump's gear has %d teeth; a gear has 1 to %d", p.Teeth, MaxTeeth))
	}
	if p.On < 0 || p.On >= len(t.teeth) {
		errs = append(errs, fmt.Errorf("the pump hangs on wheel %d of a train of %d", p.On+1, len(t.teeth)))
	}
	if len(errs) > 0 {
		return Train{}, errors.Join(errs...)
	}
	t.pump = &p
	return t, nil
}

// Pump returns the pump's gear; ok is false where the train has none. The methods
// below panic then.
func (t Train) Pump() (p Pump, ok bool) {
	if t.pump == nil {
		return Pump{}, false
	}
	return *t.pump, true
}

// PumpPerCrank returns how many turns the pump makes in one of the crank. What is
// between changes nothing in it.
func (t Train) PumpPerCrank() float64 { return float64(t.crank()) / float64(t.pump.Teeth) }

// PumpWithCrank tells whether the pump turns the way the crank does: against the
// wheel that drives it.
func (t Train) PumpWithCrank() bool { return !t.WithCrank(t.pump.On) }

// PumpAngle returns how far the pump has turned when the crank has turned by theta
// since the marks met: its own degrees, positive the way the crank turns, any
// number of turns.
func (t Train) PumpAngle(theta timing.Deg) timing.Deg {
	a := theta * timing.Deg(t.crank()) / timing.Deg(t.pump.Teeth)
	if t.PumpWithCrank() {
		return a
	}
	return -a
}

// PumpTurnsUntilMarksMeet returns how many turns the pump has made when all marks
// meet again for the first time.
func (t Train) PumpTurnsUntilMarksMeet() *big.Int {
	return new(big.Int).Div(t.StepsUntilMarksMeet(), big.NewInt(int64(t.pump.Teeth)))
}

// CrankTurnsUntilPumpMark returns after how many turns of the crank the marks of
// crank gear and pump alone are back where they were.
func (t Train) CrankTurnsUntilPumpMark() int { return t.pump.Teeth / gcd(t.crank(), t.pump.Teeth) }
