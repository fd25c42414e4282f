package job

import "pinphase.org/pinphase/timing"

// Intake returns the times of the intake valves, false without both; v may be nil.
func (v *Valves) Intake() (timing.ValvePair, bool) {
	if v == nil {
		return timing.ValvePair{}, false
	}
	return valvePair(v.IntakeOpensBTDCDeg, v.IntakeClosesABDCDeg)
}

// Exhaust returns the times of the exhaust valves, false without both; v may be nil.
func (v *Valves) Exhaust() (timing.ValvePair, bool) {
	if v == nil {
		return timing.ValvePair{}, false
	}
	return valvePair(v.ExhaustOpensBBDCDeg, v.ExhaustClosesATDCDeg)
}

func valvePair(opens, closes Number) (timing.ValvePair, bool) {
	return timing.ValvePair{Opens: timing.Deg(opens.Value), Closes: timing.Deg(closes.Value)}, opens.Given && closes.Given
}
