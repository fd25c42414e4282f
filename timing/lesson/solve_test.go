package lesson

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"pinphase/timing/finding"
	"pinphase/timing/job"
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
	for _, s := range append([]finding.Sentence{q.Ask}, q.Given...) {
		switch v := s.Data[place].(type) {
		case int:
			return float64(v)
		case finding.Num:
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
	if strings.Contains(q.Ask.Text, "{{.Other}}") {
		theta = at[int(told(q, "Other"))] - told(q, "Size")
		if strings.Contains(q.Ask.Text, "{{.On}}") {
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
	case tells(q, "crank stands"):
		theta = told(q, "Theta")
	case tells(q, "past its firing"):
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
					answers = append(answers, finding.Num{Value: left - told(q, "Size"), Decimals: 2}.String()+"°")
				}
				return answers
			}
		}
		theta += way
	}
}

// onPart is an angle of the job's as seen from its end: positive the way the
// crank turns there.
func onPart(j job.Job, f *job.Feature, r *job.Reading) float64 {
	clockwise := j.Engine.Rotation != "anticlockwise"
	if f.SeenFrom == "flywheel" {
		clockwise = !clockwise
	}
	if (r.Side == "clockwise") == clockwise {
		return r.AngleDeg.Value
	}
	return -r.AngleDeg.Value
}

func wheelOff(j job.Job) float64 {
	off := 0.0
	for _, f := range []*job.Feature{j.Dowel, j.Keyway} {
		if f != nil {
			off += onPart(j, f, f.Measured) - onPart(j, f, f.Drawing)
		}
	}
	return turn(off+180, 360) - 180
}

func solveInjection(q Question) (string, string) {
	actual := q.Job.Injection.StartBTDCDeg.Value + wheelOff(q.Job)
	cycle := float64(180 * q.Job.Engine.Strokes)
	side := "before"
	if actual < 0 {
		side = "after"
	}
	return fmt.Sprintf("%s° %s TDC", finding.Num{Value: math.Abs(actual), Decimals: 2}, side), strokeOf(turn(-actual, cycle), cycle)
}

func solveDirection(q Question) string {
	if tells(q, "must the sensor wheel") {
		clockwise := (q.Job.Engine.Rotation != "anticlockwise") != tells(q, "from the flywheel?")
		if clockwise == tells(q, "earlier") {
			return "clockwise"
		}
		return "anticlockwise"
	}
	switch off := wheelOff(q.Job); {
	case off > 1e-9:
		return "early: it is advanced"
	case off < -1e-9:
		return "late: it is retarded"
	}
	return "when it should"
}

// solveTeeth lists the positions round the wheel.
func solveTeeth(q Question) string {
	w := q.Job.CrankWheel
	gone := map[int]bool{}
	for _, m := range w.Missing {
		gone[m] = true
	}
	pitch := 360 / float64(w.Positions)
	teeth := 0
	for p := 1; p <= w.Positions; p++ {
		if !gone[p] {
			teeth++
		}
	}
	number := func(v float64) string { return finding.Num{Value: v, Decimals: 2}.String() }
	switch {
	case tells(q, "How many teeth"):
		return fmt.Sprint(teeth)
	case tells(q, "one position to the next"):
		return number(pitch) + "°"
	case tells(q, "across the gap"):
		width := pitch
		for p := w.Positions; gone[p]; p-- {
			width += pitch
		}
		return number(width) + "°"
	case tells(q, "At which crank angle"):
		return number(turn(-told(q, "B")+(told(q, "K")-1)*pitch, 360)) + "°"
	}
	off := 0.0
	if tells(q, "ahead of") {
		off = told(q, "By")
	} else if tells(q, "behind where") {
		off = -told(q, "By")
	}
	best, least := 0, 1000.0
	for p := 1; p <= w.Positions; p++ {
		passes := -told(q, "B") + float64(p-1)*pitch - off
		if d := math.Abs(turn(passes-told(q, "Theta")+180, 360) - 180); d < least {
			best, least = p, d
		}
	}
	if gone[best] || least > pitch/5 {
		return "no tooth"
	}
	return fmt.Sprint(best)
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
	number := func(v float64) string { return finding.Num{Value: v, Decimals: 2}.String() }
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

func solveGears(q Question) string {
	g := q.Job.Gears
	number := func(v float64) string { return finding.Num{Value: v, Decimals: 2}.String() }
	tooth := 360 / float64(g.CrankTeeth)
	sided := func(early float64) string {
		switch {
		case early > 0:
			return number(early) + "° early"
		case early < 0:
			return number(-early) + "° late"
		}
		return "neither early nor late"
	}
	switch {
	case tells(q, "does a cam gear put in one tooth out"):
		return number(tooth) + "°"
	case tells(q, "all the marks meet"):
		all := append(append([]int{g.CrankTeeth}, g.IdlerTeeth...), g.CamTeeth)
		for turns := 1; ; turns++ {
			back := true
			for _, z := range all {
				back = back && turns*g.CrankTeeth%z == 0
			}
			if back && turns == 1 {
				return "one turn"
			}
			if back {
				return fmt.Sprintf("%d turns", turns)
			}
		}
	case tells(q, "which way does the cam gear turn"):
		clockwise := q.Job.Engine.Rotation != "anticlockwise"
		for range len(g.IdlerTeeth) + 1 {
			clockwise = !clockwise
		}
		if clockwise {
			return "clockwise"
		}
		return "anticlockwise"
	case tells(q, "one tooth ahead"):
		return sided(tooth)
	case tells(q, "one tooth behind"):
		return sided(-tooth)
	case tells(q, "teeth ahead"):
		return sided(told(q, "K") * tooth)
	case tells(q, "teeth behind"):
		return sided(-told(q, "K") * tooth)
	}
	// Each of the two is said by its own sentence: the wheel's comes first.
	signed := func(s finding.Sentence) float64 {
		v := s.Data["By"].(finding.Num).Value
		if strings.Contains(s.Text, "behind") {
			return -v
		}
		return v
	}
	delta, gamma := signed(q.Given[0]), signed(q.Given[1])
	// A cam edge comes gamma early in true degrees; the controller's clock is delta fast.
	return sided(gamma - delta)
}

// solveTrace turns the crank, counts its teeth as they come by, and looks where
// between two of them the cam's edges come, on the engine recorded and on one that
// is right.
func solveTrace(q Question) []string {
	w, c := q.Job.CrankWheel, q.Job.CamWheel
	cycle := float64(180 * q.Job.Engine.Strokes)
	pitch := 360 / float64(w.Positions)
	// counted is the controller's angle at a cam edge: by the crank tooth that came
	// last and the part of the way to the next, position 1 being at -B.
	counted := func(cam float64, wheelError, camError float64) float64 {
		truth := -c.FirstToothBTDCDeg.Value + cam*cycle/360 - camError
		teeth := (truth + w.FirstToothBTDCDeg.Value + wheelError) / pitch
		return -w.FirstToothBTDCDeg.Value + teeth*pitch
	}
	r := q.Before.Recording
	late := counted(c.TeethCamDeg[0], float64(r.WheelError), float64(r.CamError)) - counted(c.TeethCamDeg[0], 0, 0)
	side, comes := "late", "early: it is advanced"
	if late < 0 {
		side, comes = "early", "late: it is retarded"
	}
	list := []string{finding.Num{Value: math.Abs(late), Decimals: 2}.String() + "° " + side}
	if len(q.Parts) > 1 { // the cam is right: late edges are a wheel that is ahead
		list = append(list, comes)
	}
	return list
}
