package finding

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
)

// What is not a number is not known: it is never told as 0.
func TestThousandth(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := thousandth(timing.Deg(v)); got != nil {
			t.Errorf("%v is told as %v", v, *got)
		}
	}
	if got := thousandth(-0.00049); got == nil || *got != 0 {
		t.Errorf("%v", got)
	}
	if got := thousandth(12.34567); got == nil || *got != 12.346 {
		t.Errorf("%v", got)
	}
}
