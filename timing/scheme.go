package timing

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// MaxCylinders is the largest engine the program handles.
const MaxCylinders = 24

// Scheme is a firing scheme. Build one with [NewScheme], which works the firing
// angles out once; the zero value is no engine.
type Scheme struct {
	strokes int
	order   []int // as given, from any cylinder on
	firesAt []Deg // by cylinder number - 1, in [0, cycle)
}

// NewScheme returns the scheme of an engine that fires in the given order. strokes is 4 or 2.
// order names each of the cylinders 1..n once and may start with any of them.
// intervals is empty for even firing, else interval k runs from the k-th listed
// firing to the next, in crank degrees, all of them above 0 and together one
// cycle. What is wrong with them is said in one error per fault, joined.
func NewScheme(strokes int, order []int, intervals []Deg) (Scheme, error) {
	if faults := CheckScheme(strokes, order, intervals); len(faults) > 0 {
		errs := make([]error, len(faults))
		for i, f := range faults {
			errs[i] = f
		}
		return Scheme{}, errors.Join(errs...)
	}
	s := Scheme{strokes: strokes, order: append([]int(nil), order...)}
	n := len(order)
	cycle := s.Cycle()
	at := make([]Deg, n) // of the k-th listed firing, from the first listed
	for k := 1; k < n; k++ {
		if len(intervals) == 0 {
			at[k] = cycle * Deg(k) / Deg(n) // one rounding, where a running sum makes k
		} else {
			at[k] = at[k-1] + intervals[k-1]
		}
	}
	first := 0
	for k, c := range order {
		if c == 1 {
			first = k
		}
	}
	s.firesAt = make([]Deg, n)
	for k, c := range order {
		d := at[k] - at[first]
		if len(intervals) == 0 {
			d = cycle * Deg(k-first) / Deg(n)
		}
		s.firesAt[c-1] = Wrap(d, cycle)
	}
	return s, nil
}

// intervalSlack is how far a list of firing intervals may miss the cycle, and
// two dead centres each other: intervals such as 51.43 are written rounded.
const intervalSlack = 0.05

// OrderText is a firing order as it is written: 1-5-3-6-2-4.
func OrderText(order []int) string {
	list := make([]string, len(order))
	for i, c := range order {
		list[i] = strconv.Itoa(c)
	}
	return strings.Join(list, "-")
}

// SchemeFault says which argument of [NewScheme] is wrong, and how.
type SchemeFault struct {
	Field   string // "strokes", "firing_order" or "firing_intervals_deg"
	Message string
	Says    phrase.Sentence // the message as data
}

// Error returns the fault as one line, field first.
func (f SchemeFault) Error() string { return f.Field + ": " + f.Message }

// CheckScheme returns every fault of a firing scheme, none when [NewScheme]
// accepts it.
func CheckScheme(strokes int, order []int, intervals []Deg) []SchemeFault {
	var faults []SchemeFault
	add := func(field string, format phrase.Text, args ...any) {
		says := phrase.Of(format, args...)
		faults = append(faults, SchemeFault{field, says.String(), says})
	}
	if strokes != 2 && strokes != 4 {
		add("strokes", "%d is neither 4 (four-stroke) nor 2 (two-stroke)", strokes)
	}
	n := len(order)
	if n < 1 || n > MaxCylinders {
		add("firing_order", "lists %d cylinders; an engine here has 1 to %d", n, MaxCylinders)
	}
	times := map[int]int{}
	for _, c := range order {
		times[c]++
		switch {
		case times[c] == 2:
			add("firing_order", "cylinder %d is listed twice", c)
		case times[c] == 1 && (c < 1 || c > n):
			add("firing_order", "there is no cylinder %d in an engine of %d: number them 1 to %d", c, n, n)
		}
	}
	if len(intervals) == 0 {
		return faults
	}
	if len(intervals) != n {
		add("firing_intervals_deg", "%d intervals for %d cylinders: give one after each listed firing, or none for even firing", len(intervals), n)
	}
	var sum Deg
	for k, v := range intervals {
		if !(v > 0) {
			add("firing_intervals_deg", "interval %d is %s degrees; it must be above 0", k+1, phrase.Value{V: float64(v)})
		}
		sum += v
	}
	if cycle := CycleOf(strokes); cycle > 0 && math.Abs(float64(sum-cycle)) > intervalSlack {
		add("firing_intervals_deg", "they sum to %s degrees; a cycle of this engine is %d", phrase.Value{V: math.Round(1000*float64(sum)) / 1000}, int(cycle))
	}
	return faults
}

// CycleOf returns the length of a cycle: 720 for 4 strokes, 360 for 2, 0 for
// anything else.
func CycleOf(strokes int) Deg {
	switch strokes {
	case 4:
		return 2 * Turn
	case 2:
		return Turn
	}
	return 0
}

// Cycle returns the length of the engine's cycle.
func (s Scheme) Cycle() Deg { return CycleOf(s.strokes) }

// Strokes returns 4 or 2.
func (s Scheme) Strokes() int { return s.strokes }

// Cylinders returns how many there are.
func (s Scheme) Cylinders() int { return len(s.order) }

// Order returns the firing order from cylinder 1 on.
func (s Scheme) Order() []int {
	first := 0
	for k, c := range s.order {
		if c == 1 {
			first = k
		}
	}
	return append(append([]int(nil), s.order[first:]...), s.order[:first]...)
}

// FiresAt returns the crank angle of the cylinder's firing top dead centre, in
// [0, cycle). It panics when there is no such cylinder.
func (s Scheme) FiresAt(cylinder int) Deg { return s.firesAt[cylinder-1] }

// Angle returns the cylinder's own angle when the crank stands at theta: 0 at
// its firing top dead centre, in [0, cycle). Within a billionth of a degree of a
// dead centre it is that dead centre. There must be such a cylinder, as for
// [Scheme.FiresAt].
func (s Scheme) Angle(cylinder int, theta Deg) Deg {
	return s.settle(theta - s.FiresAt(cylinder))
}

func (s Scheme) settle(alpha Deg) Deg {
	a := onGrid(Wrap(alpha, s.Cycle()), 180)
	if a == s.Cycle() {
		return 0
	}
	return a
}

// CrankAngle returns where the crank stands, in [0, cycle), when the cylinder
// is btdc degrees before its firing top dead centre (negative is after).
func (s Scheme) CrankAngle(cylinder int, btdc Deg) Deg {
	return Wrap(onGrid(s.FiresAt(cylinder)-btdc, 180), s.Cycle())
}

// Companions returns the cylinders whose pistons reach top dead centre together
// with this one while they fire one turn apart, in number order. A two-stroke
// has none; neither has an engine whose firing angles leave none 360 apart.
func (s Scheme) Companions(cylinder int) []int {
	list := []int{}
	if s.strokes != 4 {
		return list
	}
	for c := 1; c <= s.Cylinders(); c++ {
		apart := Wrap(s.FiresAt(c)-s.FiresAt(cylinder), s.Cycle())
		if math.Abs(float64(apart-Turn)) <= intervalSlack {
			list = append(list, c)
		}
	}
	return list
}
