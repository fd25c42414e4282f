package lesson

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"

	"pgregory.net/rapid"
)

// drawJob is any engine: strokes, 1 to 24 cylinders in any order, even or uneven,
// turning either way, with or without a wheel and gears of its own.
func drawJob(t *rapid.T) job.Job {
	j := job.Job{Format: 1, Engine: job.Engine{Strokes: rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes")}}
	n := rapid.IntRange(1, 24).Draw(t, "cylinders")
	order := make([]int, n)
	for i := range order {
		order[i] = i + 1
	}
	j.Engine.FiringOrder = rapid.Permutation(order).Draw(t, "order")
	cycle := 180 * j.Engine.Strokes
	if rapid.Bool().Draw(t, "uneven") {
		left := cycle
		for i := range n {
			gap := left
			if i < n-1 {
				gap = rapid.IntRange(1, left-(n-1-i)).Draw(t, "interval")
			}
			left -= gap
			j.Engine.FiringIntervalsDeg = append(j.Engine.FiringIntervalsDeg, float64(gap))
		}
	}
	if rapid.Bool().Draw(t, "anticlockwise") {
		j.Engine.Rotation = "anticlockwise"
	}
	if rapid.Bool().Draw(t, "wheel") {
		positions := rapid.IntRange(2, 400).Draw(t, "positions")
		w := job.CrankWheel{Positions: positions, FirstToothBTDCDeg: job.Num(float64(rapid.IntRange(-360, 720).Draw(t, "first")))}
		for range rapid.IntRange(0, min(3, positions-1)).Draw(t, "gone") {
			w.Missing = append([]int{positions - len(w.Missing)}, w.Missing...)
		}
		j.CrankWheel = &w
	}
	if rapid.Bool().Draw(t, "gears") {
		crank := rapid.IntRange(12, 60).Draw(t, "crank teeth")
		j.Gears = &job.Gears{CrankTeeth: crank, CamTeeth: crank * j.Engine.Strokes / 2, IdlerTeeth: rapid.SliceOfN(rapid.IntRange(12, 60), 0, 3).Draw(t, "idlers")}
	}
	return j
}

// Every question about any engine has the answer that counting it out step by
// step gives.
func TestAnswersAreRight(t *testing.T) {
	asked := map[Kind]int{}
	rapid.Check(t, func(t *rapid.T) {
		j := drawJob(t)
		k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		level := rapid.IntRange(1, Levels).Draw(t, "level")
		q, err := Make(j, k, level, rapid.Uint64().Draw(t, "seed"))
		if err == ErrUnsuited {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		asked[k]++
		if faults := job.Check(q.Job); faults != nil {
			t.Fatalf("the job of the question is not sound: %v", faults)
		}
		for i, want := range solve(t, q) {
			if got := q.Parts[i].Answer().String(); got != want {
				t.Errorf("%v\n%s\nanswers %q, counted out it is %q\n%v", q.Given, q.Ask, got, want, q.Steps)
			}
		}
	})
	for _, k := range Kinds() {
		if asked[k] == 0 {
			t.Errorf("no question of kind %s was asked", k)
		}
	}
}

// solve answers a question by counting, from what is said in it.
func solve(t *rapid.T, q Question) []string {
	switch q.Kind {
	case Stroke:
		return []string{solveStroke(q)}
	case Companion:
		return []string{solveCompanion(q)}
	case Firing:
		return solveFiring(q)
	case Injection:
		at, stroke := solveInjection(q)
		return []string{at, stroke}
	case Direction:
		return []string{solveDirection(q)}
	case Teeth:
		return []string{solveTeeth(q)}
	case TDC:
		return []string{solveTDC(q)}
	case Gears:
		return []string{solveGears(q)}
	case Trace:
		return solveTrace(q)
	}
	t.Fatalf("kind %s is not counted out", q.Kind)
	return nil
}

// told is a number said in a question.
func told(q Question, place string) float64 {
	for _, s := range append([]phrase.Sentence{q.Ask}, q.Given...) {
		switch v := s.Data[place].(type) {
		case int:
			return float64(v)
		case phrase.Num:
			return v.Value
		}
	}
	panic(fmt.Sprintf("the question %s does not say %s", q.Ask.Text, place))
}

func tells(q Question, part string) bool {
	all := q.Ask.String()
	for _, s := range q.Given {
		all += "\n" + s.String()
	}
	return strings.Contains(all, part)
}

// fires are the firing angles by cylinder, walked along the order.
func fires(j job.Job) (at map[int]float64, cycle float64) {
	cycle = float64(180 * j.Engine.Strokes)
	order := j.Engine.FiringOrder
	start := slices.Index(order, 1)
	at, theta := map[int]float64{}, 0.0
	for i := range order {
		k := (start + i) % len(order)
		at[order[k]] = theta
		if len(j.Engine.FiringIntervalsDeg) > 0 {
			theta += j.Engine.FiringIntervalsDeg[k]
		} else {
			theta += cycle / float64(len(order))
		}
	}
	return at, cycle
}

func turn(v, cycle float64) float64 {
	for v < 0 {
		v += cycle
	}
	for v >= cycle {
		v -= cycle
	}
	return v
}

func strokeOf(own, cycle float64) string {
	if cycle == 360 {
		return []string{"power", "compression"}[int(own/180)]
	}
	return []string{"power", "exhaust", "intake", "compression"}[int(own/180)]
}

func solveStroke(q Question) string {
	at, cycle := fires(q.Job)
	theta := 0.0
	if strings.Contains(string(q.Ask.Text), "{{.Other}}") {
		theta = at[int(told(q, "Other"))] - told(q, "Size")
		if strings.Contains(string(q.Ask.Text), "{{.On}}") {
			theta += told(q, "On")
		}
	} else {
		theta = told(q, "Theta")
	}
	return strokeOf(turn(theta-at[int(told(q, "N"))], cycle), cycle)
}

// together counts the cylinders whose TDC, at 0 and at every half cycle of a
// four-stroke, coincides with this one's.
func solveCompanion(q Question) string {
	at, cycle := fires(q.Job)
	n := int(told(q, "N"))
	var list []string
	for c := 1; c <= len(at); c++ {
		if cycle == 720 && c != n && math.Abs(math.Abs(at[c]-at[n])-360) < 0.05 {
			list = append(list, fmt.Sprint(c))
		}
	}
	switch len(list) {
	case 0:
		return "none"
	case 1:
		return "cylinder " + list[0]
	}
	return "cylinders " + strings.Join(list, ", ")
}

// solveFiring turns the crank in small steps until something fires.
func solveFiring(q Question) []string {
	at, cycle := fires(q.Job)
	const step = 0.01
	theta, way := 0.0, step
	switch {
	case tells(q, "crankshaft is at"):
		theta = told(q, "Theta")
	case tells(q, "after its firing"):
		theta = at[int(told(q, "N"))] + told(q, "Size")
	default:
		theta = at[int(told(q, "N"))] + step
	}
	if tells(q, "backwards") || tells(q, "before it") {
		way = -step
	}
	if tells(q, "before it") {
		theta -= 2 * step
	}
	for turned := 0.0; ; turned += step {
		from, to := turn(theta, cycle), turn(theta+way, cycle)
		for c, f := range at {
			// f lies between the two, the way it turns.
			if turn(way/step*(f-from), cycle) <= turn(way/step*(to-from), cycle)+1e-9 {
				answers := []string{fmt.Sprintf("cylinder %d", c)}
				if len(q.Parts) > 1 {
					left := turn(f-at[int(told(q, "N"))], cycle)
					if left == 0 {
						left = cycle
					}
					answers = append(answers, phrase.Num{Value: left - told(q, "Size"), Decimals: 2}.String()+"°")
				}
				return answers
			}
		}
		theta += way
	}
}

// solveTDC looks for the place that is as far from one reading as from the other,
// the short way.
func solveTDC(q Question) string {
	apart := func(a, b float64) float64 { return math.Abs(turn(a-b+180, 360) - 180) }
	first, second := told(q, "First"), told(q, "Second")
	best := 0.0
	for at := 0.0; at < 360; at += 0.125 {
		if apart(at, first) == apart(at, second) && apart(at, first) < 90 {
			best = at
		}
	}
	number := func(v float64) string { return phrase.Num{Value: v, Decimals: 2}.String() }
	if len(q.Given) == 1 {
		return number(best) + "°"
	}
	// Turn forwards from the mark: is TDC still to come?
	forwards := 0.125
	if tells(q, "numbers at the pointer fall") {
		forwards = -forwards
	}
	for turned, at := 0.0, told(q, "Mark"); turned < 90; turned += 0.125 {
		if apart(at, best) == 0 {
			return number(turned) + "° before TDC"
		}
		at += forwards
	}
	return number(apart(told(q, "Mark"), best)) + "° after TDC"
}
