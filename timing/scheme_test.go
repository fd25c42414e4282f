package timing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func engine(t testing.TB, strokes int, order []int, intervals ...Deg) Scheme {
	t.Helper()
	e, err := NewScheme(strokes, order, intervals)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Phases and companions that follow from the order alone (firing intervals of
// 720/n: Heywood, Internal Combustion Scheme Fundamentals, 1988; from memory).
func TestPhasesOfCommonOrders(t *testing.T) {
	e := engine(t, 4, []int{1, 5, 3, 6, 2, 4})
	for c, at := range map[int]Deg{1: 0, 5: 120, 3: 240, 6: 360, 2: 480, 4: 600} {
		if e.FiresAt(c) != at {
			t.Errorf("cylinder %d of six fires at %g, want %g", c, float64(e.FiresAt(c)), float64(at))
		}
	}
	e = engine(t, 4, []int{1, 2, 4, 5, 3})
	for c, at := range map[int]Deg{1: 0, 2: 144, 4: 288, 5: 432, 3: 576} {
		if e.FiresAt(c) != at {
			t.Errorf("cylinder %d of five fires at %g, want %g", c, float64(e.FiresAt(c)), float64(at))
		}
	}
}

func TestCompanions(t *testing.T) {
	for _, c := range []struct {
		order string
		pairs string
	}{
		{"1-3-4-2", "1+4 2+3"},
		{"1-5-3-6-2-4", "1+6 2+5 3+4"},
		{"1-6-2-5-8-3-7-4", "1+8 2+7 3+6 4+5"},
		{"1-8-4-3-6-5-7-2", "1+6 2+3 4+7 5+8"},
		{"1-10-9-4-3-6-5-8-7-2", "1+6 2+3 4+7 5+10 8+9"},
		{"1-7-5-11-3-9-6-12-2-8-4-10", "1+6 2+5 3+4 7+12 8+11 9+10"},
		{"1-2-3", ""},
		{"1-2-4-5-3", ""},
	} {
		e := engine(t, 4, numbers(c.order))
		var pairs []string
		for n := 1; n <= e.Cylinders(); n++ {
			for _, m := range e.Companions(n) {
				if n < m {
					pairs = append(pairs, fmt.Sprintf("%d+%d", n, m))
				}
			}
		}
		if got := strings.Join(pairs, " "); got != c.pairs {
			t.Errorf("%s: companions %s, want %s", c.order, got, c.pairs)
		}
	}
	if got := engine(t, 2, numbers("1-3-4-2")).Companions(1); got == nil || len(got) != 0 {
		t.Errorf("a two-stroke's companions are %v, want an empty list", got)
	}
}

func numbers(order string) []int {
	var list []int
	for _, w := range strings.Split(order, "-") {
		var n int
		fmt.Sscan(w, &n)
		list = append(list, n)
	}
	return list
}

// Odd-firing layouts: a 90-degree V6 with common pins fires at 90-150, a
// 45-degree V2 on one pin at 315-405 (geometry of the crank and bank angles).
func TestUnevenFiring(t *testing.T) {
	e := engine(t, 4, numbers("1-6-5-4-3-2"), 90, 150, 90, 150, 90, 150)
	for c, at := range map[int]Deg{1: 0, 6: 90, 5: 240, 4: 330, 3: 480, 2: 570} {
		if e.FiresAt(c) != at {
			t.Errorf("cylinder %d fires at %g, want %g", c, float64(e.FiresAt(c)), float64(at))
		}
	}
	// The order may be written from any cylinder: interval k follows the k-th
	// listed firing, and cylinder 1 is at 0 all the same.
	e = engine(t, 4, numbers("2-1"), 315, 405)
	if e.FiresAt(1) != 0 || e.FiresAt(2) != 405 {
		t.Errorf("V2 written from cylinder 2: fires at %g and %g, want 0 and 405", float64(e.FiresAt(1)), float64(e.FiresAt(2)))
	}
	if fmt.Sprint(e.Order()) != "[1 2]" {
		t.Errorf("order from cylinder 1: %v", e.Order())
	}
}

func TestStrokesAreHalfOpen(t *testing.T) {
	four, two := engine(t, 4, []int{1}), engine(t, 2, []int{1})
	for _, c := range []struct {
		e    Scheme
		at   Deg
		want Stroke
	}{
		{four, 0, Power}, {four, 179.999, Power}, {four, 180, Exhaust}, {four, 360, Intake}, {four, 540, Compression},
		{four, 719.999, Compression}, {four, 720, Power}, {four, -0.001, Compression}, {four, -180, Compression}, {four, -180.001, Intake},
		{four, 7200.5, Power}, {four, -1e-13, Power},
		{two, 0, Power}, {two, 179.999, Power}, {two, 180, Compression}, {two, 359.999, Compression}, {two, 360, Power}, {two, -10, Compression},
	} {
		if got := c.e.StrokeAt(c.at); got != c.want {
			t.Errorf("%d-stroke at %g: %v, want %v", c.e.Strokes(), float64(c.at), got, c.want)
		}
	}
}

func anyScheme(t *rapid.T) Scheme {
	n := rapid.IntRange(1, MaxCylinders).Draw(t, "cylinders")
	order := rapid.Permutation(numberedTo(n)).Draw(t, "order")
	strokes := rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes")
	var intervals []Deg
	if rapid.Bool().Draw(t, "uneven") {
		sum := 0.0
		for range n {
			v := rapid.Float64Range(1, 100).Draw(t, "interval")
			intervals = append(intervals, Deg(v))
			sum += v
		}
		for i := range intervals {
			intervals[i] *= CycleOf(strokes) / Deg(sum)
		}
	}
	e, err := NewScheme(strokes, order, intervals)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func numberedTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i + 1
	}
	return list
}

func TestLawsOfEveryEngine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyScheme(t)
		// Every firing dead centre is one cylinder's alone, and cylinder 1's is 0.
		at := map[Deg]int{}
		for c := 1; c <= e.Cylinders(); c++ {
			f := e.FiresAt(c)
			if f < 0 || f >= e.Cycle() {
				t.Fatalf("cylinder %d fires at %g", c, float64(f))
			}
			if other, taken := at[f]; taken {
				t.Fatalf("cylinders %d and %d both fire at %g", c, other, float64(f))
			}
			at[f] = c
			if e.Angle(c, f) != 0 || e.StrokeAt(e.Angle(c, f)) != Power {
				t.Fatalf("cylinder %d at its own firing TDC is at %g", c, float64(e.Angle(c, f)))
			}
		}
		if e.FiresAt(1) != 0 {
			t.Fatalf("cylinder 1 fires at %g", float64(e.FiresAt(1)))
		}
		// A whole number of cycles changes nothing.
		theta := Deg(rapid.Float64Range(-2000, 2000).Draw(t, "theta"))
		k := Deg(rapid.IntRange(-5, 5).Draw(t, "cycles"))
		for c := 1; c <= e.Cylinders(); c++ {
			a, b := e.Angle(c, theta), e.Angle(c, theta+k*e.Cycle())
			if math.Abs(float64(Difference(a, b, e.Cycle()))) > 1e-8 {
				t.Fatalf("cylinder %d: %g and a whole number of cycles later %g", c, float64(a), float64(b))
			}
		}
		// The strokes partition the cycle.
		alpha := Deg(rapid.Float64Range(0, float64(e.Cycle())-1e-6).Draw(t, "alpha"))
		holding := 0
		for _, s := range e.StrokeSpans() {
			if s.Span.Holds(alpha, e.Cycle()) {
				holding++
				if math.Abs(float64(alpha-onGrid(alpha, 180))) > 0 && e.StrokeAt(alpha) != s.Stroke {
					t.Fatalf("%g lies in the span of %v but is on %v", float64(alpha), s.Stroke, e.StrokeAt(alpha))
				}
			}
		}
		if holding != 1 {
			t.Fatalf("%g lies in %d strokes", float64(alpha), holding)
		}
		// Injection before TDC and back.
		btdc := Deg(rapid.Float64Range(-170, 170).Draw(t, "btdc"))
		c := rapid.IntRange(1, e.Cylinders()).Draw(t, "cylinder")
		if back := -WrapSigned(e.Angle(c, e.CrankAngle(c, btdc)), e.Cycle()); math.Abs(float64(back-btdc)) > 1e-8 {
			t.Fatalf("%g before TDC came back as %g", float64(btdc), float64(back))
		}
		// Companions are mutual.
		for _, m := range e.Companions(c) {
			if !slices.Contains(e.Companions(m), c) {
				t.Fatalf("%d is a companion of %d but not the other way round", m, c)
			}
		}
	})
}

func TestEnginesThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		strokes   int
		order     []int
		intervals []Deg
		want      string
	}{
		{3, []int{1}, nil, "strokes: 3 is neither"},
		{4, nil, nil, "firing_order: lists 0 cylinders"},
		{4, numberedTo(25), nil, "firing_order: lists 25 cylinders"},
		{4, []int{1, 3, 3, 2}, nil, "firing_order: cylinder 3 is listed twice"},
		{4, []int{1, 2, 5}, nil, "firing_order: there is no cylinder 5"},
		{4, []int{1, 0}, nil, "firing_order: there is no cylinder 0"},
		{4, []int{1, 2}, []Deg{360}, "firing_intervals_deg: 1 intervals for 2"},
		{4, []int{1, 2}, []Deg{300, 400}, "firing_intervals_deg: they sum to 700"},
		{4, []int{1, 2}, []Deg{0, 720}, "firing_intervals_deg: interval 1 is 0"},
		{2, []int{1, 2}, []Deg{Deg(math.NaN()), 180}, "firing_intervals_deg: interval 1 is NaN"},
	} {
		_, err := NewScheme(c.strokes, c.order, c.intervals)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%d %v %v: %v, want %q", c.strokes, c.order, c.intervals, err, c.want)
		}
	}
}

func TestCommonOrdersAreEngines(t *testing.T) {
	for n := range MaxCylinders + 1 {
		for _, o := range CommonOrders(n) {
			if len(o) != n || o[0] != 1 {
				t.Errorf("%v offered for %d cylinders", o, n)
			}
			engine(t, 4, o)
		}
	}
}

