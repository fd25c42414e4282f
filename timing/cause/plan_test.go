package cause

import (
	"slices"
	"strings"
	"testing"
)

// Where a signal is not there, nothing is proposed that needs it; what was seen is
// not proposed again; a plan ends when one fault is sure enough.
func TestNextAndPlan(t *testing.T) {
	r := rank(t, six(), Options{}, Evidence{Kind: "cam_signal", Value: "none"}, Evidence{Kind: "crank_signal", Value: "good"})
	next, err := r.Next()
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range next {
		if slices.Contains(n.Check.Kinds, "correlation_error_deg") {
			t.Error("a correlation without a cam signal is proposed")
		}
	}
	r = rank(t, six(), Options{}, Evidence{"correlation_error_deg", 10.3, 1}, Evidence{Kind: "starts", Value: false})
	plan, err := r.Plan(6)
	if err != nil || len(plan) == 0 {
		t.Fatalf("%v, %v", plan, err)
	}
	last := plan[len(plan)-1]
	if last.Check.Name != "open the front and look at the gear marks" || last.Then < Sure || !strings.HasSuffix(last.Fault, "gear out by teeth") {
		t.Errorf("the plan ends with %+v", last)
	}
	// A check that takes days goes behind those that take minutes and tell something.
	slow := rank(t, six(), Options{Minutes: map[string]float64{next[0].Check.Name: 6000}}, Evidence{Kind: "cam_signal", Value: "none"}, Evidence{Kind: "crank_signal", Value: "good"})
	if again, err := slow.Next(); err != nil {
		t.Error(err)
	} else {
		at := slices.IndexFunc(again, func(n Next) bool { return n.Check.Name == next[0].Check.Name })
		for _, n := range again[at+1:] {
			if n.Check.Minutes < 60 && n.Bits > 0.1 {
				t.Errorf("%s, %g bits in %g minutes, stands behind %s", n.Check.Name, n.Bits, n.Check.Minutes, next[0].Check.Name)
			}
		}
		if at < 5 {
			t.Errorf("it stands at place %d", at)
		}
	}
}
