package wheel

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Pitch and gap of the common wheels: 60-2 has teeth 6 degrees apart and an
// 18-degree gap (Bosch, Automotive Handbook; from memory), the others follow
// from 360/N.
func TestCommonWheels(t *testing.T) {
	for _, c := range []struct {
		name        string
		positions   int
		missing     []int
		pitch, gap  timing.Deg
		edges       int
		after, next int
	}{
		{"60-2", 60, []int{59, 60}, 6, 18, 58, 58, 1},
		{"36-1", 36, []int{36}, 10, 20, 35, 35, 1},
		{"36-2", 36, []int{35, 36}, 10, 30, 34, 34, 1},
		{"24-1", 24, []int{24}, 15, 30, 23, 23, 1},
	} {
		w := Crank{Positions: c.positions, Missing: c.missing}
		gaps := w.Gaps()
		if w.Pitch() != c.pitch || w.Teeth() != c.edges || len(gaps) != 1 {
			t.Fatalf("%s: pitch %g, %d teeth, %d gaps", c.name, float64(w.Pitch()), w.Teeth(), len(gaps))
		}
		span := w.Span(gaps[0], 0)
		if span.To-span.From != c.gap || gaps[0].After != c.after || gaps[0].Before != c.next {
			t.Errorf("%s: gap %+v over %g degrees, want %g", c.name, gaps[0], float64(span.To-span.From), float64(c.gap))
		}
	}
}

func TestSeveralGaps(t *testing.T) {
	w := Crank{Positions: 12, Missing: []int{4, 12, 8, 11}}
	want := []Gap{{3, 5, 1}, {7, 9, 1}, {10, 1, 2}}
	if got := w.Gaps(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("gaps %v, want %v", got, want)
	}
	if (Crank{Positions: 12}).Gaps() != nil || (Crank{Positions: 1, Missing: []int{1}}).Gaps() != nil {
		t.Error("a full or an empty wheel has no gap")
	}
}

func TestTeethPassTheSensorInTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 240).Draw(t, "positions")
		w := Crank{Positions: n, FirstToothBTDC: timing.Deg(rapid.Float64Range(-360, 720).Draw(t, "B"))}
		delta := timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "delta"))
		k := rapid.IntRange(1, n).Draw(t, "k")
		at := w.PassesAt(k, delta)
		s := w.AtSensor(at+timing.Turn*timing.Deg(rapid.IntRange(-3, 3).Draw(t, "turns")), delta)
		if s.Position != k || math.Abs(float64(s.Past)) > 1e-6 {
			t.Fatalf("tooth %d passes at %g but there the sensor sees %+v", k, float64(at), s)
		}
		// What the displaced wheel shows now, the right wheel shows delta later.
		theta := timing.Deg(rapid.Float64Range(-720, 720).Draw(t, "theta"))
		a, b := w.AtSensor(theta, delta), w.AtSensor(theta+delta, 0)
		if a.Position != b.Position && math.Abs(math.Abs(float64(a.Past))-float64(w.Pitch())/2) > 1e-6 {
			t.Fatalf("displaced %+v, right wheel %+v", a, b)
		}
		if math.Abs(float64(a.Past)) > float64(w.Pitch())/2+1e-9 {
			t.Fatalf("%g past is more than half a pitch", float64(a.Past))
		}
	})
}

// A 36-1 wheel whose first tooth passes 90 degrees before top dead centre:
// which tooth is at the sensor when cylinder 1 fires?
func ExampleCrank_AtSensor() {
	w := Crank{Positions: 36, Missing: []int{36}, FirstToothBTDC: 90}
	fmt.Println("right:", w.AtSensor(0, 0).Position)
	fmt.Println("20 degrees behind:", w.AtSensor(0, -20).Position)
	// Output:
	// right: 10
	// 20 degrees behind: 8
}
