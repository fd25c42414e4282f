package lesson

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

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
	return fmt.Sprintf("%s° %s TDC", phrase.Num{Value: math.Abs(actual), Decimals: 2}, side), strokeOf(turn(-actual, cycle), cycle)
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
	return "as commanded"
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
	number := func(v float64) string { return phrase.Num{Value: v, Decimals: 2}.String() }
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
	} else if tells(q, "behind its place") {
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

// solveTrace turns the crank, counts its teeth as they come by, and looks where
// between two of them the cam's edges come, on the engine recorded and on one that
// is right.
func solveTrace(q Question) []string {
	w, c := q.Job.CrankWheel, q.Job.CamWheel
	cycle := float64(180 * q.Job.Engine.Strokes)
	pitch := 360 / float64(w.Positions)
	// counted is the ECU's angle at a cam edge: by the crank tooth that came
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
	list := []string{phrase.Num{Value: math.Abs(late), Decimals: 2}.String() + "° " + side}
	if len(q.Parts) > 1 { // the cam is right: late edges are a wheel that is ahead
		list = append(list, comes)
	}
	return list
}
