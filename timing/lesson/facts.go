package lesson

import (
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// What is given, and the steps that several kinds share.
const (
	givenFour     phrase.Text = "A four-stroke with the firing order {{.Order}}, evenly spaced."
	givenTwo      phrase.Text = "A two-stroke with the firing order {{.Order}}, evenly spaced."
	givenFourOdd  phrase.Text = "A four-stroke with the firing order {{.Order}}. From each firing to the next: {{.Intervals}} degrees."
	givenTwoOdd   phrase.Text = "A two-stroke with the firing order {{.Order}}. From each firing to the next: {{.Intervals}} degrees."
	givenOneFour  phrase.Text = "A four-stroke with one cylinder."
	givenOneTwo   phrase.Text = "A two-stroke with one cylinder."
	givenZero     phrase.Text = "Crank degrees count from the firing TDC of cylinder 1."
	givenRotation phrase.Text = "Seen from the nose, the crankshaft turns {{.Sense}}."

	stepEven       phrase.Text = "Evenly spaced, the firings follow each other every {{.Cycle}} / {{.Count}} = {{.Interval}}°."
	stepFirst      phrase.Text = "Cylinder 1 fires at 0°."
	stepFiresEven  phrase.Text = "Cylinder {{.N}} is number {{.Place}} after cylinder 1 in the firing order: it fires at {{.Place}} × {{.Cycle}} / {{.Count}} = {{.At}}°."
	stepFiresOdd   phrase.Text = "Cylinder {{.N}} is number {{.Place}} after cylinder 1 in the firing order: the intervals up to it add up to {{.At}}°."
	stepOwn        phrase.Text = "At {{.Theta}}° cylinder {{.N}} is {{.Theta}} − {{.Fires}} = {{.Own}}° after its firing TDC."
	stepOwnWrapped phrase.Text = "At {{.Theta}}° cylinder {{.N}} is {{.Theta}} − {{.Fires}} = {{.Less}}°, and with a whole cycle of {{.Cycle}}° added {{.Own}}° after its firing TDC."
)

// scheme says how the engine fires.
func (m *maker) scheme() phrase.Sentence {
	e := m.engine
	two := e.Strokes() == 2
	odd := len(m.job.Engine.FiringIntervalsDeg) > 0
	text := givenFour
	switch {
	case e.Cylinders() == 1 && two:
		text = givenOneTwo
	case e.Cylinders() == 1:
		text = givenOneFour
	case odd && two:
		text = givenTwoOdd
	case odd:
		text = givenFourOdd
	case two:
		text = givenTwo
	}
	return say(text, map[string]any{"Order": joined(e.Order(), "-"), "Intervals": m.intervals()})
}

// intervals writes the firing intervals from cylinder 1 on.
func (m *maker) intervals() string {
	e := m.engine
	order := e.Order()
	list := make([]string, len(order))
	for i, c := range order {
		next := e.Cycle()
		if i+1 < len(order) {
			next = e.FiresAt(order[i+1])
		}
		list[i] = deg(next - e.FiresAt(c)).String()
	}
	return strings.Join(list, ", ")
}

// joined writes whole numbers one after the other.
func joined(list []int, between string) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, between)
}

// firesSteps lead to when a cylinder fires.
func (m *maker) firesSteps(cylinder int) []phrase.Sentence {
	e := m.engine
	if cylinder == 1 {
		return []phrase.Sentence{say(stepFirst, nil)}
	}
	place := 0
	for i, c := range e.Order() {
		if c == cylinder {
			place = i
		}
	}
	data := map[string]any{"N": cylinder, "Place": place, "At": deg(e.FiresAt(cylinder))}
	if len(m.job.Engine.FiringIntervalsDeg) > 0 {
		return []phrase.Sentence{say(stepFiresOdd, data)}
	}
	interval := e.Cycle() / timing.Deg(e.Cylinders())
	data["Cycle"], data["Count"] = deg(e.Cycle()), e.Cylinders()
	return []phrase.Sentence{
		say(stepEven, map[string]any{"Cycle": deg(e.Cycle()), "Count": e.Cylinders(), "Interval": deg(interval)}),
		say(stepFiresEven, data),
	}
}

// ownStep leads from the crank's angle, in [0, cycle), to the cylinder's own.
func (m *maker) ownStep(cylinder int, theta timing.Deg) phrase.Sentence {
	e := m.engine
	fires := e.FiresAt(cylinder)
	text := stepOwn
	if theta < fires {
		text = stepOwnWrapped
	}
	return say(text, map[string]any{"Theta": deg(theta), "N": cylinder, "Fires": deg(fires), "Less": deg(theta - fires),
		"Cycle": deg(e.Cycle()), "Own": deg(e.Angle(cylinder, theta))})
}

// rotation says which way the crankshaft turns.
func (m *maker) rotation() phrase.Sentence {
	return say(givenRotation, map[string]any{"Sense": m.view(timing.Nose).Rotates().Text()})
}

func (m *maker) view(from timing.End) timing.View { return finding.ViewOf(m.job, from.String()) }

// end returns the end that the level looks from: the nose at first.
func (m *maker) end() timing.End {
	if m.level >= 3 && m.coin() {
		return timing.Flywheel
	}
	return timing.Nose
}

// reading is an angle on the part as the job file has it, seen from an end. It
// is taken as exact.
func (m *maker) reading(signed timing.Deg, from timing.End) *job.Reading {
	magnitude, side := m.view(from).Seen(signed)
	return &job.Reading{Method: "angle", AngleDeg: job.Num(float64(magnitude)), Side: side.String(), UDeg: job.Num(0)}
}
