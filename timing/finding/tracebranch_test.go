package finding

import (
	"math"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace"
)

// Every branch agrees with the recording: its wheel error with the TDC offset up to the
// firing interval, wheel less cam with the correlation up to a turn; none is missing, and
// together they are certain. Hand calculation: design.md's conventions, delta - gamma.
func TestBranchesAgree(t *testing.T) {
	m := func(v, u float64) *timing.Measured { return &timing.Measured{Value: timing.Deg(v), U: timing.Deg(u)} }
	no, yes := false, true
	for _, c := range []struct {
		name          string
		modulo, cycle timing.Deg
		tdc, corr     *timing.Measured
		half          *bool
		n             int
	}{
		{"six", 120, 720, m(32, 1), m(-88, 0.15), nil, 6},
		{"four", 180, 720, m(-20, 1), m(0, 0.15), nil, 4},
		{"three, half told", 240, 720, m(0.5, 1), m(-10, 0.15), &no, 1},
		{"three, half out", 240, 720, m(0.2, 1), m(360, 0.15), &yes, 1},
		{"two-stroke three", 120, 360, m(5, 1), m(5, 0.15), nil, 3},
		{"wheel alone", 120, 720, m(-28, 1), nil, nil, 3},
		{"single", 720, 720, m(3, 1), m(3, 0.15), nil, 1},
		{"single, both 100 out", 720, 720, m(-260, 1), m(-160, 0.15), &no, 1}, // delta 100, gamma -100: of 200 the cam tells -160, and counts a turn less
		{"single, wheel 170 out", 720, 720, m(-190, 1), m(-175, 0.15), &no, 1},
	} {
		a := trace.Analysis{TDC: c.tdc, Correlation: c.corr, Modulo: c.modulo, CorrelationModulo: 360, HalfTurn: c.half}
		tr := newTrace(&a, trace.Known{Cycle: c.cycle})
		list := tr.Branches
		if v := tr.Evidence[len(tr.Evidence)-1].Value; v != *tr.TDCOffsetDeg || math.Abs(v) > 180 || c.modulo == 720 && v != list[0].WheelErrorDeg {
			t.Errorf("%s: evidence of a wheel error of %g, offset %g", c.name, v, *tr.TDCOffsetDeg)
		}
		sum := 0.0
		for _, b := range list {
			sum += b.Probability
			if off := timing.WrapSigned(timing.Deg(b.WheelErrorDeg)-c.tdc.Value, wheelRepeats(c.modulo)); math.Abs(float64(off)) > 1e-3 {
				t.Errorf("%s: a wheel error of %g does not agree with %g", c.name, b.WheelErrorDeg, float64(c.tdc.Value))
			}
			if c.corr == nil {
				if b.CamErrorDeg != nil || b.HalfTurn != nil {
					t.Errorf("%s: a cam from nothing: %+v", c.name, b)
				}
				continue
			}
			if off := timing.WrapSigned(timing.Deg(b.WheelErrorDeg-*b.CamErrorDeg)-c.corr.Value, 360); math.Abs(float64(off)) > 2e-3 {
				t.Errorf("%s: wheel %g less cam %g is not %g", c.name, b.WheelErrorDeg, *b.CamErrorDeg, float64(c.corr.Value))
			}
			if off := timing.WrapSigned(c.tdc.Value-c.corr.Value-timing.Deg(*b.CamErrorDeg), c.modulo); c.half != nil && !*c.half && math.Abs(float64(off)) > 2e-3 {
				t.Errorf("%s: a cam error of %g does not follow from %g less %g", c.name, *b.CamErrorDeg, float64(c.tdc.Value), float64(c.corr.Value))
			}
			if *b.HalfTurn != (math.Abs(*b.CamErrorDeg) > 180) || c.half != nil && *b.HalfTurn != *c.half {
				t.Errorf("%s: half a turn: %+v", c.name, b)
			}
		}
		if len(list) != c.n || math.Abs(sum-1) > 1e-3 {
			t.Errorf("%s: %d branches of %d, which come to %g: %+v", c.name, len(list), c.n, sum, list)
		}
	}
	a := trace.Analysis{Correlation: m(3, 0.15)}
	if list := newTrace(&a, trace.Known{Cycle: 720}).Branches; list == nil || len(list) != 0 {
		t.Errorf("branches without TDC: %v", list)
	}
}

// A wheel 88 degrees behind is not told as one 32 ahead.
func TestWrappedPairIsNoFact(t *testing.T) {
	m := func(v, u float64) *timing.Measured { return &timing.Measured{Value: timing.Deg(v), U: timing.Deg(u)} }
	a := trace.Analysis{TDC: m(32, 1), Correlation: m(-88, 0.15), Modulo: 120, CorrelationModulo: 360}
	tr := newTrace(&a, trace.Known{Cycle: 720})
	if *tr.TDCOffsetDeg != 32 {
		t.Errorf("the residue is %g", *tr.TDCOffsetDeg)
	}
	if says := tr.Says.String(); !strings.Contains(says, "88° behind") || strings.Contains(says, "32") {
		t.Errorf("says %q", says)
	}
	if b := tr.Branches[0]; b.WheelErrorDeg != -88 || *b.CamErrorDeg != 0 || *b.HalfTurn {
		t.Errorf("the most probable branch is %+v", b)
	}
}

// wheelRepeats is the way up to which a wheel's error within a turn is known from one
// known up to a modulo: 240 and 360 have 120 in common.
func wheelRepeats(modulo timing.Deg) timing.Deg {
	a, b := 360.0, float64(modulo)
	for b > 1e-6 {
		a, b = b, math.Mod(a, b)
	}
	return timing.Deg(a)
}
