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
	// A check that takes hours goes to the back.
	slow := rank(t, six(), Options{Minutes: map[string]float64{next[0].Check.Name: 6000}}, Evidence{Kind: "cam_signal", Value: "none"}, Evidence{Kind: "crank_signal", Value: "good"})
	if again, err := slow.Next(); err != nil || again[len(again)-1].Check.Name != next[0].Check.Name {
		t.Errorf("%v, %v", again, err)
	}
}