// Valve events of a four-stroke and of a two-stroke's ports, each from the dead
// centre it is counted from (definition of the terms).
func TestValveSpans(t *testing.T) {
	four := engine(t, 4, []int{1})
	if s := four.IntakeSpan(ValvePair{12, 38}); s != (Span{348, 578}) {
		t.Errorf("intake open %v, want 348 to 578", s)
	}
	if s := four.ExhaustSpan(ValvePair{44, 10}); s != (Span{136, 370}) {
		t.Errorf("exhaust open %v, want 136 to 370", s)
	}
	two := engine(t, 2, []int{1})
	if s := two.IntakeSpan(ValvePair{-130, 50}); s != (Span{130, 230}) {
		t.Errorf("ports open %v, want 130 to 230", s)
	}
	if s := two.ExhaustSpan(ValvePair{85, 235}); s != (Span{95, 235}) {
		t.Errorf("exhaust open %v, want 95 to 235", s)
	}
	late := four.IntakeSpan(ValvePair{12, 200}) // far beyond BDC: runs on into the next cycle
	if !late.Holds(10, 720) || late.Holds(25, 720) || !late.Holds(348, 720) {
		t.Errorf("%v must hold 10 and 348 but not 25", late)
	}
}

// At which crank angle does cylinder 5 of a six-cylinder engine fire, and what
// does its companion do then?
func ExampleScheme_FiresAt() {
	e, _ := NewScheme(4, []int{1, 5, 3, 6, 2, 4}, nil)
	at := e.FiresAt(5)
	other := e.Companions(5)[0]
	fmt.Printf("cylinder 5 fires at %g; cylinder %d begins its %v stroke\n", float64(at), other, e.StrokeAt(e.Angle(other, at)))
	// Output: cylinder 5 fires at 120; cylinder 2 begins its intake stroke
}
